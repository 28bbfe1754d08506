package stock

import "example.com/longpoint/measure"

// Run is an unbroken line of one profile between two ends: a wall from corner to
// corner, or from a corner to the casing of a door. It is cut as one piece, or as
// several that are spliced.
type Run struct {
	Label   string `json:"label"`             // what a person calls it
	Profile string `json:"profile,omitempty"` // name of its Profile
	Role    Role   `json:"use,omitzero"`      // what it is
	Room    string `json:"room,omitempty"`    // where it is
	Wall    string `json:"wall,omitempty"`    // on which wall of the room

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

	// Splice says where the run may be spliced, also where it need not be: another choice
	// of positions, or shorter sticks, give other Pieces. Splices is where it was.
	Splice  SpliceRule       `json:"splice,omitzero"`
	Splices []measure.Length `json:"splices,omitempty"`
}
