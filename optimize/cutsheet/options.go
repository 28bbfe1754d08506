package cutsheet

import (
	"fmt"
	"strconv"
	"unicode/utf8"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Options says what a sheet is headed with and how it is written. Nil and the
// zero value are what most people want. Title, Job, Date, Revision, Hold, Profile and the
// Currency of Locale belong to the job and are part of its JSON; the others belong to the
// reader and are not.
type Options struct {
	// Title heads the sheet, in UTF-8; empty stands for "Cut sheet".
	Title string

	// Job, Date and Revision say which job the sheet is for, of which day it is and how often it
	// was changed: any text in UTF-8, at most 200 characters each, that stands at the head of
	// everything that is written and on every tag. Nothing here looks at a clock.
	Job, Date, Revision string

	// Hold names the rooms whose pieces wait, such as those that are to be measured again.
	Hold []Hold

	// Locale is how lengths, money and other numbers are written; the zero value stands for
	// feet and inches to the nearest 1/16 in, ties to the even one. Whatever its Length
	// says, a length that is not exactly what is written is marked with + where it is
	// over and with - where it is under.
	Locale measure.Locale

	// Profile is the molding that the pieces are cut from. With it the saw
	// settings are those of its use, which matters for crown. Nil stands for
	// trim with a flat back, such as base and casing. Of the profile only Name,
	// Role, Thickness, Width and Spring count here.
	Profile *stock.Profile

	// Keep is the shortest offcut that the sheet asks to keep; what is shorter it calls
	// waste. Zero stands for the shortest that Rules.OffcutValues gives a value, and without
	// such for 12 in or, where lengths are metric, 300 mm: common practice, no source.
	Keep measure.Length

	// Graduation is the mark of the saw's scale that settings are rounded to,
	// half to even; zero stands for a tenth of a degree.
	Graduation measure.Angle

	// Tags says where the tags of [Sheet.WriteTags] lie on their pages.
	Tags TagGrid

	// Width is how many cells of a terminal a line of Text takes at most, 40 to 200; zero
	// stands for 80.
	Width int

	// ProofDetails adds to the line that says how good the plan is known to be what was shown
	// and by what, and what it reaches of each goal.
	ProofDetails bool

	// Unicode lets Text use line drawing characters and show labels as they are.
	// Without it Text is ASCII, and other characters are spelled out, ü as \u00fc.
	Unicode bool

	// Color lets Text make headings bold and offcuts faint with the escape
	// sequences of ECMA-48. It carries no meaning, and the text is the same.
	Color bool
}

const (
	defaultTitle = "Cut sheet"

	maxHead                             = 200 // characters of Job, Date and Revision
	defaultWidth, leastWidth, mostWidth = 80, 40, 200
)

// check returns a *measure.FieldError for each option that makes no sense, joined.
func (o *Options) check() error {
	var f fault.List
	f.Under("options", checkText("title", o.Title))
	for _, h := range [...]struct{ name, text string }{{"job", o.Job}, {"date", o.Date}, {"revision", o.Revision}} {
		f.Under("options", checkText(h.name, h.text))
		if n := utf8.RuneCountInString(h.text); n > maxHead {
			f.Add("options."+h.name, fmt.Sprintf("%d characters", n), fmt.Sprintf("at most %d", maxHead))
		}
	}
	checkHold(&f, o.Hold)
	f.Under("options.tags", o.Tags.check(metric(o.style())))
	if o.Width != 0 && (o.Width < leastWidth || o.Width > mostWidth) {
		f.Add("options.width", strconv.Itoa(o.Width), fmt.Sprintf("%d to %d, or zero for %d", leastWidth, mostWidth, defaultWidth))
	}
	f.Under("options.locale", o.Locale.Validate())
	if o.Profile != nil {
		f.Under("options.profile", checkText("name", o.Profile.Name))
		f.Under("options.profile", o.Profile.Validate())
	}
	if o.Keep < 0 {
		f.Add("options.keep", o.Keep.About(), "zero or more")
	}
	if o.Graduation < 0 || o.Graduation > 45*measure.Degree {
		f.Add("options.graduation", o.Graduation.String(), "more than zero and at most 45°, or zero for 0.1°")
	}
	return f.Err()
}

// width is how many cells a line of text takes at most.
func (o *Options) width() int {
	if o.Width == 0 {
		return defaultWidth
	}
	return o.Width
}

func (o *Options) style() measure.Style {
	s := o.Locale.LengthStyle()
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
