package cutsheet

// Where across its section the end of a piece is longest, as stock.End.LongPoint says; the
// inner edge is that of a piece which is turned on the stick.
const (
	longNowhere = "" // a square cut
	longBack    = "back"
	longFace    = "face"
	longOuter   = "outer edge"
	longInner   = "inner edge"
)
