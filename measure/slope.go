package measure

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// Slope is a steepness, an exact ratio of rise to run: 7 in 12 for a roof or
// the skirt of a stair, 1/4 in per foot for a sill, 1:12 for a ramp. The rise
// may be negative. It is comparable; equal ratios are equal. The zero value is
// level.
type Slope struct {
	rise, run int64 // in lowest terms, run above zero; both 0 when level
}

// NewSlope returns the slope of rise in run. A run of zero or less gives a
// *[RangeError], and so does a ratio whose terms, in lowest terms, are beyond
// 10^12.
func NewSlope(rise, run Length) (Slope, error) {
	fail := func(reason string) (Slope, error) {
		return Slope{}, &RangeError{Op: "NewSlope", Value: rise.String() + ", " + run.String(), Reason: reason}
	}
	if run <= 0 {
		return fail("the run must be above zero")
	}
	num, den, err := rise.Fraction(run)
	if err != nil || num > maxTerm || num < -maxTerm || den > maxTerm {
		return fail("the terms of the ratio must not be beyond 10^12")
	}
	if num == 0 {
		return Slope{}, nil
	}
	return Slope{num, den}, nil
}

// ParseSlope reads a slope, rise first: two numbers, two lengths, or percent.
//
//	7 in 12   7:12   7-1/2 in 12   1/4" per foot   1/4 in per ft   1/4" in 1'   2%
//
// A single fraction such as 7/12 is rejected: in older books on framing it is
// the pitch, which is the rise over the span, and the span is two runs. The
// error is a *[ParseError].
func ParseSlope(s string) (Slope, error) {
	fail := func(err error, reason string) (Slope, error) {
		return Slope{}, &ParseError{Kind: "slope", Input: s, Part: s, Err: err, Reason: reason}
	}
	if len(s) > 2*maxText {
		return fail(ErrSyntax, "longer than "+strconv.Itoa(2*maxText)+" bytes")
	}
	left, right := splitSlope(s)
	if right < 0 {
		if rise, run := fraction(s); run != 0 {
			_, err := fail(ErrAmbiguous, "the fraction could be rise over run, or the pitch, rise over span; write rise in run")
			e := err.(*ParseError)
			for _, twice := range [2]Length{1, 2} { // a span is two runs
				if slope, err := NewSlope(twice*rise, run); err == nil {
					e.Choices = append(e.Choices, slope.String())
				}
			}
			return Slope{}, e
		}
		return fail(ErrSyntax, `write a slope such as 7 in 12, 1/4" per foot, 1:12 or 2%`)
	}
	rise, err := Parse(s[:left])
	run, runErr := 100*slopeUnit, error(nil)
	switch text := s[right:]; {
	case s[left] == '%':
		rise, err = Parser{Unit: slopeUnit}.Parse(s[:left])
	case perUnit(text) != 0:
		run = perUnit(text)
	default:
		run, runErr = Parse(text)
		if errors.Is(err, ErrUnit) && errors.Is(runErr, ErrUnit) {
			p := Parser{Unit: slopeUnit} // 7 in 12
			rise, err = p.Parse(s[:left])
			run, runErr = p.Parse(text)
		}
	}
	at := 0
	if err == nil || runErr != nil && !errors.Is(runErr, ErrUnit) {
		err, at = runErr, right
	}
	if err != nil {
		return Slope{}, err.(*ParseError).within("slope", s, at)
	}
	slope, err := NewSlope(rise, run)
	if err != nil {
		return fail(ErrRange, err.(*RangeError).Reason)
	}
	return slope, nil
}

// slopeUnit is the unit of bare numbers in a slope. Any unit would do; in this
// one, thirds are exact and every term that a Slope can have is in range.
const slopeUnit = 3 * Inch

// fraction returns the terms of a text that is only a fraction; den is zero for
// any other text.
func fraction(s string) (num, den Length) {
	var t text
	var x number
	if i, ok := load(&t, s); !ok || t.number(i, &x) != t.n || x.decimal || max(x.whole, x.num, x.den) > maxTerm || x.whole != 0 {
		return 0, 0
	}
	return Length(x.num), Length(x.den)
}

// splitSlope returns where the rise in s ends and the run begins, or -1. The
// last " in " is the preposition; the ones before it are inches.
func splitSlope(s string) (left, right int) {
	if t := strings.TrimRight(s, " "); strings.HasSuffix(t, "%") {
		return len(t) - 1, len(t)
	}
	lower := strings.ToLower(s)
	if len(lower) != len(s) {
		return -1, -1 // letters that no slope has
	}
	for _, sep := range [...]string{" per ", ":", " in "} {
		if i := strings.LastIndex(lower, sep); i >= 0 {
			return i, i + len(sep)
		}
	}
	return -1, -1
}

// perUnit returns the size of the unit if run is only its name, as in 1/4 in
// per foot, else zero.
func perUnit(run string) Length {
	name := strings.TrimSuffix(strings.ToLower(strings.TrimSpace(run)), ".")
	return Length(lengthWord([]byte(name)).size)
}

// Equal reports whether both are the same ratio, as == does. Libraries that compare values
// in tests call it.
func (s Slope) Equal(t Slope) bool { return s == t }

// terms returns the terms of s; run is above zero.
func (s Slope) terms() (rise, run int64) {
	if s == (Slope{}) {
		return 0, 1
	}
	return s.rise, s.run
}

// Rise returns the rise in a run, rounded to a tick by mode, and whether it is
// exact. A result outside the range of Length gives a *[RangeError].
func (s Slope) Rise(run Length, mode Rounding) (rise Length, exact bool, err error) {
	num, den := s.terms()
	return run.MulDiv(num, den, mode)
}

// Run returns the run over which the slope rises by rise, rounded to a tick by
// mode, and whether it is exact. A level slope, and a result outside the range
// of Length, give a *[RangeError].
func (s Slope) Run(rise Length, mode Rounding) (run Length, exact bool, err error) {
	num, den := s.terms()
	if num == 0 {
		return 0, false, &RangeError{Op: "Slope.Run", Value: rise.String(), Reason: "a level slope does not rise"}
	}
	return rise.MulDiv(den, num, mode)
}

// Angle returns the angle from level, to a thousandth of an arcsecond, so that
// it is the same on every processor.
func (s Slope) Angle() Angle {
	rise, run := s.terms()
	// At most 90 degrees, so that it is in range.
	a, _ := FromDegrees(math.Atan2(float64(rise), float64(run)) * (180 / math.Pi))
	return a.Round(Arcsecond/1000, RoundHalfEven)
}

// Float64 returns the ratio of rise to run as the nearest float64, for display.
func (s Slope) Float64() float64 {
	rise, run := s.terms() // both below 2^53, so that one division is the only rounding
	return float64(rise) / float64(run)
}

// String returns s in the form that [ParseSlope] reads back to the same slope:
// as the rise in 12 if that is a multiple of 1/64 (7-1/2 in 12), else as a
// ratio (1:50).
func (s Slope) String() string {
	if rise, exact, err := s.Rise(12*64, RoundDown); err == nil && exact && -maxTerm*64 <= rise && rise <= maxTerm*64 {
		mag, neg := magnitude(int64(rise))
		var b []byte
		if neg {
			b = append(b, '-')
		}
		return string(appendMixed(b, mag/64, mag%64, 64)) + " in 12"
	}
	text, _ := s.MarshalText()
	return string(text)
}

// AppendText appends the ratio to b: 7:12. It never fails.
func (s Slope) AppendText(b []byte) ([]byte, error) {
	rise, run := s.terms()
	return strconv.AppendInt(append(strconv.AppendInt(b, rise, 10), ':'), run, 10), nil
}

// MarshalText returns the ratio, 7:12. It never fails.
func (s Slope) MarshalText() ([]byte, error) {
	return s.AppendText(make([]byte, 0, 16))
}

// UnmarshalText reads what [ParseSlope] reads.
func (s *Slope) UnmarshalText(b []byte) error {
	v, err := ParseSlope(string(b))
	if err != nil {
		return err
	}
	*s = v
	return nil
}
