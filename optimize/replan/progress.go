package replan

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Progress says what has been done of a plan, and what went wrong. The zero value says that
// nothing has been done.
//
// Count each stick once: in Cut if it is cut completely as planned, in Started if it is cut
// in part or in another way, in Owned if it is whole and on hand. All others are still to be
// bought. Pieces are numbered as in [optimize.Pattern.Pieces]: the parts
// of runs after Problem.Pieces.
type Progress struct {
	// Cut is how many sticks have been cut completely as planned, by index in Plan.Patterns.
	// It may be shorter than Patterns. Pieces that went wrong are in Spoiled.
	Cut []int `json:"cut,omitempty"`

	// Started are sticks that have been cut in part, or in another way than planned.
	Started []Started `json:"started,omitempty"`

	// Owned is what else is on hand: with PlaceWhole, sticks that are bought and not cut; with
	// PlaceLeftover, offcuts of sticks in Cut and what can still be used of spoiled pieces.
	// Other places are an error. Stock on hand is free, or worth its refund.
	Owned []Owned `json:"owned,omitempty"`

	// Spoiled are pieces among those that were cut that have to be cut again.
	Spoiled []Spoiled `json:"spoiled,omitempty"`

	// Supply says how many of some sticks can still be bought: zero if what was ordered is
	// missing. Of any other stick the supplier has what Limit leaves after those that are cut,
	// started or on hand.
	Supply []Supply `json:"supply,omitempty"`
}

// Started is a stick of which something has been cut.
type Started struct {
	Stick  int            `json:"stick"`            // index in Problem.Sticks
	Pieces []int          `json:"pieces,omitempty"` // pieces cut from it; those that are no good are in Spoiled as well, or left out
	Left   measure.Length `json:"left,omitzero"`    // what can still be used of it, in one piece; zero for nothing
}

// Owned is a number of equal sticks, or of what is left of sticks, and where they are.
type Owned struct {
	Stick int   `json:"stick"` // index in Problem.Sticks: what they are, or what they were cut from
	Place Place `json:"place,omitzero"`

	// Length is what each measures. For a whole stick it is from end to end, and zero in
	// Progress means the length that the problem says; a stick with defects must be as the
	// problem says. For a leftover or a started stick it is what can be used.
	Length measure.Length `json:"length,omitzero"`

	Count int `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // how many; zero means one, in JSON it is an error

	// Refund is what the supplier gives back for each whole stick that is not needed, in the
	// currency's minor unit; zero if it cannot be returned or if no stick has a price. All
	// refunds together are less than 2^60, and with the plan's cost they fit an int64.
	Refund int64 `json:"refund,omitempty"`
}

// Spoiled is a number of equal pieces that are no good.
type Spoiled struct {
	Piece int `json:"piece"`                                              // numbered as in Pattern.Pieces
	Count int `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // how many; zero means one, in JSON it is an error
}

// Supply is how many of a stick can still be had.
type Supply struct {
	Stick int `json:"stick"` // index in Problem.Sticks, each once
	Left  int `json:"left"`  // zero or more
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a
// *[measure.FieldError].
func (o *Owned) UnmarshalJSON(data []byte) error {
	type plain Owned
	return fault.Unmarshal(data, (*plain)(o))
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a
// *[measure.FieldError].
func (s *Spoiled) UnmarshalJSON(data []byte) error {
	type plain Spoiled
	return fault.Unmarshal(data, (*plain)(s))
}
