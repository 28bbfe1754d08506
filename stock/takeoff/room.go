package takeoff

import "example.com/longpoint/measure"

// Room is a chain of walls. It is closed, as most rooms are, where every wall
// ends in an inside or outside corner.
type Room struct {
	Name  string `json:"name"`
	Walls []Wall `json:"walls"` // in order, clockwise in plan

	// Height is floor to ceiling; zero where it was not measured.
	Height measure.Length `json:"height,omitzero"`

	// Entry names the wall from which the room is first seen. Empty means the
	// first wall with a door or a cased opening.
	Entry string `json:"entry,omitempty"`

	// Studs is the layout of every wall that has none of its own.
	Studs Studs `json:"studs,omitzero"`
}

// Wall is one straight wall, measured from corner to corner.
type Wall struct {
	Name   string         `json:"name"`
	Length measure.Length `json:"length"` // at the floor, where base goes; at most a mile

	// Top is the length measured again at the ceiling, where crown goes; zero
	// means the same as Length.
	Top measure.Length `json:"top,omitzero"`

	// Corner is the right-hand end, between this wall and the next. The zero
	// value is an inside corner of 90°.
	Corner Corner `json:"corner,omitzero"`

	// Start is the left-hand end of a wall that the wall before does not join
	// (its Corner is open, stop or scribe). The zero value means the same as that.
	Start Corner `json:"start,omitzero"`

	Openings []Opening `json:"openings,omitempty"`
	Fixtures []Fixture `json:"fixtures,omitempty"`
	Studs    Studs     `json:"studs,omitzero"`
}
