package measure

import (
	"bytes"
	"unicode/utf8"
)

// A Style is a way of writing lengths for people. It never writes a value other
// than the rounded one: what it writes reads back, with [Parse], to
// l.Round(Graduation, Rounding). Text that is Spoken, and text with a mark for
// what is inexact, reads back with [ParseSpoken]; text with a DecimalComma reads
// back with a [Parser] that has one, too.
//
// The zero Style writes what [Length.String] writes. So does every style for a
// value that it cannot show, such as 100 mm in fractions of an inch; a
// Graduation that suits the unit excludes that. A drawing's 7'-4 3/4" and 10'-0" are
//
//	Style{Hyphen: true, Zeros: true}
type Style struct {
	// Unit is the unit to write in: zero for feet and inches, or [Inch], [Foot],
	// [Millimeter], [Centimeter] or [Meter]. Any other value acts as zero.
	Unit Length `json:"unit,omitzero"`

	// Decimal writes inches with a decimal fraction, 88.75" or 7' 4.75", in place
	// of a common one. Feet by themselves and metric units always have a decimal one.
	Decimal bool `json:"decimal,omitempty"`

	// Spoken writes feet and inches, or inches, in words, as they are called out
	// from a tape: seven feet four and three quarters inches. With it, Decimal and
	// the marks do not count. Other units are written as without it.
	Spoken bool `json:"spoken,omitempty"`

	// Graduation is the graduation to round to, and with it the largest denominator
	// of the fractions and the number of places of decimals: Inch/16
	// for a tape, Foot/100 for decimal feet with two places, Millimeter for
	// whole millimeters. With zero (or less) the value is written exactly, with
	// as many places as it takes.
	Graduation Length `json:"graduation,omitzero"`

	Rounding Rounding `json:"rounding,omitzero"` // how to round to Graduation

	// Words marks feet and inches with ft and in, 7 ft 4-3/4 in, in place of
	// ' and ". Between words there is always a space.
	Words bool `json:"words,omitempty"`

	// Typographic writes primes, 7′ 4¾″, and fractions in one character where
	// there is one. The marks of Words stay what they are. The zero value is
	// plain ASCII.
	Typographic bool `json:"typographic,omitempty"`

	// Hyphen puts the hyphen between feet and inches, 7'-4 3/4", as on drawings. Without
	// it there is a space, and the hyphen is before the fraction: 7' 4-3/4".
	Hyphen bool `json:"hyphen,omitempty"`

	// Tight puts nothing between feet and inches, 7'4-3/4", where columns are
	// narrow. With Hyphen it does not count.
	Tight bool `json:"tight,omitempty"`

	// DecimalComma writes a comma in decimals where others have a point: 2254,25 mm.
	DecimalComma bool `json:"decimal_comma,omitempty"`

	// Zeros keeps the zero inches that feet and inches can do without: 10' 0"
	// for 10', 10' 0-3/4" for 10' 3/4". Below one foot there are only inches,
	// and feet are never zero.
	Zeros bool `json:"zeros,omitempty"`

	// MarkInexact adds + after a length that is over the mark that is written, and
	// - after one that is under it: strong and light, as tape readings are
	// noted on cut lists, and in these words where it is Spoken. Parse refuses
	// such text, since it has no exact value; [ParseSpoken] reads it.
	MarkInexact bool `json:"mark_inexact,omitempty"`
}

// Format returns l written in the style.
func (l Length) Format(s Style) string {
	var buf [64]byte
	return string(l.AppendFormat(buf[:0], s))
}

// AppendFormat appends l written in the style to b.
func (l Length) AppendFormat(b []byte, s Style) []byte {
	r := l.Round(s.Graduation, s.Rounding)
	start := len(b)
	b, ok := s.append(b, r)
	if !ok {
		b = appendLength(b[:start], r, "' ", "'", `"`)
	}
	if s.DecimalComma {
		pointToComma(b[start:])
	}
	switch {
	case !s.MarkInexact || l == r:
		return b
	case s.inWords() && l > r:
		return append(b, " strong"...)
	case s.inWords():
		return append(b, " light"...)
	case l > r:
		return append(b, '+')
	}
	return append(b, '-')
}

// inWords reports whether the style calls lengths out in words.
func (s *Style) inWords() bool {
	return s.Spoken && (s.Unit == 0 || !s.decimalOnly())
}

// decimalOnly reports whether the unit is one that has no common fractions.
func (s *Style) decimalOnly() bool {
	switch s.Unit {
	case Foot, Millimeter, Centimeter, Meter:
		return true
	}
	return false
}

// append appends l, which is already rounded; it reports false when the style
// cannot show l.
func (s *Style) append(b []byte, l Length) ([]byte, bool) {
	mag, neg := magnitude(int64(l))
	if s.inWords() {
		return appendSpoken(b, mag, neg, s.Zeros, s.Unit != Inch)
	}
	if neg {
		b = append(b, '-')
	}
	feet, inch := "'", `"`
	switch {
	case s.Words:
		feet, inch = " ft", " in"
	case s.Typographic:
		feet, inch = "′", "″"
	}
	if s.Unit != 0 {
		switch s.Unit {
		case Foot:
			return s.appendDecimal(b, mag, Foot, feet)
		case Millimeter:
			return s.appendDecimal(b, mag, Millimeter, " mm")
		case Centimeter:
			return s.appendDecimal(b, mag, Centimeter, " cm")
		case Meter:
			return s.appendDecimal(b, mag, Meter, " m")
		}
	}

	const grid = uint64(Inch) / 128
	n := mag / grid
	if n*grid != mag && !s.Decimal {
		return b, false
	}
	afterFeet := false
	if s.Unit != Inch {
		if ft := n / (12 * 128); ft > 0 {
			afterFeet = true
			b = appendMark(appendUint(b, ft), feet)
			n -= ft * (12 * 128)
			if mag -= ft * uint64(Foot); mag == 0 && !s.Zeros {
				return b, true
			}
			switch {
			case s.Words || !s.Hyphen && !s.Tight:
				b = append(b, ' ')
			case s.Hyphen:
				b = append(b, '-')
			}
		}
	}
	if s.Decimal {
		return s.appendDecimal(b, mag, Inch, inch)
	}
	return appendMark(s.appendFraction(b, n/128, n%128, s.Zeros && afterFeet), inch), true
}

// appendFraction appends whole inches and 128ths; zero says whether a zero
// before the fraction is written.
func (s *Style) appendFraction(b []byte, whole, frac uint64, zero bool) []byte {
	if s.Typographic {
		for _, v := range vulgar {
			if frac != 0 && 128%uint64(v.den) == 0 && frac == 128/uint64(v.den)*uint64(v.num) {
				if whole != 0 || zero {
					b = appendUint(b, whole)
				}
				return utf8.AppendRune(b, v.r)
			}
		}
	}
	if frac == 0 || whole == 0 && !zero {
		return appendMixed(b, whole, frac, 128)
	}
	b = appendUint(b, whole)
	if s.Typographic || s.Hyphen {
		b = append(b, ' ')
	} else {
		b = append(b, '-')
	}
	return appendMixed(b, 0, frac, 128)
}

// appendDecimal appends mag in decimal units with a suffix.
func (s *Style) appendDecimal(b []byte, mag uint64, size Length, suffix string) ([]byte, bool) {
	const most = 10 // places that a tick takes in meters, the most of all units
	unit := uint64(size)
	rest := number{num: mag % unit, den: unit}
	frac, rem, _, _ := rest.times(pow10[most])
	if rem != 0 {
		return b, false
	}
	whole := mag / unit
	if s.Graduation > 0 {
		for places := range most {
			if uint64(s.Graduation)%unit*pow10[places]%unit == 0 {
				b = appendFixed(b, whole, frac/pow10[most-places], places)
				return append(b, suffix...), true
			}
		}
	}
	return append(appendDecimal(b, whole, frac, most), suffix...), true
}

// pointToComma puts a comma in the place of the decimal point, of which there is at
// most one in what is written in digits, and none in words.
func pointToComma(b []byte) {
	if i := bytes.IndexByte(b, '.'); i >= 0 {
		b[i] = ','
	}
}
