package cutsheet

import "example.com/longpoint/stock"

// longPoint returns the place where an end is longest. The upper edge of a piece on a wall lies where
// the outer edge of casing does, away from the saw's operator, so both are the outer edge here.
func longPoint(e stock.End) stock.SectionPoint {
	switch p := e.LongPoint(); p {
	case stock.SectionUpperEdge:
		return stock.SectionOuterEdge
	case stock.SectionLowerEdge:
		return stock.SectionInnerEdge
	default:
		return p
	}
}
