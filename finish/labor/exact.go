package labor

import (
	"example.com/longpoint/finish"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Units of time for rates.
const (
	second measure.Duration = 1_000_000_000
	minute                  = 60 * second
	hour                    = 60 * minute
)

// whole is one, 100 %.
const whole = 100 * measure.Percent

// squareTicks is the number of square ticks in a unit of area.
const squareTicks = int64(measure.Inch) * int64(measure.Inch) / int64(measure.SquareInch)

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "labor", Value: what, Reason: "too large to represent"}
}

// units returns a quantity and its unit of comparison as counts of the same small unit; ok
// is false if they are of different kinds, or of a kind that no event has.
func units(q, unit finish.Amount) (n, d int64, ok bool) {
	if l, is := q.Length(); is {
		u, same := unit.Length()
		return int64(l), int64(u), same
	}
	if a, is := q.Area(); is {
		u, same := unit.Area()
		return int64(a), int64(u), same
	}
	if n, is := q.Pieces(); is {
		u, same := unit.Pieces()
		return n, u, same
	}
	return 0, 0, false
}

// surface returns the area of a rectangle, to the nearest unit; ok is false if it overflows
// int64.
func surface(long, wide measure.Length) (measure.Area, bool) {
	if long < 0 || wide < 0 {
		return 0, false
	}
	a, ok := natural.Quotient(natural.HalfUp, []int64{int64(long), int64(wide)}, []int64{squareTicks})
	return measure.Area(a), ok
}
