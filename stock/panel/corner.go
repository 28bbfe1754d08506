package panel

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/joint"
)

// A Corner is the joint between the paneling of two walls. The zero value is a butted
// inside corner of 90°.
type Corner struct {
	// Outside is set for an outside corner. Angle is the angle between the two walls, more
	// than 0° and less than 180°; zero means 90°, and in JSON is an error.
	Outside bool          `json:"outside,omitempty"`
	Angle   measure.Angle `json:"angle,omitzero" zero:"more than 0deg, or nothing for 90deg"`

	// Miter is set if the edges of both stiles are beveled to half the corner. Otherwise
	// the stile of the left wall runs through and that of the right wall is butted to it:
	// to its face at an inside corner, to its back at an outside one.
	Miter bool `json:"miter,omitempty"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero angle is a
// [*measure.FieldError].
func (c *Corner) UnmarshalJSON(data []byte) error {
	type plain Corner
	return fault.Unmarshal(data, (*plain)(c))
}

// A CornerStile describes the stile at the end of one wall in a corner.
type CornerStile struct {
	// Face is the beginning of the visible part of the stile, along the wall from the
	// corner of the two walls: positive toward the middle of the wall, negative beyond an
	// outside corner.
	Face measure.Length `json:"face"`

	// Extra is the overall width of the stile minus its visible width: the width hidden
	// behind the other stile in an inside corner. It is negative if the edge of the other
	// stile shows as part of it, around an outside corner.
	Extra measure.Length `json:"extra,omitzero"`

	// Bevel is the angle from square at which its edge in the corner is ripped.
	Bevel measure.Angle `json:"bevel,omitzero"`
}

// Stiles returns the stiles of the given thickness at the right end of the left wall and at
// the left end of the right wall, made so that equal widths of both show. The results are
// exact at 90°. There, the left and the right stile with a visible width a are
//
//	inside, butted   a + thickness and a
//	outside, butted  a and a − thickness
//	inside, mitered  a + thickness each, long at the back
//	outside, mitered a each, long at the face
//
// The error is a [*measure.FieldError] for a negative thickness or an angle at which no
// such corner exists.
func (c Corner) Stiles(thickness measure.Length) (left, right CornerStile, err error) {
	a := c.Angle
	if a == 0 {
		a = rightAngle
	}
	face, err := joint.MiterOffset(thickness, a) // the point at which the faces of both meet
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
	// Butted. The other stile, against its face or its back, takes thickness/sin of
	// the corner along the wall; a slanted edge leans by thickness/tan of the corner.
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
		// The left one reaches beyond the corner until its edge is flush with the face of
		// the right wall. The right one lies against its back, from the corner of the walls
		// on. Its visible width begins with that edge, thickness/sin wide.
		left = CornerStile{Face: -face, Bevel: turn}
		right = CornerStile{Face: -face, Extra: -across, Bevel: turn}
		if a > rightAngle { // the backs of both reach farther than their faces
			left.Extra, right.Extra = lean, -face
		}
		return left, right, nil
	}
	left = CornerStile{Face: face, Extra: face}
	right = CornerStile{Face: face, Bevel: turn}
	if a < rightAngle { // the face of the left, square one meets the other wall before its back does
		left.Extra -= lean
		right.Extra = face - across
	}
	return left, right, nil
}

const (
	rightAngle = 90 * measure.Degree
	straight   = 180 * measure.Degree
)
