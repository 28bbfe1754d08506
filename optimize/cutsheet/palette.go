package cutsheet

// Every color of a sheet. Colors only help: what a part is, is also said by its
// hatching, its outline or a word. TestContrast holds the pairs that meet to
// WCAG 2.2: 4.5 to 1 for text (1.4.3), 3 to 1 for shapes (1.4.11).
const (
	paper = "#ffffff" // the ground of everything
	ink   = "#1c2328" // text and the edges of pieces
	quiet = "#4b565e" // text of less weight, lines to labels
	wood  = "#f3e7cf" // pieces
	waste = "#dde3e6" // what is cut away at an end, squared off or lost
	hatch = "#66727a" // hatching of offcuts, edges of what is no piece
	blade = "#8c1d18" // saw cuts and headings
)
