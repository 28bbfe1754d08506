package cutsheet

import (
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Options says what a sheet is headed with and how it is written. Nil and the
// zero value are what most people want. Title, Money and Profile belong to the
// job and are part of its JSON; the others belong to the reader and are not.
type Options struct {
	// Title heads the sheet, in UTF-8; empty stands for "Cut sheet".
	Title string

	// Money says what the prices of the sticks count.
	Money Money

	// Profile is the molding that the pieces are cut from. With it the saw
	// settings are those of its use, which matters for crown. Nil stands for
	// trim with a flat back, such as base and casing. Of the profile only Name,
	// Use, Thickness, Width and Spring count here.
	Profile *stock.Profile

	// Style is how lengths are written. Nil stands for feet and inches to the
	// nearest 1/16 in, ties to the even one. Whatever it says, a length that is
	// not exactly what is written is marked with + where it is over and with -
	// where it is under.
	Style *measure.Style

	// Keep is the shortest offcut that the sheet asks to keep; what is shorter it calls
	// waste. Zero stands for the shortest that Rules.Worth gives a value, and without
	// such for 12 in or, where Style is metric, 300 mm: common practice, no source.
	Keep measure.Length

	// Graduation is the mark of the saw's scale that settings are rounded to,
	// half to even; zero stands for a tenth of a degree.
	Graduation measure.Angle

	// Unicode lets Text use line drawing characters and show labels as they are.
	// Without it Text is ASCII, and other characters are spelled out, ü as \u00fc.
	Unicode bool

	// Color lets Text make headings bold and offcuts faint with the escape
	// sequences of ECMA-48. It carries no meaning, and the text is the same.
	Color bool
}

// Money is how a number of minor units is written as an amount. The zero value
// writes 1234567 as 12,345.67.
type Money struct {
	Symbol string `json:"symbol,omitempty"` // such as $; may be empty, in UTF-8
	After  bool   `json:"after,omitempty"`  // the symbol stands behind the amount, after a space

	// Minor is how many minor units make a major unit: a power of ten up to
	// 1,000,000,000, or 1 for a currency without a minor unit. Zero means 100.
	Minor int64 `json:"minor,omitempty"`
}

const defaultTitle = "Cut sheet"

// check returns a *measure.FieldError for an option that makes no sense.
func (o *Options) check() error {
	if err := checkText("options.title", o.Title); err != nil {
		return err
	}
	if err := checkText("options.money.symbol", o.Money.Symbol); err != nil {
		return err
	}
	if _, ok := places(o.Money.Minor); !ok {
		return fieldError("options.money.minor", strconv.FormatInt(o.Money.Minor, 10), "a power of ten from 1 to 1000000000, or zero for 100")
	}
	if o.Graduation < 0 || o.Graduation > 45*measure.Degree {
		return fieldError("options.graduation", o.Graduation.String(), "more than zero and at most 45°, or zero for 0.1°")
	}
	if o.Keep < 0 {
		return fieldError("options.keep", o.Keep.About(), "zero or more")
	}
	if o.Profile != nil {
		if err := checkText("options.profile.name", o.Profile.Name); err != nil {
			return err
		}
		for err := range measure.FieldErrors(o.Profile.Validate()) {
			return err.Under("Options.Profile")
		}
	}
	return nil
}

func (o *Options) style() measure.Style {
	s := measure.Style{Graduation: measure.Inch / 16}
	if o.Style != nil {
		s = *o.Style
	}
	s.MarkInexact = true
	return s
}

// metric reports whether lengths are written in metric units.
func metric(s measure.Style) bool {
	return s.Unit == measure.Millimeter || s.Unit == measure.Centimeter || s.Unit == measure.Meter
}

// keep is the shortest offcut to keep.
func (o *Options) keep(r *optimize.Rules) measure.Length {
	switch {
	case o.Keep != 0:
		return o.Keep
	case len(r.OffcutValues) > 0:
		return r.OffcutValues[0].Length
	case metric(o.style()):
		return 300 * measure.Millimeter
	}
	return 12 * measure.Inch
}

func (o *Options) graduation() measure.Angle {
	if o.Graduation == 0 {
		return measure.Degree / 10
	}
	return o.Graduation
}
