package stair

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Meeting is the joint between level trim and raked trim in the plane of one wall, at the
// foot of a slope that rises to the right. At the head, and for a falling slope, the same
// cuts have their long points at the other edge: negate both angles.
type Meeting struct {
	Level measure.Angle  `json:"level"` // angle of the cut of the level piece, as stock.End.Angle
	Rake  measure.Angle  `json:"rake"`  // angle of the cut of the raked piece
	Joint measure.Length `json:"joint"` // length of the joint
}

// Meet returns the joint between level trim of a height and raked trim of a width, both
// more than zero, at which the lower edges and the upper edges meet. If height and width
// are equal, the joint bisects the turn; if width = height·cos of the slope, it is plumb.
// The joint leans from plumb by (width − height·cos)/(height·sin) of its rise (derived).
//
// The error is a [*measure.FieldError] for a slope that is not above level or is above 20
// in 1 (slope), and for a length out of range (level, rake).
func Meet(rise measure.Slope, level, rake measure.Length) (Meeting, error) {
	var bad fault.List
	if m := rise.Float64(); m <= 0 || m > maxSteep {
		bad.Add("slope", rise.String(), "more than level and at most 20 in 1")
	}
	length(&bad, "level", level, 1)
	length(&bad, "rake", rake, 1)
	if err := bad.Err(); err != nil {
		return Meeting{}, err
	}
	return meet(slope(rise), level, rake), nil
}

func meet(s slant, level, rake measure.Length) Meeting {
	a, b := float64(level), float64(rake)
	left := (b - float64(a*s.cos)) / s.sin // distance of the upper point to the left of the lower one
	if level == rake {
		left = float64(a * s.half())
	}
	lean := math.Atan2(left, a)
	turn := math.Atan2(s.sin, s.cos)
	return Meeting{
		Level: -angleOf(lean), Rake: -angleOf(turn - lean),
		Joint: round(math.Sqrt(float64(a*a) + float64(left*left))),
	}
}
