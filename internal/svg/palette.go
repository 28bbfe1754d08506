package svg

// All colors of a picture, the same as on cut sheets. Colors are redundant: the meaning of a
// part is also shown by its hatching, its outline or a word.
const (
	Paper = "#ffffff" // the background
	Ink   = "#1c2328" // text and edges
	Quiet = "#4b565e" // dimensions, lines to labels, existing parts
	Wood  = "#f3e7cf" // pieces
	Shade = "#dde3e6" // openings, waste
	Mark  = "#8c1d18" // marks: cuts, gaps, doubts
)
