package joint

import (
	"errors"
	"math"

	"example.com/longpoint/measure"
)

// A Relief describes how the end of a coped piece is cut back behind its face.
type Relief struct {
	Face  measure.Length `json:"face"`  // from the corner to the cut of the profile at the face
	Back  measure.Length `json:"back"`  // from the corner to the back, at least
	Bevel measure.Angle  `json:"bevel"` // least back bevel, from square to the face
}

// CopeRelief returns the end of a cope over a neighbor of the same profile and thickness.
// At the face it ends thickness/tan(corner/2) from the corner, as an inside miter does.
// Above 90° the neighbor's face leans into the back of the cope, which must stop at
// thickness/sin(corner): the back bevel is at least corner − 90°. Up to 90° no bevel is
// needed, and Back is equal to Face.
//
// The error is that of [MiterOffset].
func CopeRelief(thickness measure.Length, corner measure.Angle) (Relief, error) {
	if err := errors.Join(notNegative("thickness", thickness), checkCorner(corner)); err != nil {
		return Relief{}, err
	}
	face, err := MiterOffset(thickness, corner)
	if err != nil || corner <= rightAngle {
		return Relief{Face: face, Back: face}, err
	}
	back, err := tick(float64(thickness)/math.Sin(corner.Radians()), "corner", corner)
	if err != nil {
		return Relief{}, err
	}
	return Relief{Face: face, Back: back, Bevel: corner - rightAngle}, nil
}
