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

// Fixture is what else stops the trim on a wall: a cabinet, a tub, a hearth, a
// built-in, a radiator.
type Fixture struct {
	Name  string         `json:"name"`
	At    measure.Length `json:"at"` // left edge, from the left end of the wall
	Width measure.Length `json:"width"`

	// Bottom and Height say which trim it stops: what runs between the two.
	// Height is the top above the floor; zero stops all but crown.
	Bottom measure.Length `json:"bottom,omitzero"`
	Height measure.Length `json:"height,omitzero"`

	// Depth is how far it reaches into the room. In an inside corner it shortens
	// the trim of the neighboring wall by as much; zero leaves that as it is.
	Depth measure.Length `json:"depth,omitzero"`

	// Ends is what the trim does at either side. The zero value is Butt.
	Ends Termination `json:"ends,omitzero"`
}

// Studs is where the studs of a wall are. The zero value puts the middle of a stud
// every 16 in from the left end.
type Studs struct {
	First   measure.Length `json:"first,omitzero"`   // middle of the first, from the left end
	Spacing measure.Length `json:"spacing,omitzero"` // on center; 0 = 16 in, at least 1 in

	// At lists the middles instead, ascending, where the layout is irregular.
	At []measure.Length `json:"at,omitempty"`
}

func (s Studs) isZero() bool { return s.First == 0 && s.Spacing == 0 && len(s.At) == 0 }

func (s Studs) spacing() measure.Length {
	if s.Spacing == 0 {
		return 16 * measure.Inch
	}
	return s.Spacing
}

// middles returns the middles of the studs from 0 to length, ascending.
func (s Studs) middles(length measure.Length) []measure.Length {
	if len(s.At) > 0 {
		return s.At
	}
	var at []measure.Length
	step := s.spacing()
	for x := s.First % step; x <= length; x += step {
		at = append(at, x)
	}
	return at
}
