package measure

import "unicode/utf8"

// A Style is a way of writing lengths for people. It never writes a value other
// than the rounded one: what it writes reads back, with [Parse], to
// l.Round(Grain, Rounding). Text in the form Spoken, and text with a Residue,
// reads back with [ParseSpoken].
//
// The zero Style writes what [Length.String] writes. So does every style for a
// value that its form cannot show, such as 100 mm in fractions of an inch; a
// Grain that suits the form excludes that. A drawing's 7'-4 3/4" and 10'-0" are
//
//	Style{Separator: HyphenBetween, Zeros: true}
type Style struct {
	Form Form // in which units

	// Graduation is the graduation to round to, and with it the largest denominator
	// of the fractions and the number of places of the decimal forms: Inch/16
	// for a tape, Foot/100 for decimal feet with two places, Millimeter for
	// whole millimeters. With zero (or less) the value is written exactly, with
	// as many places as it takes.
	Graduation Length

	Rounding  Rounding  // how to round to Grain
	Marks     Marks     // how feet and inches are marked
	Separator Separator // what stands between feet and inches

	// Zeros keeps the zero inches that feet and inches can do without: 10' 0"
	// for 10', 10' 0-3/4" for 10' 3/4". Below one foot there are only inches,
	// and feet are never zero.
	Zeros bool

	// MarkInexact adds + after a length that is over the mark that is written, and
	// - after one that is under it: strong and light, as tape readings are
	// noted on cut lists, and in these words in the form Spoken. Parse refuses
	// such text, since it has no exact value; [ParseSpoken] reads it.
	MarkInexact bool
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
	Spoken                    // seven feet four and three quarters inches
)

// Marks is the choice of marks for feet and inches of a [Style]. A value that is
// not one of the constants acts as PlainMarks.
type Marks uint8

const (
	PlainMarks Marks = iota // 7' 4-3/4", plain ASCII
	WordMarks               // 7 ft 4-3/4 in
	Primes                  // 7′ 4¾″, with typographic primes and fractions
)

// Separator is the choice of what a [Style] puts between feet and inches, and
// between a whole number and its fraction: one is a hyphen where the other is
// not. Between words there is a space whatever the choice. A value that is not
// one of the constants acts as SpaceBetween.
type Separator uint8

const (
	SpaceBetween   Separator = iota // 7' 4-3/4"
	HyphenBetween                   // 7'-4 3/4", as on drawings
	NothingBetween                  // 7'4-3/4", where columns are narrow
)

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
	switch {
	case !s.MarkInexact || l == r:
		return b
	case s.Form == Spoken && l > r:
		return append(b, " strong"...)
	case s.Form == Spoken:
		return append(b, " light"...)
	case l > r:
		return append(b, '+')
	}
	return append(b, '-')
}

// append appends l, which is already rounded; it reports false when the form
// cannot show l.
func (s *Style) append(b []byte, l Length) ([]byte, bool) {
	mag, neg := magnitude(int64(l))
	if s.Form == Spoken {
		return appendSpoken(b, mag, neg, s.Zeros)
	}
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
			b = appendMark(appendUint(b, ft), feet)
			if n -= ft * (12 * 128); n == 0 && !s.Zeros {
				return b, true
			}
			switch {
			case s.Marks == WordMarks || s.Separator != HyphenBetween && s.Separator != NothingBetween:
				b = append(b, ' ')
			case s.Separator == HyphenBetween:
				b = append(b, '-')
			}
		}
	}
	return appendMark(s.appendFraction(b, n/128, n%128, s.Zeros && afterFeet), inch), true
}

// appendFraction appends whole inches and 128ths; zero says whether a zero
// before the fraction is written.
func (s *Style) appendFraction(b []byte, whole, frac uint64, zero bool) []byte {
	if s.Marks == Primes {
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
	if s.Marks == Primes || s.Separator == HyphenBetween {
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
