package cutsheet

import "example.com/longpoint/stock"

// Where across its section the end of a piece is longest, as stock.End.LongPoint says. The
// upper edge of a piece on a wall lies where the outer one of casing does, away from the
// saw's operator, and both are called outer here.
const (
	longNowhere = "" // a square cut
	longBack    = "back"
	longFace    = "face"
	longOuter   = "outer edge"
	longInner   = "inner edge"
	longUpper   = "upper edge"
	longLower   = "lower edge"
)

// longPoint returns where an end is longest as one of the first five.
func longPoint(e stock.End) string {
	switch p := e.LongPoint(); p {
	case longUpper:
		return longOuter
	case longLower:
		return longInner
	default:
		return p
	}
}
