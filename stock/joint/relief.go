package joint

import (
	"errors"
	"math"

	"example.com/longpoint/measure"
)

// A Relief is how the end of a coped piece is cleared behind its face.
type Relief struct {
	Face  measure.Length `json:"face"`  // from the corner to where the profile is sawn at the face
	Back  measure.Length `json:"back"`  // from the corner to where the back has to stop, at the latest
	Bevel measure.Angle  `json:"bevel"` // least back bevel, from square to the face
}

// CopeRelief returns where a cope ends that laps over a neighbor of the same profile and
// thickness: thickness/tan(corner/2) from the corner at the face, as an inside miter does.
// Above 90° the neighbor's face leans into the back of the cope, which stops at
// thickness/sin(corner): the back bevel is at least corner − 90°. Up to 90° none is needed,
// and Back is Face.
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
