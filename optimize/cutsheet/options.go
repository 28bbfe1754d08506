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

// Options configure a sheet. Nil and the zero value are the usual settings. Title, Job, Date,
// Revision, Hold, Profile and the Currency of Locale belong to the job and are part of its
// JSON; the others belong to the reader and are not.
type Options struct {
	// Title is the heading of the sheet, in UTF-8; empty means "Cut sheet".
	Title string

	// Job, Date and Revision identify the job of the sheet, its date and its revision. They are
	// any text in UTF-8, at most 200 characters each, and are printed at the head of every
	// output and on every tag. The package does not read a clock.
	Job, Date, Revision string

	// Hold names the rooms whose pieces wait, for example for another measurement.
	Hold []Hold

	// Locale is the format of lengths, money and other numbers; the zero value means feet and
	// inches to the nearest 1/16 in, ties to even. Whatever its format, a length that is not
	// exactly as written is marked with + if it is longer and with - if it is shorter.
	Locale measure.Locale

	// Profile is the molding from which the pieces are cut. It determines the saw settings,
	// which matters for crown. Nil means trim with a flat back, such as base and casing. Only
	// its fields Name, Role, Thickness, Width and Spring are used.
	Profile *stock.Profile

	// Keep is the shortest offcut that the sheet lists for keeping; a shorter one is waste.
	// Zero means the shortest that has a value in Rules.OffcutValues or, if there are none, 12
	// in, or 300 mm if lengths are metric: common practice, no source.
	Keep measure.Length

	// Graduation is the division of the saw's scale to which settings are rounded, half to
	// even; zero means a tenth of a degree.
	Graduation measure.Angle

	// Tags is the layout of the tags of [Sheet.WriteTags] on their pages.
	Tags TagGrid

	// Width is the greatest number of terminal cells in a line of text, 40 to 200; zero means
	// 80.
	Width int

	// ProofDetails adds to the last line what was verified, by which evidence, and the results
	// for each goal.
	ProofDetails bool

	// Unicode lets WriteText use line drawing characters and show labels unchanged. Without it
	// the text is ASCII, and other characters are escaped, ü as \u00fc.
	Unicode bool

	// Color lets WriteText make headings bold and offcuts faint with the escape sequences of
	// ECMA-48. It carries no meaning; the text is the same.
	Color bool
}

const (
	defaultTitle = "Cut sheet"

	maxHead                             = 200 // characters of Job, Date and Revision
	defaultWidth, leastWidth, mostWidth = 80, 40, 200
)

// check returns a *measure.FieldError for each invalid option, joined.
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

// width returns the greatest number of cells in a line of text.
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

// keep returns the length of the shortest offcut to keep.
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
