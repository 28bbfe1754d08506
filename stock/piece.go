package stock

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Piece is a length to cut, Quantity times. Most jobs need only Label, Length and
// Quantity; the other fields matter for several profiles, for runs, and for ends that are
// not square.
type Piece struct {
	Label    string         `json:"label"`                                                 // any text, may repeat
	Length   measure.Length `json:"length"`                                                // long point to long point
	Quantity int            `json:"quantity,omitempty" zero:"1 or more, or nothing for 1"` // 0 = 1; in JSON a zero is an error

	// Profile names the section of the piece, as Stick.Profile does; empty if there
	// is only one.
	Profile string `json:"profile,omitempty"`

	// Run is the label of the Run to which the piece belongs, or empty. Part counts from
	// 1 to Parts; both are 0 outside a run.
	Run   string `json:"run,omitempty"`
	Part  int    `json:"part,omitempty"`
	Parts int    `json:"parts,omitempty"`

	// Room and Wall tell where the piece goes: free text for people, which affects no plan.
	Room string `json:"room,omitempty"`
	Wall string `json:"wall,omitempty"`

	// Left and Right are the two ends. The zero End is a square cut.
	Left  End `json:"left,omitzero"`
	Right End `json:"right,omitzero"`

	// Grade is the lowest Stick.Grade from which the piece may be cut.
	Grade int `json:"grade,omitempty"`

	// Symmetry tells how the piece may be turned on the stick so that its miters
	// nest with its neighbors'. The zero value does not allow turning: the ends stay
	// as in Left and Right.
	Symmetry Symmetry `json:"symmetry,omitzero"`

	// Allowances explain Length: if present, they sum to it exactly.
	Allowances []Allowance `json:"allowances,omitempty"`

	// Assumed is set if the piece is spliced over a stud whose position is assumed, not
	// measured: see SpliceRule.Assumed.
	Assumed bool `json:"assumed,omitempty"`

	// Notes describe the work on the piece besides its two cuts, in the order of work:
	// free text for people, which affects no plan. A piece with notes fits only its own
	// place.
	Notes []string `json:"notes,omitempty"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero quantity is
// a [*measure.FieldError].
func (p *Piece) UnmarshalJSON(data []byte) error {
	type plain Piece
	return fault.Unmarshal(data, (*plain)(p))
}

// An Allowance is one named amount in the length of a piece: the measured length, or an
// amount that a joint or a fit adds to it (positive) or deducts from it (negative).
type Allowance struct {
	Name   string         `json:"name"`
	Length measure.Length `json:"length"`
}
