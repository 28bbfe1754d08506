package measure

import "flag"

// Parse reads a length as people write it. It accepts the spellings of American
// drawings, tapes and phones, and metric lengths with a unit:
//
//	7'-4 3/4"   7' 4-3/4"   7'4 3/4   7-4-3/4   7 ft 4 3/4 in   7 feet, 4¾ inches
//	88 3/4"     88-3/4in    88.75"    .75"      1½"   3⁄16″    6'   6'0"   0'-9"
//	7.375'      7 1/2 ft    2 yd 1 ft -3/8"     +1/16"   7’ 4”  7' 4''
//	2253 mm     225.3cm     2.253 m   80 µm     2 m 253 mm
//
// Case does not matter; spaces of any kind are spaces, and typographic primes,
// quotes, dashes, slashes, fractions and full-width digits mean the same as
// their plain forms. A sign applies to the whole length. Units go from large to
// small, and only the last number may have a fraction or decimals. Inches after
// feet may be 12 or more; they are added.
//
// A number needs its unit, except that one directly after feet is inches. Text
// that people read in more than one way is an error that lists the readings:
// 7-4, 6 1/2 3/4, 5/0, 113/16", 5 9/8", 7' -4", a comma, feet together with
// millimeters. Nothing is ever rounded: a value between two ticks, such as 1/7"
// or 7.3958', is an error that names both neighbors; use a [Parser] to round
// it.
//
// The error is a *[ParseError] that matches one of [ErrSyntax], [ErrUnit],
// [ErrAmbiguous], [ErrInexact] and [ErrRange]. Text longer than 64 bytes is not
// read.
func Parse(s string) (Length, error) {
	return Parser{}.Parse(s)
}

// MustParse is [Parse] for constant text; it panics on bad input.
func MustParse(s string) Length {
	l, err := Parse(s)
	if err != nil {
		panic(err)
	}
	return l
}

// A Parser reads lengths whose context supplies what the text omits. The zero
// value reads what [Parse] reads.
type Parser struct {
	// Unit is the unit of a number that has none, such as [Inch] for a column
	// headed "inches". If Unit is zero or less, such a number is an error. It
	// applies only to a length that is a single number.
	Unit Length

	// Graduation, if above zero, is the graduation to which every length is
	// rounded, in one step from the value as written. If it is zero or less,
	// nothing is rounded, and a value that is not a whole number of ticks is an
	// error. A Graduation of one [Tick] rounds only such values.
	Graduation Length

	// Rounding is how to round to Graduation.
	Rounding Rounding

	// DecimalComma reads a comma before a digit as the decimal mark, as most of the world
	// writes it: 2,5 m is two and a half meters. A point before a digit is then an error
	// that names the readings, as a comma is otherwise: 1.250 mm could be one and a
	// quarter or twelve hundred and fifty, and 1.250,5 mm is written 1250,5 mm. The
	// choices of such an error are also written with the comma.
	DecimalComma bool
}

// Parse reads a length as the function [Parse] does, with the unit and the
// rounding of p.
func (p Parser) Parse(s string) (Length, error) {
	if p.Graduation <= 0 {
		if l, ok := quick(s); ok {
			return l, nil
		}
	}
	var t text
	v, ok := read(&t, s, lengths, p)
	if !ok {
		return 0, t.err(lengths, s, p)
	}
	return Length(v), nil
}

// Flag returns l as the value of a flag, read by p: with a Unit of [Millimeter],
// -kerf 3.2 is 3.2 mm and -kerf 1/8in is 1/8 in. The value of l is the default; it
// is shown in Unit if that is a unit of [Style].
//
//	kerf := measure.Inch / 8
//	flag.Var(measure.Parser{Unit: measure.Inch}.Flag(&kerf), "kerf", "width of the saw cut, in inches")
//
// If a bare number should be an error, use flag.TextVar, which needs no Parser.
func (p Parser) Flag(l *Length) flag.Value { return &flagValue{p, l} }

// flagValue is a length that a flag sets.
type flagValue struct {
	p Parser
	l *Length
}

// String is called by package flag on the zero value, too.
func (f *flagValue) String() string {
	if f.l == nil {
		return ""
	}
	return f.l.Format(Style{Unit: f.p.Unit, DecimalComma: f.p.DecimalComma})
}

func (f *flagValue) Set(s string) error {
	if f.l == nil {
		return &FieldError{Field: "flag", Value: "nil", Want: "a length to set"}
	}
	l, err := f.p.Parse(s)
	if err != nil {
		return err
	}
	*f.l = l
	return nil
}

// The systems of units of length; units of two systems do not combine.
const imperial, metric = 1, 2

var (
	inches = unit{uint64(Inch), imperial, 1}
	feet   = unit{uint64(Foot), imperial, 2}
)

// lengthUnit reads the unit of length at i.
func (t *text) lengthUnit(i int) (unit, int) {
	switch c := t.b[i]; {
	case c == '\'':
		if t.b[i+1] == '\'' {
			return inches, i + 2
		}
		return feet, i + 1
	case c == '"':
		return inches, i + 1
	case !isLetter(c):
		return unit{}, noUnit
	}
	j := t.word(i)
	u := lengthWord(t.b[i:j])
	if u.size == 0 {
		return unit{}, unknownUnit
	}
	return u, t.abbreviation(j)
}

// lengthWord returns the unit of length with the name, or one of size zero if there is
// none.
func lengthWord(name []byte) unit {
	switch string(name) {
	case "in", "inch", "inches":
		return inches
	case "ft", "foot", "feet":
		return feet
	case "yd", "yds", "yard", "yards":
		return unit{uint64(Yard), imperial, 3}
	case "mm", "millimeter", "millimeters", "millimetre", "millimetres":
		return unit{uint64(Millimeter), metric, 2}
	case "cm", "centimeter", "centimeters", "centimetre", "centimetres":
		return unit{uint64(Centimeter), metric, 3}
	case "m", "meter", "meters", "metre", "metres":
		return unit{uint64(Meter), metric, 4}
	case "um", "micrometer", "micrometers", "micrometre", "micrometres", "micron", "microns":
		return unit{uint64(Micrometer), metric, 1}
	}
	return unit{}
}
