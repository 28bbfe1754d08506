package panel

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/joint"
)

// A Corner is where the paneling of two walls meets. The zero value is an inside corner of
// 90° that is butted.
type Corner struct {
	// Outside is set for a corner that stands into the room. Angle is between the two walls,
	// more than 0° and less than 180°; zero means 90°, and in JSON is an error.
	Outside bool          `json:"outside,omitempty"`
	Angle   measure.Angle `json:"angle,omitzero" zero:"more than 0deg, or nothing for 90deg"`

	// Miter is set if the edges of both stiles are beveled to half the corner. Otherwise the
	// stile of the left wall is whole and that of the right wall is butted to it: inside to
	// its face, outside to its back.
	Miter bool `json:"miter,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero angle is a
// [*measure.FieldError].
func (c *Corner) UnmarshalJSON(data []byte) error {
	type plain Corner
	return fault.Unmarshal(data, (*plain)(c))
}

// A CornerStile is what a corner makes of the stile at the end of one wall.
type CornerStile struct {
	// Face is where what shows of the stile begins, along the wall from the corner of the
	// two walls: positive toward the middle of the wall, negative beyond an outside corner.
	Face measure.Length `json:"face"`

	// Extra is how much wider the stile is, over all, than what shows of it: what is hidden
	// behind the other in an inside corner. It is negative if the edge of the other
	// shows as part of it, around an outside corner.
	Extra measure.Length `json:"extra,omitzero"`

	// Bevel is how far from square its edge in the corner is ripped.
	Bevel measure.Angle `json:"bevel,omitzero"`
}

// Stiles returns what the corner makes of the stiles, as thick as given, at the right end of
// the left wall and at the left end of the right wall, so that as much of both shows. All
// is exact at 90°, where a stile of which a shows is, left and right,
//
//	inside, butted   a + thickness and a
//	outside, butted  a and a − thickness
//	inside, mitered  a + thickness each, long at the back
//	outside, mitered a each, long at the face
//
// The error is a [*measure.FieldError] for a negative thickness or an angle at which there
// is no such corner.
func (c Corner) Stiles(thickness measure.Length) (left, right CornerStile, err error) {
	a := c.Angle
	if a == 0 {
		a = rightAngle
	}
	face, err := joint.MiterOffset(thickness, a) // where the faces of both meet
	if err != nil {
		return CornerStile{}, CornerStile{}, err
	}
	bevel, err := joint.MiterAngle(a)
	if err != nil {
		return CornerStile{}, CornerStile{}, err
	}
	switch {
	case c.Miter && c.Outside:
		s := CornerStile{Face: -face, Bevel: bevel}
		return s, s, nil
	case c.Miter:
		s := CornerStile{Face: face, Extra: face, Bevel: bevel}
		return s, s, nil
	}
	// Butted. Where the other lies against its face or its back, thickness/sin of the
	// corner is taken along the wall; a slanted edge leans thickness/tan of it.
	across, err := joint.ButtDeduction(thickness, a)
	if err != nil {
		return CornerStile{}, CornerStile{}, err
	}
	lean, err := joint.SquareDeduction(thickness, min(a, straight-a))
	if err != nil {
		return CornerStile{}, CornerStile{}, err
	}
	turn := max(a-rightAngle, rightAngle-a)
	if c.Outside {
		// The left one reaches beyond the corner until its edge is flush with the face of the
		// right wall. The right one lies against its back, from the corner of the walls on.
		// What shows of it begins with that edge, thickness/sin wide.
		left = CornerStile{Face: -face, Bevel: turn}
		right = CornerStile{Face: -face, Extra: -across, Bevel: turn}
		if a > rightAngle { // the backs of both reach farther than their faces
			left.Extra, right.Extra = lean, -face
		}
		return left, right, nil
	}
	left = CornerStile{Face: face, Extra: face}
	right = CornerStile{Face: face, Bevel: turn}
	if a < rightAngle { // the face of the left one, square, meets the other wall before its back does
		left.Extra -= lean
		right.Extra = face - across
	}
	return left, right, nil
}

const (
	rightAngle = 90 * measure.Degree
	straight   = 180 * measure.Degree
)
