package joint

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

func checkCorner(a measure.Angle) error {
	if a <= 0 || a >= straight {
		return fault.Field("corner", a, "more than 0° and less than 180°")
	}
	return nil
}

// acute checks an angle that is counted from the square cut.
func acute(field string, a measure.Angle) error {
	if a < 0 || a >= rightAngle {
		return fault.Field(field, a, "zero or more and less than 90°")
	}
	return nil
}

func notNegative(field string, l measure.Length) error {
	if l < 0 {
		return fault.Field(field, l.About(), "zero or more")
	}
	return nil
}

func positive(field string, l measure.Length) error {
	if l <= 0 {
		return fault.Field(field, l.About(), "more than zero")
	}
	return nil
}

func checkSpring(a measure.Angle) error {
	if a <= 0 || a >= rightAngle {
		return fault.Field("spring", a, "more than 0° and less than 90°")
	}
	return nil
}

// tick rounds a computed number of ticks to the nearest. A result beyond the
// range comes from an angle so flat or so steep that no joint exists there.
func tick(x float64, field string, a measure.Angle) (measure.Length, error) {
	if !(math.Abs(x) < 1<<62) {
		return 0, fault.Field(field, a, "an angle at which the joint is of finite length")
	}
	return measure.Length(math.RoundToEven(x)), nil
}

func microarcseconds(radians float64) measure.Angle {
	return measure.Angle(math.RoundToEven(radians * (180 * float64(measure.Degree) / math.Pi)))
}

// half halves an angle of zero or more, rounding half a microarcsecond to even.
func half(a measure.Angle) measure.Angle {
	h := a / 2
	if a%2 != 0 && h%2 != 0 {
		h++
	}
	return h
}
