package replan

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Progress is the state of the work on a plan, and its mishaps. The zero value means that
// nothing has been done.
//
// Count each stick once: in Cut if it is cut completely as planned, in Started if it is cut
// partly or differently, in Owned if it is whole and on hand. All others are still to be
// bought, unless Bought is set. Pieces are numbered as in [optimize.Pattern.Pieces]: the parts of runs after
// Problem.Pieces.
type Progress struct {
	// Cut is the number of sticks that are cut completely as planned, by index in
	// Plan.Patterns. It may be shorter than Patterns. Pieces that went wrong are in Spoiled.
	Cut []int `json:"cut,omitempty"`

	// Started are sticks that are cut partly, or differently from the plan.
	Started []Started `json:"started,omitempty"`

	// Bought is set if everything that the plan buys is on hand. Sticks of Plan.Buy that are not
	// in Cut, in Started or whole in Owned then count as whole sticks in Owned, without a refund.
	Bought bool `json:"bought,omitempty"`

	// Owned is the other stock on hand: with PlaceWhole, sticks that are bought and not cut;
	// with PlaceLeftover, offcuts of sticks in Cut and usable parts of spoiled pieces. Other
	// places are an error. Stock on hand costs nothing, or its refund.
	Owned []Owned `json:"owned,omitempty"`

	// Spoiled are cut pieces that must be cut again.
	Spoiled []Spoiled `json:"spoiled,omitempty"`

	// Supply is the number of some sticks that can still be bought: zero if an order is
	// missing. For other sticks the supplier has Limit less those that are cut, started or on
	// hand.
	Supply []Supply `json:"supply,omitempty"`
}

// Started is a stick that is partly cut.
type Started struct {
	Stick  int            `json:"stick"`            // index in Problem.Sticks
	Pieces []int          `json:"pieces,omitempty"` // pieces cut from it; spoiled ones are also in Spoiled, or omitted
	Left   measure.Length `json:"left,omitzero"`    // usable length that remains, in one piece; zero if there is none
}

// Owned is a number of equal sticks or offcuts, and their place.
type Owned struct {
	Stick int   `json:"stick"` // index in Problem.Sticks: the stick, or the stick of which it is an offcut
	Place Place `json:"place,omitzero"`

	// Length is the length of each. For a whole stick it is the full length, and zero in
	// Progress means the length in the problem; a stick with defects must have that length. For
	// a leftover or a started stick it is the usable length.
	Length measure.Length `json:"length,omitzero"`

	Count int `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // zero means one, in JSON it is an error

	// Refund is the supplier's refund for each whole stick that is not needed, in the
	// currency's minor unit; zero if it cannot be returned or if no stick has a price. The
	// total of all refunds is less than 2^60, and with the plan's cost it fits an int64.
	Refund int64 `json:"refund,omitempty"`
}

// Spoiled is a number of equal spoiled pieces.
type Spoiled struct {
	Piece int `json:"piece"`                                              // numbered as in Pattern.Pieces
	Count int `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // zero means one, in JSON it is an error
}

// Supply is the number of a stick that can still be bought.
type Supply struct {
	Stick int `json:"stick"` // index in Problem.Sticks, unique
	Left  int `json:"left"`  // zero or more
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a
// [*measure.FieldError].
func (o *Owned) UnmarshalJSON(data []byte) error {
	type plain Owned
	return fault.Unmarshal(data, (*plain)(o))
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a
// [*measure.FieldError].
func (s *Spoiled) UnmarshalJSON(data []byte) error {
	type plain Spoiled
	return fault.Unmarshal(data, (*plain)(s))
}
