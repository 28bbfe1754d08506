package measure

import "flag"

// Parse reads a length as people write it. The spellings are those of American
// drawings, tapes and phones, and metric with a unit:
//
//	7'-4 3/4"   7' 4-3/4"   7'4 3/4   7-4-3/4   7 ft 4 3/4 in   7 feet, 4¾ inches
//	88 3/4"     88-3/4in    88.75"    .75"      1½"   3⁄16″    6'   6'0"   0'-9"
//	7.375'      7 1/2 ft    2 yd 1 ft -3/8"     +1/16"   7’ 4”  7' 4''
//	2253 mm     225.3cm     2.253 m   80 µm     2 m 253 mm
//
// Case does not matter; spaces of any kind are spaces, and typographic primes,
// quotes, dashes, slashes, fractions and full-width digits are what they look
// like. A sign applies to the whole length. Units go from large to small, and
// only the last number may have a fraction or decimals. Inches after feet may
// be 12 or more; they are added.
//
// A number needs its unit, except that one directly after feet is inches. What
// people read in more than one way is an error that says so: 7-4, 6 1/2 3/4,
// 5/0, 113/16", 5 9/8", 7' -4", a comma, feet together with millimeters.
// Nothing is ever rounded: a value between two ticks, such as 1/7" or 7.3958',
// is an error that names both neighbors; use a [Parser] to round it.
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

// A Parser reads lengths where the surroundings supply what the text leaves
// out. The zero value reads what [Parse] reads.
type Parser struct {
	// Unit is the unit of a number that has none, such as [Inch] for a column
	// headed "inches". With zero (or less), such a number is an error. Only a
	// length that is a single number gets it.
	Unit Length

	// Graduation, when above zero, is the graduation that every length is rounded
	// to, in one step from the value as written. With zero (or less), a value
	// that is not a whole number of ticks is an error, and no other is rounded.
	// A Graduation of one [Tick] rounds only those.
	Graduation Length

	// Rounding is how to round to Graduation.
	Rounding Rounding

	// DecimalComma reads a comma before a digit as the decimal mark, as most of the
	// world writes it: 2,5 m is two and a half meters. A point before a digit then is
	// what the comma is otherwise, an error that names the readings: 1.250 mm could be
	// one and a quarter or twelve hundred and fifty, and 1.250,5 mm is written 1250,5 mm.
	// The choices of such an error have the comma, too.
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
// -kerf 3.2 is 3.2 mm, and -kerf 1/8in is what it says. What l holds is the default,
// and is shown in the Unit where it is one of those of a [Style].
//
//	kerf := measure.Inch / 8
//	flag.Var(measure.Parser{Unit: measure.Inch}.Flag(&kerf), "kerf", "width of the saw cut, in inches")
//
// Where a bare number is to be an error, flag.TextVar does without a Parser.
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

// lengthWord returns the unit of length of the name, of size zero for none.
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
