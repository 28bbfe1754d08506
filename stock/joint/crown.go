package joint

import (
	"errors"
	"math"

	"example.com/longpoint/measure"
)

// A Setting is a setting of the saw; both angles are counted from the square cut.
type Setting struct {
	Miter measure.Angle `json:"miter"` // of the saw's arm
	Bevel measure.Angle `json:"bevel"` // of the blade
}

// CrownSetting returns the settings for crown that lies flat on the table: tan M =
// sin spring / tan(corner/2) and sin B = cos spring · cos(corner/2), to the nearest
// microarcsecond. Inside or outside, left or right change the side of the blade
// that is kept, not the numbers. Crown that is nested upside down at its spring
// angle is cut at [MiterAngle] without a bevel instead.
//
// Crown that is sold as "52/38" has a spring angle of 38°.
//
// The spring angle is more than 0° and less than 90°. The settings are wrong under a
// sloped ceiling: use package stair around a corner, and [NewCut] in the plane of a wall.
func CrownSetting(spring, corner measure.Angle) (Setting, error) {
	if err := errors.Join(checkSpring(spring), checkCorner(corner)); err != nil {
		return Setting{}, err
	}
	s, h := spring.Radians(), corner.Radians()/2
	m := math.Atan(math.Sin(s) / math.Tan(h))
	b := math.Asin(math.Cos(s) * math.Cos(h))
	return Setting{Miter: microarcseconds(m), Bevel: microarcseconds(b)}, nil
}
