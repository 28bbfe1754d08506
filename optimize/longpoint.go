package optimize

import "example.com/longpoint/stock"

// The place in the section of a piece where an end is longest, as in stock.End.LongPoint. The
// upper edge of a piece on a wall lies where the outer edge of casing does, away from the saw's
// operator, so both are called outer here.
const (
	longNowhere = stock.SectionAll // a square cut
	longBack    = stock.SectionBack
	longFace    = stock.SectionFace
	longOuter   = stock.SectionOuterEdge
	longInner   = stock.SectionInnerEdge
	longUpper   = stock.SectionUpperEdge
	longLower   = stock.SectionLowerEdge
)

// longPoint returns the place where an end is longest, as one of the first five constants.
func longPoint(e stock.End) stock.SectionPoint {
	switch p := e.LongPoint(); p {
	case longUpper:
		return longOuter
	case longLower:
		return longInner
	default:
		return p
	}
}

// across returns the place on the other side of the section.
func across(p stock.SectionPoint) stock.SectionPoint {
	switch p {
	case longBack:
		return longFace
	case longFace:
		return longBack
	case longOuter:
		return longInner
	case longInner:
		return longOuter
	}
	return p
}
