package measure

import (
	"math"
	"strconv"
)

// Angle is a signed plane angle, an exact count of microarcseconds
// (1/3,600,000,000 degree). The range is about ±2.5 billion degrees. Every
// second of arc, every 1e-8 degree and every third, sixth and ninth of a degree
// is a whole number of them.
//
// The zero value is no angle. Angles compare with ==, < and >. The operators
// +, - and * do not check for overflow; [Angle.Add], [Angle.Sub] and
// [Angle.Mul] do.
type Angle int64

// Angles to multiply by: 45*measure.Degree, 22*measure.Degree +
// 30*measure.Arcminute.
const (
	Arcsecond Angle = 1_000_000
	Arcminute Angle = 60 * Arcsecond
	Degree    Angle = 60 * Arcminute
)

// FromDegrees returns the angle nearest to x degrees, ties to the even
// microarcsecond. Use it after trigonometry, and round the result to the
// graduation of the saw with [Angle.Round]. NaN, an infinity and a value
// outside the range of Angle give a *[RangeError].
func FromDegrees(x float64) (Angle, error) {
	mag, neg, ok := scaleFloat(x, uint64(Degree))
	if a, fits := signed(mag, neg); ok && fits {
		return Angle(a), nil
	}
	return 0, &RangeError{Op: "FromDegrees", Value: formatFloat(x), Reason: notFinite(x, "an angle")}
}

// Degrees returns a in degrees as the nearest float64.
func (a Angle) Degrees() float64 { return float64(a) / float64(Degree) }

// Radians returns a in radians, for the functions of package math.
func (a Angle) Radians() float64 { return float64(a.Degrees()*math.Pi) / 180 }

const angleRange = "the angle is more than 2.5 billion degrees"

// Add returns a+c. A sum outside the range of Angle gives a *[RangeError].
func (a Angle) Add(c Angle) (Angle, error) {
	if s, ok := add(int64(a), int64(c)); ok {
		return Angle(s), nil
	}
	return 0, &RangeError{Op: "Angle.Add", Value: a.String() + ", " + c.String(), Reason: angleRange}
}

// Sub returns a-c. A difference outside the range of Angle gives a
// *[RangeError].
func (a Angle) Sub(c Angle) (Angle, error) {
	if d, ok := sub(int64(a), int64(c)); ok {
		return Angle(d), nil
	}
	return 0, &RangeError{Op: "Angle.Sub", Value: a.String() + ", " + c.String(), Reason: angleRange}
}

// Mul returns n times a. A product outside the range of Angle gives a
// *[RangeError].
func (a Angle) Mul(n int64) (Angle, error) {
	if p, _, ok := mulDiv(int64(a), n, 1, RoundDown); ok {
		return Angle(p), nil
	}
	return 0, &RangeError{Op: "Angle.Mul", Value: a.String() + ", " + strconv.FormatInt(n, 10), Reason: angleRange}
}

// MulDiv returns a*num/den, rounded by mode, and whether that is exact; see
// [Length.MulDiv]. 180 degrees by the number of sides is the miter of a regular
// polygon.
func (a Angle) MulDiv(num, den int64, mode Rounding) (q Angle, exact bool, err error) {
	v, exact, ok := mulDiv(int64(a), num, den, mode)
	if ok {
		return Angle(v), exact, nil
	}
	reason := angleRange
	if den == 0 {
		reason = "the divisor is zero"
	}
	return 0, false, &RangeError{Op: "Angle.MulDiv", Reason: reason,
		Value: a.String() + ", " + strconv.FormatInt(num, 10) + ", " + strconv.FormatInt(den, 10)}
}

// Round returns the multiple of graduation that mode chooses, by the rules of
// [Length.Round]: Degree/2 for a saw with half-degree marks, Degree/10 for a
// digital readout.
func (a Angle) Round(graduation Angle, mode Rounding) Angle {
	return Angle(roundTo(int64(a), int64(graduation), mode))
}

// ParseAngle reads an angle in decimal degrees, with or without the unit, in
// degrees and a fraction, or in degrees, minutes and seconds of arc:
//
//	22.5   22.5°   22.5deg   22 1/2 degrees   22½°   22°30'   22°30′15.5″   22 deg 30 min 15 sec
//
// It is exact: a value between two microarcseconds is an error that names
// both. The rules and errors are those of [Parse].
func ParseAngle(s string) (Angle, error) {
	var t text
	v, ok := read(&t, s, angles, Parser{})
	if !ok {
		return 0, t.err(angles, s, Parser{})
	}
	return Angle(v), nil
}

// String returns a in the form that [ParseAngle] reads back to the same value:
// in decimal degrees if they terminate (22.5°), else in degrees, minutes and
// seconds (22°30'15").
func (a Angle) String() string {
	var buf [48]byte
	return string(appendAngle(buf[:0], a, "°", "°", "'", `"`))
}

// AppendText appends a to b in the form of [Angle.MarshalText]. It never fails.
func (a Angle) AppendText(b []byte) ([]byte, error) {
	return appendAngle(b, a, "deg", "deg ", "min ", "sec"), nil
}

// MarshalText returns the value that String returns in plain letters, 22.5deg
// or 22deg 30min 15sec. It never fails.
func (a Angle) MarshalText() ([]byte, error) {
	return a.AppendText(make([]byte, 0, 24))
}

// UnmarshalText reads what [ParseAngle] reads.
func (a *Angle) UnmarshalText(b []byte) error {
	var t text
	v, ok := read(&t, b, angles, Parser{})
	if !ok {
		return t.err(angles, string(b), Parser{})
	}
	*a = Angle(v)
	return nil
}

// appendAngle appends the canonical form of a. degree is the mark of decimal
// degrees; deg, min and sec are those of degrees, minutes and seconds.
func appendAngle(b []byte, a Angle, degree, deg, min, sec string) []byte {
	mag, neg := magnitude(int64(a))
	if neg {
		b = append(b, '-')
	}
	// 1/3.6e9 degree is 9 * 2^10 * 5^8 in a degree: decimals terminate, after
	// ten places at most, exactly for the multiples of nine.
	if mag%9 == 0 {
		frac := mag % uint64(Degree) / 9 * 25 // of 10^10
		return append(appendDecimal(b, mag/uint64(Degree), frac, 10), degree...)
	}
	d := mag / uint64(Degree)
	m := mag % uint64(Degree) / uint64(Arcminute)
	s := mag % uint64(Arcminute)
	b = append(strconv.AppendUint(b, d, 10), deg...)
	b = append(strconv.AppendUint(b, m, 10), min...)
	b = appendDecimal(b, s/uint64(Arcsecond), s%uint64(Arcsecond), 6)
	return append(b, sec...)
}

// angleUnit reads the unit of angle at i.
func (t *text) angleUnit(i int) (unit, int) {
	const sexagesimal = 1
	switch c := t.b[i]; {
	case c == foldDegree:
		return unit{uint64(Degree), sexagesimal, 3}, i + 1
	case c == '\'':
		if t.b[i+1] == '\'' {
			return unit{uint64(Arcsecond), sexagesimal, 1}, i + 2
		}
		return unit{uint64(Arcminute), sexagesimal, 2}, i + 1
	case c == '"':
		return unit{uint64(Arcsecond), sexagesimal, 1}, i + 1
	case !isLetter(c):
		return unit{}, noUnit
	}
	j := t.word(i)
	var u unit
	switch string(t.b[i:j]) {
	case "deg", "degs", "degree", "degrees":
		u = unit{uint64(Degree), sexagesimal, 3}
	case "min", "arcmin", "minute", "minutes", "arcminute", "arcminutes":
		u = unit{uint64(Arcminute), sexagesimal, 2}
	case "sec", "arcsec", "second", "seconds", "arcsecond", "arcseconds":
		u = unit{uint64(Arcsecond), sexagesimal, 1}
	default:
		return unit{}, unknownUnit
	}
	return u, t.abbreviation(j)
}
