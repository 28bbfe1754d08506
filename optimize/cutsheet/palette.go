package cutsheet

// All colors of a sheet. Colors are redundant: the meaning of a part is also shown by its
// hatching, its outline or a word. TestContrast checks the pairs that meet against WCAG 2.2:
// 4.5 to 1 for text (1.4.3), 3 to 1 for shapes (1.4.11).
const (
	paper = "#ffffff" // the ground of everything
	ink   = "#1c2328" // text and edges of pieces
	quiet = "#4b565e" // secondary text, lines to labels
	wood  = "#f3e7cf" // pieces
	waste = "#dde3e6" // parts cut away at an end, squared off or lost
	hatch = "#66727a" // hatching of offcuts, edges of all but pieces
	blade = "#8c1d18" // saw cuts and headings
)

// The same as style variables, and for dark screens.
const (
	light = "--paper: " + paper + "; --ink: " + ink + "; --quiet: " + quiet + "; --wood: " + wood + "; --waste: " + waste + "; --hatch: " + hatch + "; --blade: " + blade + "; --line: #c9d0d4;"

	darkPaper = "#14181b"
	darkInk   = "#eceff1"
	darkQuiet = "#b4bec5"
	darkWood  = "#4a4030"
	darkWaste = "#2b3237"
	darkHatch = "#98a5ad"
	darkBlade = "#ff9f94"

	dark = "--paper: " + darkPaper + "; --ink: " + darkInk + "; --quiet: " + darkQuiet + "; --wood: " + darkWood + "; --waste: " + darkWaste + "; --hatch: " + darkHatch + "; --blade: " + darkBlade + "; --line: #3d464c;"
)
