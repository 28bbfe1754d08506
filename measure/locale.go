package measure

import (
	"errors"
	"strings"

	"example.com/longpoint/internal/suited"
)

// A Locale describes how quantities and money are written in a country: one setting
// for all packages. It changes texts, and the unit of length to which a price refers;
// it changes no other number. The zero value writes feet and inches to the nearest
// 1/16 in, US units and a decimal point.
//
// Money has no symbol in the zero value: nothing in a list of prices says whether they
// are in US, Canadian or other dollars, and a document must not say so by itself. For
// dollars write
//
//	measure.Locale{Currency: measure.Currency{Symbol: "$"}}
//
// Text for programs, such as that of MarshalText, is the same in every locale.
type Locale struct {
	Metric       bool `json:"metric,omitempty"`        // meters, liters, kilograms and °C
	DecimalComma bool `json:"decimal_comma,omitempty"` // 2,5 m; digits of money are grouped with points

	// Length is how lengths are written. The zero Style means feet and inches
	// to the nearest 1/16 in, or with Metric for whole millimeters. With Metric, a
	// Unit that is not metric acts as Millimeter, and DecimalComma above applies to
	// lengths, too.
	Length Style `json:"length,omitzero"`

	Currency Currency `json:"currency,omitzero"` // of all amounts of money
}

// Validate returns a [*FieldError] for each invalid field of the currency, joined if
// there are two.
func (c Locale) Validate() error { return errors.Join(c.Currency.faults()...) }

// Parser returns a parser for lengths as they are written in the country: with a
// decimal comma, or without. Numbers need their unit; set Unit if a form supplies it.
func (c Locale) Parser() Parser { return Parser{DecimalComma: c.DecimalComma} }

// LengthStyle returns the style of [Locale.FormatLength], which callers may adapt, such
// as by setting MarkInexact.
func (c Locale) LengthStyle() Style {
	s := c.Length
	s.DecimalComma = s.DecimalComma || c.DecimalComma
	switch {
	case c.Metric && c.Length == Style{}:
		s.Unit, s.Graduation = Millimeter, Millimeter
	case c.Metric && s.Unit != Centimeter && s.Unit != Meter:
		s.Unit = Millimeter
	case c.Length == Style{}:
		s.Graduation = Inch / 16
	}
	return s
}

// FormatLength returns a length in the style Length.
func (c Locale) FormatLength(l Length) string { return l.Format(c.LengthStyle()) }

// About returns a length for a text that people read, such as a finding: exactly if a
// tape or a rule shows it, else rounded with "about" before it. Without Metric and with
// a zero Length it is [Length.About], including like. With Metric, multiples of 0.1 mm
// are exact; a finer length is rounded to the style's graduation, or to 0.1 mm if that
// changes it by more than a hundredth.
func (c Locale) About(l Length, like ...Length) string {
	s := c.LengthStyle()
	switch {
	case !c.Metric && c.Length == Style{}:
		return c.mark(l.About(like...))
	case s.Graduation <= 0 || l%s.Graduation == 0:
		return l.Format(s)
	case c.Metric && l%(Millimeter/10) == 0:
		s.Graduation = 0
		return l.Format(s)
	case c.Metric && -100*s.Graduation < l && l < 100*s.Graduation:
		s.Graduation = min(s.Graduation, Millimeter/10)
	}
	return l.about(s)
}

// FormatArea returns an area: in square feet or inches, or with Metric in m² or cm². Like
// a volume or a weight, it is written exactly if it has at most three significant digits,
// else rounded to hundredths of a unit that suits its size, half to even.
func (c Locale) FormatArea(a Area) string { return c.suited(int64(a), &areaUnits) }

// FormatVolume returns a volume: in gallons, quarts, fluid ounces or cubic inches, or with
// Metric in liters or milliliters, rounded as by [Locale.FormatArea].
func (c Locale) FormatVolume(v Volume) string { return c.suited(int64(v), &volumeUnits) }

// FormatWeight returns a weight: in pounds or ounces, or with Metric in kilograms or grams,
// rounded as by [Locale.FormatArea].
func (c Locale) FormatWeight(w Weight) string { return c.suited(int64(w), &weightUnits) }

// FormatTemperature returns a temperature in °F, or with Metric in °C to the nearest
// tenth. It is not for differences of temperatures, whose zero is the same in both.
func (c Locale) FormatTemperature(t Temperature) string {
	if !c.Metric {
		return c.mark(t.String())
	}
	d := max(t, -1<<63+freezing) - freezing
	b, mag := make([]byte, 0, 24), max(d, -d)
	if d.round(DegreeC/10) < 0 {
		b = append(b, '-')
	}
	return c.mark(string(suited.AppendFixed(b, int64(mag), int64(DegreeC), 1)) + " °C")
}

func (t Temperature) round(step Temperature) Temperature {
	return Temperature(roundTo(int64(t), int64(step), RoundHalfEven))
}

// FormatAngle returns what [Angle.String] does, with the decimal mark.
func (c Locale) FormatAngle(a Angle) string { return c.mark(a.String()) }

// FormatRatio returns what [Ratio.String] does, with the decimal mark.
func (c Locale) FormatRatio(r Ratio) string { return c.mark(r.String()) }

// FormatMoney returns n minor units, such as cents, as an amount of the Currency.
func (c Locale) FormatMoney(n int64) string { return c.Currency.format(n, c.DecimalComma) }

// mark puts the decimal mark into a text with at most one number.
func (c Locale) mark(s string) string {
	if c.DecimalComma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// shownIn holds the units in which a quantity is written: US, with values that are
// exact in a metric unit, or metric. small is the index of the US unit for values
// smaller than all units.
type shownIn struct {
	us, metric []suited.Unit
	small      int
}

var (
	areaUnits = shownIn{
		[]suited.Unit{{Name: "sq ft", Size: int64(SquareFoot)}, {Name: "sq in", Size: int64(SquareInch)}, {Name: "sq m", Size: int64(SquareMeter), Exact: true}, {Name: "sq mm", Size: int64(SquareMillimeter), Exact: true}},
		[]suited.Unit{{Name: "m²", Size: int64(SquareMeter), Least: int64(SquareMeter / 10)}, {Name: "cm²", Size: int64(100 * SquareMillimeter)}}, 1}
	volumeUnits = shownIn{
		[]suited.Unit{{Name: "gal", Size: int64(Gallon)}, {Name: "qt", Size: int64(Quart), Exact: true}, {Name: "fl oz", Size: int64(FluidOunce)}, {Name: "cu in", Size: int64(CubicInch)}, {Name: "L", Size: int64(Liter), Exact: true}, {Name: "mL", Size: int64(Milliliter), Exact: true}},
		[]suited.Unit{{Name: "L", Size: int64(Liter)}, {Name: "mL", Size: int64(Milliliter)}}, 3}
	weightUnits = shownIn{
		[]suited.Unit{{Name: "lb", Size: int64(Pound)}, {Name: "oz", Size: int64(Ounce)}, {Name: "kg", Size: int64(Kilogram), Exact: true}, {Name: "g", Size: int64(Gram), Exact: true}},
		[]suited.Unit{{Name: "kg", Size: int64(Kilogram)}, {Name: "g", Size: int64(Gram)}}, 1}
)

func (c Locale) suited(v int64, in *shownIn) string {
	units, small := in.us, in.small
	if c.Metric {
		units, small = in.metric, 1
	}
	return c.mark(string(suited.Append(make([]byte, 0, 32), v, units, small)))
}
