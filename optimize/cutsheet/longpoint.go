package cutsheet

import "example.com/longpoint/stock"

// The place in the section of a piece where an end is longest, as in stock.End.LongPoint. The
// upper edge of a piece on a wall lies where the outer edge of casing does, away from the saw's
// operator, so both are called outer here.
const (
	longNowhere = "" // a square cut
	longBack    = "back"
	longFace    = "face"
	longOuter   = "outer edge"
	longInner   = "inner edge"
	longUpper   = "upper edge"
	longLower   = "lower edge"
)

// longPoint returns the place where an end is longest, as one of the first five constants.
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
