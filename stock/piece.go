package stock

import "example.com/longpoint/measure"

// Piece is what has to be cut.
type Piece struct {
	Label    string         `json:"label"`                                                 // what a person calls it: any text, others may have the same
	Length   measure.Length `json:"length"`                                                // long point to long point
	Quantity int            `json:"quantity,omitempty" zero:"1 or more, or nothing for 1"` // 0 = 1; in JSON a zero is an error

	// Profile names the Profile that the piece is cut from; empty where
	// there is only one.
	Profile string `json:"profile,omitempty"`

	// Run is the label of the Run that the piece is part of, empty for one
	// that stands alone. Part counts from 1 within Parts; both are 0 outside a
	// run.
	Run   string `json:"run,omitempty"`
	Part  int    `json:"part,omitempty"`
	Parts int    `json:"parts,omitempty"`

	// Left and Right are the two ends. The zero End is a square cut.
	Left  End `json:"left,omitzero"`
	Right End `json:"right,omitzero"`

	// Grade is the least Stick.Grade that the piece may be cut from.
	Grade int `json:"grade,omitempty"`

	// Symmetry says how the piece may be turned on the stick so that its miters nest
	// with its neighbors'. The zero value is one way: as Left and Right say.
	Symmetry Symmetry `json:"symmetry,omitzero"`

	// Allowances explain Length: where there are any, they sum to it exactly.
	Allowances []Allowance `json:"allowances,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero quantity is a
// *measure.FieldError.
func (p *Piece) UnmarshalJSON(data []byte) error {
	type plain Piece
	return unmarshal(data, (*plain)(p))
}

// Allowance is one named amount in the length of a piece: the measured length,
// or what a joint, a casing or a fit adds to it (positive) or takes from it
// (negative).
type Allowance struct {
	Name   string         `json:"name"`
	Length measure.Length `json:"length"`
}
