package svg

// Every color of a picture, the same as on cut sheets. Colors only help: what a part is, is also
// said by its hatching, its outline or a word.
const (
	Paper = "#ffffff" // the ground
	Ink   = "#1c2328" // text and the edges of what is drawn
	Quiet = "#4b565e" // dimensions, lines to labels, what is there already
	Wood  = "#f3e7cf" // pieces
	Shade = "#dde3e6" // openings, what is lost
	Mark  = "#8c1d18" // what wants attention: cuts, gaps, doubts
)
