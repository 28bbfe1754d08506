package measure

import (
	"strconv"
	"unicode/utf8"
)

// A Style is a way of writing lengths for people. It never writes a value other
// than the rounded one: what it writes reads back, with [Parse], to
// l.Round(Grain, Rounding), unless Residue adds its sign.
//
// The zero Style writes what [Length.String] writes. So does every style for a
// value that its form cannot show, such as 100 mm in fractions of an inch; a
// Grain that suits the form excludes that.
type Style struct {
	Form Form // in which units

	// Grain is the graduation to round to, and with it the number of decimal
	// places of the decimal forms: Inch/16 for a tape, Foot/100 for decimal
	// feet with two places, Millimeter for whole millimeters. With zero (or
	// less) the value is written exactly, with as many places as it takes.
	Grain Length

	Rounding Rounding // how to round to Grain
	Marks    Marks    // how feet and inches are marked

	// Drawing writes feet and inches as drawings do: a hyphen after the feet, a
	// space before the fraction, and both feet and inches from one foot up,
	// 7'-4 3/4" and 10'-0".
	Drawing bool

	// Residue adds + after a length that is over the mark that is written, and
	// - after one that is under it: strong and light, as tape readings are
	// noted on cut lists. Parse refuses such text, since it has no exact value.
	Residue bool
}

// Form is the choice of units of a [Style]. A value that is not one of the
// constants acts as FeetInches.
type Form uint8

const (
	FeetInches    Form = iota // 7' 4-3/4"
	Inches                    // 88-3/4"
	DecimalInches             // 88.75"
	DecimalFeet               // 7.396'
	Millimeters               // 2254.25 mm
	Centimeters               // 225.425 cm
	Meters                    // 2.25425 m
)

// Marks is the choice of marks for feet and inches of a [Style]. A value that is
// not one of the constants acts as PlainMarks.
type Marks uint8

const (
	PlainMarks Marks = iota // 7' 4-3/4", plain ASCII
	WordMarks               // 7 ft 4-3/4 in
	Primes                  // 7′ 4¾″, with typographic primes and fractions
)

// Format returns l written in the style.
func (l Length) Format(s Style) string {
	var buf [64]byte
	return string(l.AppendFormat(buf[:0], s))
}

// AppendFormat appends l written in the style to b.
func (l Length) AppendFormat(b []byte, s Style) []byte {
	r := l.Round(s.Grain, s.Rounding)
	start := len(b)
	b, ok := s.append(b, r)
	if !ok {
		b = appendLength(b[:start], r, "' ", "'", `"`)
	}
	if s.Residue && l != r {
		if l > r {
			return append(b, '+')
		}
		return append(b, '-')
	}
	return b
}

// append appends l, which is already rounded; it reports false when the form
// cannot show l.
func (s Style) append(b []byte, l Length) ([]byte, bool) {
	mag, neg := magnitude(int64(l))
	if neg {
		b = append(b, '-')
	}
	feet, inch := "'", `"`
	switch s.Marks {
	case WordMarks:
		feet, inch = " ft", " in"
	case Primes:
		feet, inch = "′", "″"
	}
	switch s.Form {
	case DecimalInches:
		return s.appendDecimal(b, mag, Inch, inch)
	case DecimalFeet:
		return s.appendDecimal(b, mag, Foot, feet)
	case Millimeters:
		return s.appendDecimal(b, mag, Millimeter, " mm")
	case Centimeters:
		return s.appendDecimal(b, mag, Centimeter, " cm")
	case Meters:
		return s.appendDecimal(b, mag, Meter, " m")
	}

	const grid = uint64(Inch) / 128
	n := mag / grid
	if n*grid != mag {
		return b, false
	}
	afterFeet := false
	if s.Form != Inches {
		if ft := n / (12 * 128); ft > 0 {
			afterFeet = true
			b = append(strconv.AppendUint(b, ft, 10), feet...)
			if n -= ft * (12 * 128); n == 0 && !s.Drawing {
				return b, true
			}
			if s.Drawing && s.Marks != WordMarks {
				b = append(b, '-')
			} else {
				b = append(b, ' ')
			}
		}
	}
	return append(s.appendFraction(b, n/128, n%128, s.Drawing && afterFeet), inch...), true
}

// appendFraction appends whole inches and 128ths; zero says whether a zero
// before the fraction is written.
func (s Style) appendFraction(b []byte, whole, frac uint64, zero bool) []byte {
	if s.Marks == Primes {
		for _, v := range vulgar {
			if frac != 0 && 128%uint64(v.den) == 0 && frac == 128/uint64(v.den)*uint64(v.num) {
				if whole != 0 || zero {
					b = strconv.AppendUint(b, whole, 10)
				}
				return utf8.AppendRune(b, v.r)
			}
		}
	}
	if whole == 0 && !zero || frac == 0 || s.Marks != Primes && !s.Drawing {
		return appendMixed(b, whole, frac, 128)
	}
	b = append(strconv.AppendUint(b, whole, 10), ' ')
	return appendMixed(b, 0, frac, 128)
}

// appendDecimal appends mag in decimal units with a suffix.
func (s Style) appendDecimal(b []byte, mag uint64, size Length, suffix string) ([]byte, bool) {
	const most = 10 // places that a tick takes in meters, the most of all units
	unit := uint64(size)
	rest := number{num: mag % unit, den: unit}
	frac, rem, _, _ := rest.times(pow10[most])
	if rem != 0 {
		return b, false
	}
	whole := mag / unit
	if s.Grain > 0 {
		for places := range most {
			if uint64(s.Grain)%unit*pow10[places]%unit == 0 {
				b = appendFixed(b, whole, frac/pow10[most-places], places)
				return append(b, suffix...), true
			}
		}
	}
	return append(appendDecimal(b, whole, frac, most), suffix...), true
}
