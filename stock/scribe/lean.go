package scribe

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Lean is the amount by which a wall is out of plumb, as read from a level: Out in the
// height Over. Out is positive if the wall leans away from the room, so that the room is
// wider at the top. The zero value is a plumb wall.
type Lean struct {
	Out  measure.Length `json:"out"`
	Over measure.Length `json:"over"` // length of the level, such as 48 in; more than zero and than Out
}

// Validate returns nil if the lean is valid, or a [*measure.FieldError].
func (l Lean) Validate() error {
	var bad fault.List
	if l == (Lean{}) {
		return nil
	}
	across(&bad, "over", l.Over, 1)
	if (l.Out >= l.Over || l.Out <= -l.Over) && len(bad) == 0 {
		bad.Add("out", l.Out.About(), "less than "+l.Over.About()+", to either side")
	}
	return bad.Err()
}

// Offset returns the distance that the wall is out of plumb at a height: height·Out/Over,
// to the nearest tick. The end of base of that height that dies into the wall is cut that
// far out of square. The error is that of Validate, or a [*measure.FieldError] for a height
// below zero or above 1000 ft (height).
func (l Lean) Offset(height measure.Length) (measure.Length, error) {
	var bad fault.List
	bad.Under("", l.Validate())
	across(&bad, "height", height, 0)
	if err := bad.Err(); err != nil || l.Out == 0 {
		return 0, err
	}
	x, _, err := l.Out.MulDiv(int64(height), int64(l.Over), measure.RoundHalfEven)
	return x, err
}

// Angle returns the angle from plumb, positive if the wall leans away from the room; zero
// for a lean that Validate rejects.
func (l Lean) Angle() measure.Angle {
	if l.Out == 0 || l.Validate() != nil {
		return 0
	}
	return degrees(math.Atan2(float64(l.Out), float64(l.Over)))
}

// degrees returns an angle in radians to the nearest microarcsecond.
func degrees(radians float64) measure.Angle {
	return measure.Angle(math.RoundToEven(radians * (180 * float64(measure.Degree) / math.Pi)))
}

// offset is Offset before it is rounded.
func (l Lean) offset(height measure.Length) float64 {
	if l.Over == 0 {
		return 0
	}
	return float64(float64(height)*float64(l.Out)) / float64(l.Over)
}

// Corner returns the distance of the corner at the end of a wall at a height beyond its
// position at the floor, away from the wall: the extra length of the top of base over its
// foot, negative if the top is shorter. The wall leans by l and the one around the corner
// by next; corner is the angle between the two walls at an inside or an outside corner,
// zero for 90°, at which the result is the offset of next.
//
// The error joins those of both leans (lean, next), and a [*measure.FieldError] for an
// angle that is not between 0° and 180° (corner), a height out of range (height), and an
// angle so flat that the corner is out of range.
func (l Lean) Corner(next Lean, corner measure.Angle, outside bool, height measure.Length) (measure.Length, error) {
	var bad fault.List
	bad.Under("lean", l.Validate())
	bad.Under("next", next.Validate())
	if corner < 0 || corner >= 180*measure.Degree {
		bad.Add("corner", corner.String(), "more than 0° and less than 180°, or zero for 90°")
	}
	across(&bad, "height", height, 0)
	if err := bad.Err(); err != nil {
		return 0, err
	}
	x, err := next.Offset(height)
	if err != nil {
		return 0, err
	}
	// Seen along the first wall, the planes of the two walls, moved out by own and x, meet
	// at (x + own·cos A)/sin A; at an outside corner A goes the other way round.
	if corner != 0 && corner != 90*measure.Degree {
		sin, cos := math.Sincos(corner.Radians())
		own, other := l.offset(height), next.offset(height)
		y := (other + float64(own*cos)) / sin
		if !(math.Abs(y) <= float64(maxAlong)) {
			bad.Add("corner", corner.String(), "an angle at which the walls meet")
			return 0, bad.Err()
		}
		x = measure.Length(math.RoundToEven(y))
	}
	if outside {
		x = -x
	}
	return x, nil
}
