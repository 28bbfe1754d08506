package stock

import "example.com/longpoint/measure"

// Run is an unbroken line of one profile between two ends: a wall from corner to
// corner, or from a corner to the casing of a door. It is cut as one piece, or as
// several that are spliced.
type Run struct {
	Label   string `json:"label"`
	Profile string `json:"profile,omitempty"`
	Use     Use    `json:"use,omitzero"`
	Room    string `json:"room,omitempty"`
	Wall    string `json:"wall,omitempty"`

	// Start is where the run begins, from the left end of the wall; Net is the
	// length it covers along the wall, which is what is paid for and finished.
	Start measure.Length `json:"start,omitzero"`
	Net   measure.Length `json:"net"`

	// Length is the run long point to long point if it were one piece: the sum
	// of the Allowances.
	Length     measure.Length `json:"length"`
	Left       End            `json:"left,omitzero"`
	Right      End            `json:"right,omitzero"`
	Allowances []Allowance    `json:"allowances,omitempty"`

	// Splice says where the run may be spliced; At what Splices it was.
	Splice  SpliceRule       `json:"splice,omitzero"`
	Splices []measure.Length `json:"splices,omitempty"`
}

// SpliceRule is the freedom that a run leaves for splices. All positions are
// counted from the left long point of the run to the middle of the splice. A run
// that is spliced n times consumes Length + n·Overlap.
type SpliceRule struct {
	// At holds the positions that are allowed, ascending (middles of studs that
	// are far enough from the ends). Anywhere says that a splice needs no stud, and
	// At is then empty.
	At       []measure.Length `json:"at,omitempty"`
	Anywhere bool             `json:"anywhere,omitempty"`

	// Overlap is what each splice adds to the stock that is consumed, Clear how
	// far a splice stays away from the two ends of the run, and MinPart the
	// shortest part that may be used.
	Overlap measure.Length `json:"overlap,omitzero"`
	Clear   measure.Length `json:"clear,omitzero"`
	MinPart measure.Length `json:"min_part,omitzero"`
}
