package optimize

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

const rightAngle = 90 * measure.Degree

// lessSteep describes the valid angles, for an end whose kerf along the stick is out of range.
func lessSteep() string {
	return fmt.Sprintf("an angle closer to square, at which the kerf takes at most %v of the stick", lengthLimit.About())
}

// validateShape checks the two ends of a piece or a whole run, if ends nest. A negative length
// is already an error, so nothing is compared with it.
func validateShape(left, right stock.End, length, kerf measure.Length, bad func(name string, value any, want string)) {
	ok := validateEnd("left", left, length, kerf, bad)
	ok = validateEnd("right", right, length, kerf, bad) && ok
	if ok && length >= 0 && !cuttable(left, right, length) {
		bad("right.setback", right.Setback.About(),
			fmt.Sprintf("one that leaves something of the length, %v, beside the left end's setback, %v, and no edge below zero", length.About(), left.Setback.About()))
	}
}

// validateEnd reports whether an end is valid, and adds its faults.
func validateEnd(side string, e stock.End, length, kerf measure.Length, bad func(name string, value any, want string)) bool {
	ok := true
	fault := func(name string, value any, want string) {
		bad(side+"."+name, value, want)
		ok = false
	}
	if _, err := e.Kind.MarshalText(); err != nil {
		fault("kind", e.Kind, "a known kind of end")
		return false
	}
	switch {
	case e.Setback < 0:
		fault("setback", e.Setback.About(), "zero or more")
	case length >= 0 && e.Setback > length:
		fault("setback", e.Setback.About(), fmt.Sprintf("at most the length, %v", length.About()))
	}
	if e.Kind.Raked() {
		switch {
		case e.Angle <= -rightAngle || e.Angle >= rightAngle:
			fault("angle", e.Angle, fmt.Sprintf("more than -%v and less than %v", rightAngle, rightAngle))
		case e.KerfAlong(kerf) > lengthLimit:
			fault("angle", e.Angle, lessSteep())
		}
	}
	if most := 2 * rightAngle; e.Kind.Mitered() || e.Kind.Spliced() || e.Kind == stock.EndButt {
		if e.Kind.Spliced() {
			most = rightAngle
		}
		switch {
		case e.Angle < 0 || e.Angle >= most:
			fault("angle", e.Angle, fmt.Sprintf("zero (the usual angle) or more and less than %v", most))
		case e.KerfAlong(kerf) > lengthLimit:
			fault("angle", e.Angle, lessSteep())
		}
	}
	return ok
}

// cuttable reports whether the cuts at the two ends do not cross and leave something between
// them. Unless one is long where the other is short, some edge is short by both Setbacks.
func cuttable(left, right stock.End, length measure.Length) bool {
	a, b := longPoint(left), longPoint(right)
	l, r := max(left.Setback, 0), max(right.Setback, 0)
	if a == stock.SectionAll {
		l = 0
	}
	if b == stock.SectionAll {
		r = 0
	}
	if a != stock.SectionAll && b == across(a) {
		return max(l, r) <= length && min(l, r) < length
	}
	return l <= length-r
}
