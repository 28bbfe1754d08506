package joint

import (
	"errors"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

const (
	rightAngle = 90 * measure.Degree
	straight   = 180 * measure.Degree
)

// MiterAngle returns the saw's setting from square for a miter joint in a corner, (180° −
// corner)/2: 45° at 90°, 22.5° at 135°. Half a microarcsecond is rounded to even.
func MiterAngle(corner measure.Angle) (measure.Angle, error) {
	if err := checkCorner(corner); err != nil {
		return 0, err
	}
	return half(straight - corner), nil
}

// MiterOffset returns the distance of the long point of a miter beyond its short
// point: depth/tan(corner/2). The depth is measured through the cut: the thickness of
// base that stands on the saw, the width of casing, frame or tube that lies flat, the
// projection of crown. At 90° the offset is exactly the depth.
//
// The offset is also the amount that an outside miter adds to the length of the
// wall, once for each outside end.
func MiterOffset(depth measure.Length, corner measure.Angle) (measure.Length, error) {
	if err := errors.Join(notNegative("depth", depth), checkCorner(corner)); err != nil {
		return 0, err
	}
	if corner == rightAngle {
		return depth, nil
	}
	return tick(float64(depth)/math.Tan(corner.Radians()/2), "corner", corner)
}

// ButtDeduction returns the length by which the back of a piece is shorter than the wall if
// its end lies against the face of its neighbor: thickness/sin(corner), with the thickness
// of the neighbor. At 90° it is exactly the thickness.
func ButtDeduction(thickness measure.Length, corner measure.Angle) (measure.Length, error) {
	if err := errors.Join(notNegative("thickness", thickness), checkCorner(corner)); err != nil {
		return 0, err
	}
	if corner == rightAngle {
		return thickness, nil
	}
	return tick(float64(thickness)/math.Sin(corner.Radians()), "corner", corner)
}

// SquareDeduction returns the length by which a piece with a square end must be shorter
// than the wall in an inside corner of less than 90°: its face meets the other wall
// thickness/tan(corner) before its back does. It is zero for 90° and more.
func SquareDeduction(thickness measure.Length, corner measure.Angle) (measure.Length, error) {
	if err := errors.Join(notNegative("thickness", thickness), checkCorner(corner)); err != nil {
		return 0, err
	}
	if corner >= rightAngle {
		return 0, nil
	}
	return tick(float64(thickness)/math.Tan(corner.Radians()), "corner", corner)
}

// MiterGap returns the gap of a miter joint at its wide side if both cuts are made at the
// setting miter and the actual corner angle is corner: 2·(depth/cos miter)·sin(|d|/2), with
// d = corner − (180° − 2·miter). It is zero if the setting is right.
func MiterGap(depth measure.Length, miter, corner measure.Angle) (measure.Length, error) {
	if err := errors.Join(notNegative("depth", depth), acute("miter", miter), checkCorner(corner)); err != nil {
		return 0, err
	}
	d := corner - (straight - 2*miter)
	if d < 0 {
		d = -d
	}
	return tick(2*float64(depth)/math.Cos(miter.Radians())*math.Sin(d.Radians()/2), "miter", miter)
}

// PolygonCorner returns the corner angle of a regular polygon of n sides, (n − 2)·180°/n,
// to the nearest microarcsecond; n is 3 or more.
func PolygonCorner(n int) (measure.Angle, error) {
	if n < 3 || int64(n) > int64(straight) {
		return 0, fault.Field("n", n, "3 or more")
	}
	turn, rest := 2*straight/measure.Angle(n), 2*straight%measure.Angle(n)
	if rest > measure.Angle(n)-rest || (rest == measure.Angle(n)-rest && turn%2 != 0) {
		turn++
	}
	return straight - turn, nil
}
