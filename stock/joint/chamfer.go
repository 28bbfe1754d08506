package joint

import (
	"errors"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Chamfer returns the length of the chamfer on the face of a piece that is thicker by
// excess than the trim into which it dies: excess/tan(angle), with angle, between 0° and
// 90°, from the face. At 45°, which is usual, it is exactly the excess; a flatter chamfer
// is less visible.
func Chamfer(excess measure.Length, angle measure.Angle) (measure.Length, error) {
	var err error
	if angle <= 0 || angle >= rightAngle {
		err = fault.Field("angle", angle, "more than 0° and less than 90°")
	}
	if err := errors.Join(notNegative("excess", excess), err); err != nil {
		return 0, err
	}
	if angle == rightAngle/2 {
		return excess, nil
	}
	return tick(float64(excess)/math.Tan(angle.Radians()), "angle", angle)
}
