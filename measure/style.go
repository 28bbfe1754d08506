package measure

import (
	"bytes"
	"unicode/utf8"
)

// A Style is a way of writing lengths for people. It always writes the rounded
// value: [Parse] reads its text back to l.Round(Graduation, Rounding).
// [ParseSpoken] reads Spoken text and text with a mark for inexact lengths, and
// a [Parser] with DecimalComma reads text with a decimal comma. Neither reads a mark
// after a decimal comma, as in 2254,2 mm+.
//
// The zero Style writes what [Length.String] writes. Every style falls back to that
// for a value that it cannot show, such as 100 mm in fractions of an inch; with a
// Graduation that suits the unit, it can show every value. A drawing's 7'-4 3/4" and
// 10'-0" are
//
//	Style{Hyphen: true, Zeros: true}
type Style struct {
	// Unit is the unit to write in: zero for feet and inches, or [Inch], [Foot],
	// [Millimeter], [Centimeter] or [Meter]. Any other value acts as zero.
	Unit Length `json:"unit,omitzero"`

	// Decimal writes inches with a decimal fraction, 88.75" or 7' 4.75", instead of a
	// common one. Feet alone and metric units always have a decimal fraction.
	Decimal bool `json:"decimal,omitempty"`

	// Spoken writes feet and inches, or inches, in words, as they are called out
	// from a tape: seven feet four and three quarters inches. It overrides Decimal
	// and the marks. Other units are not affected.
	Spoken bool `json:"spoken,omitempty"`

	// Graduation is the graduation to round to. It sets the largest denominator of
	// fractions and the number of decimal places: Inch/16 for a tape, Foot/100 for
	// decimal feet with two places, Millimeter for whole millimeters. If it is zero
	// or less, the value is written exactly, with as many places as necessary.
	Graduation Length `json:"graduation,omitzero"`

	Rounding Rounding `json:"rounding,omitzero"` // how to round to Graduation

	// Words marks feet and inches with ft and in, 7 ft 4-3/4 in, instead of '
	// and ". There is always a space between words.
	Words bool `json:"words,omitempty"`

	// Typographic writes primes, 7′ 4¾″, and single-character fractions if they
	// exist. It does not change the marks of Words. The zero value is plain
	// ASCII.
	Typographic bool `json:"typographic,omitempty"`

	// Hyphen puts the hyphen between feet and inches, 7'-4 3/4", as on drawings. Without
	// it there is a space, and the hyphen is before the fraction: 7' 4-3/4".
	Hyphen bool `json:"hyphen,omitempty"`

	// Tight puts nothing between feet and inches, 7'4-3/4", for narrow columns.
	// Hyphen overrides it.
	Tight bool `json:"tight,omitempty"`

	// DecimalComma writes decimals with a comma instead of a point: 2254,25 mm.
	DecimalComma bool `json:"decimal_comma,omitempty"`

	// Zeros writes zero inches that are omitted otherwise: 10' 0" for 10', 10'
	// 0-3/4" for 10' 3/4". A length below one foot is written in inches alone,
	// never with zero feet.
	Zeros bool `json:"zeros,omitempty"`

	// MarkInexact adds + to a length that is over the mark written, and - to one
	// that is under it: strong and light, as tape readings are noted on cut lists.
	// Spoken text has these words instead. Parse rejects such text, since it has
	// no exact value; [ParseSpoken] reads it.
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

// decimalOnly reports whether the unit has no common fractions.
func (s *Style) decimalOnly() bool {
	switch s.Unit {
	case Foot, Millimeter, Centimeter, Meter:
		return true
	}
	return false
}

// append appends l, which is already rounded; it reports false if the style
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

// appendFraction appends whole inches and 128ths; zero selects whether a zero
// is written before the fraction.
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

// pointToComma replaces the decimal point with a comma. Digits have at most one
// point, and words have none.
func pointToComma(b []byte) {
	if i := bytes.IndexByte(b, '.'); i >= 0 {
		b[i] = ','
	}
}
