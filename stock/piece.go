package stock

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Piece is a length that has to be cut, Quantity times. Label, Length and Quantity are
// all that most jobs need; the other fields matter for several profiles, for runs, and for
// ends that are not square.
type Piece struct {
	Label    string         `json:"label"`                                                 // any text, may repeat
	Length   measure.Length `json:"length"`                                                // long point to long point
	Quantity int            `json:"quantity,omitempty" zero:"1 or more, or nothing for 1"` // 0 = 1; in JSON a zero is an error

	// Profile names the section that the piece is of, as Stick.Profile does; empty if
	// there is only one.
	Profile string `json:"profile,omitempty"`

	// Run is the label of the Run that the piece is part of, or empty. Part counts from 1
	// to Parts; both are 0 outside a run.
	Run   string `json:"run,omitempty"`
	Part  int    `json:"part,omitempty"`
	Parts int    `json:"parts,omitempty"`

	// Room and Wall say where the piece goes: free text for people, which no plan depends on.
	Room string `json:"room,omitempty"`
	Wall string `json:"wall,omitempty"`

	// Left and Right are the two ends. The zero End is a square cut.
	Left  End `json:"left,omitzero"`
	Right End `json:"right,omitzero"`

	// Grade is the lowest Stick.Grade that the piece may be cut from.
	Grade int `json:"grade,omitempty"`

	// Symmetry says how the piece may be turned on the stick so that its miters nest
	// with its neighbors'. The zero value is not at all: as Left and Right say.
	Symmetry Symmetry `json:"symmetry,omitzero"`

	// Allowances explain Length: if there are any, they sum to it exactly.
	Allowances []Allowance `json:"allowances,omitempty"`

	// Assumed is set where the piece is spliced over a stud that was not found, but assumed: see
	// SpliceRule.Assumed.
	Assumed bool `json:"assumed,omitempty"`

	// Notes say what is done to the piece besides its two cuts, in the order of work: free
	// text for people, which no plan depends on. A piece that has any is for its own place
	// only.
	Notes []string `json:"notes,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero quantity is a
// [*measure.FieldError].
func (p *Piece) UnmarshalJSON(data []byte) error {
	type plain Piece
	return fault.Unmarshal(data, (*plain)(p))
}

// An Allowance is one named amount in the length of a piece: the measured length, or what
// a joint or a fit adds to it (positive) or takes from it (negative).
type Allowance struct {
	Name   string         `json:"name"`
	Length measure.Length `json:"length"`
}
