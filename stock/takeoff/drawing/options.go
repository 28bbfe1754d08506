package drawing

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// Widths of a picture in pixels, 96 to the inch on paper: 7 in of a page, and the screen of a
// telephone.
const (
	PaperWidth = 672
	PhoneWidth = 360
)

// Options configure a picture. A nil *Options means the zero value.
type Options struct {
	// Title is the heading of the picture; empty means a description, such as "classroom:
	// walls".
	Title string `json:"title,omitempty"`

	// Width is the width of the picture in pixels, 320 to 2000; zero means PaperWidth. In JSON
	// a zero is an error.
	Width int `json:"width,omitempty" zero:"320 to 2000, or nothing for 672"`

	// Locale is the format of lengths.
	Locale measure.Locale `json:"locale,omitzero"`

	// Sticks maps the label of a piece to its stick, such as "stick 3".
	Sticks map[string]string `json:"sticks,omitempty"`

	// Findings are the results of takeoff.Check, which name the walls to measure again. Those
	// of other rooms are ignored; those of the list need not be repeated.
	Findings []takeoff.Finding `json:"findings,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero width is a
// *measure.FieldError.
func (o *Options) UnmarshalJSON(data []byte) error {
	type plain Options
	return fault.Unmarshal(data, (*plain)(o))
}

// filled returns the options with all defaults filled in, or all faults joined.
func (o *Options) filled() (Options, error) {
	var v Options
	if o != nil {
		v = *o
	}
	var bad fault.List
	bad.Under("options", svg.CheckWidth(v.Width))
	if v.Width == 0 {
		v.Width = PaperWidth
	}
	bad.Under("options.locale", v.Locale.Validate())
	return v, bad.Err()
}

// width is that of the picture; wide reports whether it is one for paper.
func (o *Options) width() svg.Unit { return svg.Unit(o.Width) * svg.One }
func (o *Options) wide() bool      { return o.Width >= 560 }

// length writes a length as on a rule.
func (o *Options) length(l measure.Length) string { return o.Locale.About(l) }

// fine writes a length of a joint, for which a sixteenth is too coarse: to the nearest 1/32 in,
// or in the locale's metric format.
func (o *Options) fine(l measure.Length) string {
	s := o.Locale.LengthStyle()
	if o.Locale.Metric || s.Decimal || s.Spoken || l%(measure.Inch/64) == 0 && l.Round(measure.Inch/64, measure.RoundHalfEven) == l {
		return o.Locale.About(l)
	}
	s.Graduation = measure.Inch / 32
	if r := l.Round(s.Graduation, measure.RoundHalfEven); r == 0 {
		return o.Locale.About(l)
	}
	return "about " + l.Format(s)
}

// angle writes an angle to the nearest tenth of a degree, and marks rounding.
func (o *Options) angle(a measure.Angle) string {
	r := a.Round(measure.Degree/10, measure.RoundHalfEven)
	if a%(measure.Degree/4) == 0 || r == a {
		return o.Locale.FormatAngle(a)
	}
	return "about " + o.Locale.FormatAngle(r)
}

// begin starts a picture with its heading, and returns where that ends.
func (o *Options) begin(title, desc string) (*svg.Picture, svg.Unit) {
	if o.Title != "" {
		title = o.Title
	}
	p := svg.New(o.width(), title, desc)
	return p, p.Paragraph(8*svg.One, title, svg.Large, true) + 4*svg.One
}

// bar draws the bar of the scale.
func (o *Options) bar(p *svg.Picture, y svg.Unit, k svg.Scale) svg.Unit {
	return o.barAt(p, p.Left(), y, k)
}

func (o *Options) barAt(p *svg.Picture, x, y svg.Unit, k svg.Scale) svg.Unit {
	steps := []measure.Length{measure.Inch / 4, measure.Inch / 2, measure.Inch, 3 * measure.Inch, 6 * measure.Inch}
	unit := measure.Foot
	if o.Locale.Metric {
		steps, unit = []measure.Length{5 * measure.Millimeter, 10 * measure.Millimeter, 50 * measure.Millimeter, 100 * measure.Millimeter, 500 * measure.Millimeter}, measure.Meter
	}
	for n := measure.Length(1); n <= 10_000; n *= 10 {
		steps = append(steps, n*unit, 2*n*unit, 5*n*unit)
	}
	return p.ScaleBarAt(svg.Point{X: x, Y: y}, k, steps, o.length)
}
