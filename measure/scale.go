package measure

import (
	"strconv"
	"strings"
)

// Scale is the scale of a drawing, an exact ratio of the length on paper to the
// length that it stands for. It is comparable; equal ratios are equal. The zero
// value is full size.
//
// Prefer a written dimension to a scaled one, and check a printed drawing against
// its graphic scale before scaling lengths from it.
type Scale struct {
	drawn, actual int64 // in lowest terms; both 0 at full size
}

// NewScale returns the scale at which drawn on paper stands for actual, such as
// Inch/4 for Foot. A length of zero or less gives a *[RangeError], and so does
// a ratio whose terms, in lowest terms, are above 10^12.
func NewScale(drawn, actual Length) (Scale, error) {
	if drawn <= 0 || actual <= 0 {
		return Scale{}, &RangeError{Op: "NewScale", Value: drawn.String() + ", " + actual.String(), Reason: "both lengths must be above zero"}
	}
	g := int64(gcd(uint64(drawn), uint64(actual)))
	s := Scale{int64(drawn) / g, int64(actual) / g}
	if max(s.drawn, s.actual) > maxTerm {
		return Scale{}, &RangeError{Op: "NewScale", Value: drawn.String() + ", " + actual.String(), Reason: "the terms of the ratio must not be above 10^12"}
	}
	if s.drawn == s.actual {
		return Scale{}, nil
	}
	return s, nil
}

const maxTerm = 1_000_000_000_000 // in inches this is a Length, so that every ratio can be read

// ParseScale reads a scale: an equation of two lengths, paper first, as on
// American drawings, or a ratio of two numbers:
//
//	1/4" = 1'-0"   1 1/2 in = 1 ft   1" = 20'   1:48   1:19.2
//
// The error is a *[ParseError].
func ParseScale(s string) (Scale, error) {
	fail := func(err error, reason string) (Scale, error) {
		return Scale{}, &ParseError{Kind: "scale", Input: s, Part: s, Err: err, Reason: reason}
	}
	if len(s) > 2*maxText {
		return fail(ErrSyntax, "longer than "+strconv.Itoa(2*maxText)+" bytes")
	}
	var p Parser
	i := strings.IndexByte(s, '=')
	if i < 0 {
		p.Unit = Inch // the numbers of a ratio have no unit; any one will do
		i = strings.IndexByte(s, ':')
	}
	if i < 0 {
		return fail(ErrSyntax, `write a scale such as 1/4" = 1'-0" or 1:48`)
	}
	var side [2]Length
	for n, at := range [2]int{0, i + 1} {
		text := s[at:]
		if n == 0 {
			text = s[:i]
		}
		l, err := p.Parse(text)
		if err != nil {
			return Scale{}, err.(*ParseError).within("scale", s, at)
		}
		side[n] = l
	}
	scale, err := NewScale(side[0], side[1])
	if err != nil {
		return fail(ErrRange, err.(*RangeError).Reason)
	}
	return scale, nil
}

// ratio returns the terms of s, which are above zero.
func (s Scale) ratio() (drawn, actual int64) {
	if s == (Scale{}) {
		return 1, 1
	}
	return s.drawn, s.actual
}

// Drawn returns the length on paper of an actual length, rounded to a tick by
// mode, and whether it is exact. A result outside the range of Length gives a
// *[RangeError].
func (s Scale) Drawn(actual Length, mode Rounding) (drawn Length, exact bool, err error) {
	d, a := s.ratio()
	return actual.MulDiv(d, a, mode)
}

// Actual returns the length that a length on paper stands for, rounded to a
// tick by mode, and whether it is exact. A result outside the range of Length
// gives a *[RangeError].
func (s Scale) Actual(drawn Length, mode Rounding) (actual Length, exact bool, err error) {
	d, a := s.ratio()
	return drawn.MulDiv(a, d, mode)
}

// Float64 returns the ratio as the nearest float64, 1/48 for 1:48, for display.
func (s Scale) Float64() float64 {
	d, a := s.ratio() // both below 2^53, so that one division is the only rounding
	return float64(d) / float64(a)
}

// String returns s in the form that [ParseScale] reads back to the same scale:
// in inches to the foot if that is a multiple of 1/64 inch up to half size
// (1/4" = 1'-0"), else as a ratio (1:50).
func (s Scale) String() string {
	d, a := s.ratio()
	if perFoot, exact, err := s.Drawn(Foot, RoundDown); err == nil && exact && perFoot > 0 && perFoot%(Inch/64) == 0 && perFoot <= Foot/2 {
		return perFoot.String() + ` = 1'-0"`
	}
	return strconv.FormatInt(d, 10) + ":" + strconv.FormatInt(a, 10)
}

// AppendText appends the ratio to b: 1:48. It never fails.
func (s Scale) AppendText(b []byte) ([]byte, error) {
	d, a := s.ratio()
	return strconv.AppendInt(append(strconv.AppendInt(b, d, 10), ':'), a, 10), nil
}

// MarshalText returns the ratio, 1:48. It never fails.
func (s Scale) MarshalText() ([]byte, error) {
	return s.AppendText(make([]byte, 0, 16))
}

// UnmarshalText reads what [ParseScale] reads.
func (s *Scale) UnmarshalText(b []byte) error {
	v, err := ParseScale(string(b))
	if err != nil {
		return err
	}
	*s = v
	return nil
}
