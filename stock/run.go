package stock

import "example.com/longpoint/measure"

// A Run is an unbroken line of one profile between two ends, such as a wall from corner to
// corner, a handrail, or the plate of a stud wall. It is cut as one piece, or as several
// that are spliced.
type Run struct {
	Label   string `json:"label"`             // any text
	Profile string `json:"profile,omitempty"` // name of the section, as Stick.Profile
	Role    Role   `json:"use,omitzero"`      // what it is, for trim
	Room    string `json:"room,omitempty"`    // where it is
	Wall    string `json:"wall,omitempty"`    // on which wall of the room

	// Start is where the run begins, from the left end of the wall; Net is the length that
	// it covers along the wall, which is what is paid for and finished.
	Start measure.Length `json:"start,omitzero"`
	Net   measure.Length `json:"net"`

	// Length is that of the run as one piece, long point to long point: the sum of the
	// Allowances if there are any.
	Length     measure.Length `json:"length"`
	Left       End            `json:"left,omitzero"`
	Right      End            `json:"right,omitzero"`
	Allowances []Allowance    `json:"allowances,omitempty"`

	// Splice says where the run may be spliced, even if it need not be: another choice of
	// positions, or shorter sticks, give other pieces. Splices holds the positions at which
	// it was spliced.
	Splice  SpliceRule       `json:"splice,omitzero"`
	Splices []measure.Length `json:"splices,omitempty"`
}
