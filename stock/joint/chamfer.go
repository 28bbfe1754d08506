package joint

import (
	"errors"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Chamfer returns how far back from its end the face of a piece is chamfered that is thicker by
// excess than what it dies into, if the chamfer is cut at the angle to the face:
// excess/tan(angle), more than 0° and less than 90°. At 45°, which is usual, it is the excess,
// exactly; the flatter the less it is seen.
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
