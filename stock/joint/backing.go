package joint

import (
	"errors"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Backing returns the widths along the wall and along the ceiling of a backing strip in the
// angle behind crown, ripped to the spring angle with a clearance square to the back of the
// crown: width·cos(spring) − clearance/sin(spring) and width·sin(spring) −
// clearance/cos(spring), to the nearest tick each (derived).
//
// width is the width of the crown across its back. The error is a [*measure.FieldError] for
// a width that is not positive, a clearance that is negative or leaves nothing of the
// strip, and a spring angle that is not between 0° and 90°.
func Backing(width measure.Length, spring measure.Angle, clearance measure.Length) (wall, ceiling measure.Length, err error) {
	if err := errors.Join(positive("width", width), checkSpring(spring), notNegative("clearance", clearance)); err != nil {
		return 0, 0, err
	}
	sin, cos := math.Sincos(spring.Radians())
	w, g := float64(width), float64(clearance)
	along, above := float64(w*cos)-float64(g/sin), float64(w*sin)-float64(g/cos)
	if along < 1 || above < 1 {
		return 0, 0, fault.Field("clearance", clearance.About(), "less, so that something is left of the strip")
	}
	return measure.Length(math.RoundToEven(along)), measure.Length(math.RoundToEven(above)), nil // less than the width
}

// SpringAt returns the spring angle and the projection of crown that is held to a drop, as
// when a ceiling dips and the line on the wall stays level: acos(drop/width) and √(width²
// − drop²) (derived). The saw holds the crown at the same drop.
//
// The error is a [*measure.FieldError] for a width that is not positive and a drop that is
// not between zero and the width.
func SpringAt(width, drop measure.Length) (spring measure.Angle, projection measure.Length, err error) {
	if err := errors.Join(positive("width", width), positive("drop", drop)); err != nil {
		return 0, 0, err
	}
	if drop >= width {
		return 0, 0, fault.Field("drop", drop.About(), "less than the width, "+width.About())
	}
	w, h := float64(width), float64(drop)
	projection = measure.Length(math.RoundToEven(math.Sqrt(float64(w-h) * float64(w+h))))
	return microarcseconds(math.Acos(h / w)), projection, nil
}
