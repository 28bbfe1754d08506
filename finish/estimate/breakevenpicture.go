package estimate

import (
	"io"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
)

// BreakEvenPicture draws the installed cost of two offers over the length of trim, with the
// break-evens of [BreakEven]: up to six changes of the cheaper offer are marked and
// dimensioned; if there are more, only the first and the last. Whole packages make the lines
// rise in steps.
//
// The errors are those of BreakEven, a [*measure.FieldError] for each invalid option, and that
// of w.
func BreakEvenPicture(w io.Writer, a, b Offer, t Terms, at LengthRange, o *PictureOptions) error {
	opts, err := o.filled()
	if err != nil {
		return err
	}
	spans, err := BreakEven(a, b, t, at)
	if err != nil {
		return err
	}
	steps, err := at.fill()
	if err != nil {
		return fault.Under("lengths", err)
	}
	d := crossDrawing{o: &opts, labels: [2]string{a.Label, b.Label}, last: steps}
	d.place = func(i int64) string { return opts.Locale.FormatLength(at.From + measure.Length(i)*at.Step) }
	for _, s := range spans {
		d.spans = append(d.spans, crossSpan{int64((s.From - at.From) / at.Step), int64((s.To - at.From) / at.Step), s.Cheaper})
	}
	d.title, d.axis, d.amount = "Which costs less installed", "length of trim", opts.Locale.FormatMoney
	offers := [2]Offer{a, b}
	return d.write(w, func(i int64) (p [2]int64, err error) {
		for k, o := range offers {
			c, _, err := o.at(at.From + measure.Length(i)*at.Step)
			if err != nil {
				return p, err
			}
			if p[k], err = priceOf(c, t); err != nil {
				return p, err
			}
		}
		return p, nil
	})
}

// BreakEvenWagePicture is like [BreakEvenPicture] for two alternatives over the wage, by
// [BreakEvenWage]. It shows their total costs if both have the same length, else the cost per
// foot, or per meter if the terms are metric.
func BreakEvenWagePicture(w io.Writer, a, b Alternative, t Terms, at WageRange, o *PictureOptions) error {
	opts, err := o.filled()
	if err != nil {
		return err
	}
	spans, err := BreakEvenWage(a, b, t, at)
	if err != nil {
		return err
	}
	steps, err := at.fill()
	if err != nil {
		return fault.Under("wages", err)
	}
	unit, name := measure.Foot, "foot"
	if t.Locale.Metric {
		unit, name = measure.Meter, "meter"
	}
	d := crossDrawing{o: &opts, labels: [2]string{a.Label, b.Label}, last: steps}
	d.place = func(i int64) string { return opts.Locale.FormatMoney(at.From + i*at.Step) }
	for _, s := range spans {
		d.spans = append(d.spans, crossSpan{(s.From - at.From) / at.Step, (s.To - at.From) / at.Step, s.Cheaper})
	}
	d.title, d.axis, d.amount = "Which costs less a "+name+" installed", "wage an hour", opts.Locale.FormatMoney
	same := a.Net == b.Net
	if same {
		d.title = "Which costs less installed"
	}
	alternatives := [2]Alternative{a, b}
	return d.write(w, func(i int64) (p [2]int64, err error) {
		terms := t
		terms.Wage = at.From + i*at.Step
		for k, c := range alternatives {
			total, err := priceOf(c, terms)
			if err != nil {
				return p, err
			}
			if p[k] = total; same {
				continue
			}
			per, _, err := measure.Length(total).MulDiv(int64(unit), int64(c.Net), measure.RoundHalfEven)
			if err != nil {
				return p, tooLarge("the cost of a " + name + " of " + c.Label)
			}
			p[k] = int64(per)
		}
		return p, nil
	})
}

// crossSpan is a range of steps over which one is cheaper; neither if its label is empty.
type crossSpan struct {
	from, to int64
	cheaper  string
}

// crossDrawing is a picture of two lines over steps from 0 to last.
type crossDrawing struct {
	o              *PictureOptions
	title, axis    string
	labels         [2]string
	last           int64
	spans          []crossSpan
	place          func(step int64) string
	amount         func(n int64) string
	at             []int64    // drawn steps, ascending
	prices         [][2]int64 // prices at these steps
	p              *svg.Picture
	frame          svg.Box
	lowest, spread int64
}

// mostSamples is the number of drawn steps besides those at which the order changes.
const mostSamples = 240

// mostMarked is the greatest number of changes that are marked individually.
const mostMarked = 6

// write draws the prices.
func (d *crossDrawing) write(w io.Writer, price func(step int64) ([2]int64, error)) error {
	if err := d.sample(price); err != nil {
		return err
	}
	d.draw()
	_, err := d.p.WriteTo(w)
	return err
}

// sample computes the prices of as many steps as can be distinguished.
func (d *crossDrawing) sample(price func(step int64) ([2]int64, error)) error {
	add := func(i int64) error {
		if n := len(d.at); n > 0 && i <= d.at[n-1] {
			return nil
		}
		p, err := price(i)
		if err == nil {
			d.at, d.prices = append(d.at, i), append(d.prices, p)
		}
		return err
	}
	next := 0
	for n := range int64(mostSamples + 1) {
		to := d.last/mostSamples*n + d.last%mostSamples*n/mostSamples
		for ; next < len(d.spans) && next <= 3*mostMarked && d.spans[next].from <= to; next++ {
			if err := add(max(d.spans[next].from-1, 0)); err != nil {
				return err
			}
			if err := add(d.spans[next].from); err != nil {
				return err
			}
		}
		if err := add(to); err != nil {
			return err
		}
	}
	return nil
}

func (d *crossDrawing) point(step, price int64) svg.Point {
	return svg.Point{X: d.frame.X + portion(step, max(d.last, 1), d.frame.W), Y: d.frame.Y + d.frame.H - portion(price-d.lowest, d.spread, d.frame.H)}
}

// priceAt returns the price of a step, or of the drawn step before it.
func (d *crossDrawing) priceAt(step int64) [2]int64 {
	for i := len(d.at) - 1; i > 0; i-- {
		if d.at[i] <= step {
			return d.prices[i]
		}
	}
	return d.prices[0]
}

func (d *crossDrawing) name(k int) string { return svg.Clip(d.labels[k], svg.Small, 40*svg.Small) }

func (d *crossDrawing) nameOf(label string) string {
	switch label {
	case "":
		return "both the same"
	case d.labels[0]:
		return d.name(0)
	}
	return d.name(1)
}

func (d *crossDrawing) draw() {
	var y svg.Unit
	d.p, y = svg.Titled(d.o.Width, d.title, d.words())
	p := d.p
	y = p.Legend(y, []svg.Entry{
		{Style: lines[0], Text: d.name(0)}, {Style: lines[1], Text: d.name(1)}, {Style: strongStyle, Text: "break-even"},
	}) + 14*svg.One
	low, high := d.prices[0][0], d.prices[0][0]
	for _, two := range d.prices {
		low, high = min(low, two[0], two[1]), max(high, two[0], two[1])
	}
	step := roundStep(high-low, 6)
	d.lowest = low / step * step
	d.spread = max(high-d.lowest, 1)
	widest := svg.Unit(0)
	for n := d.lowest; ; n += step {
		widest = max(widest, svg.WidthOf(d.amount(n), svg.Small))
		if n >= high || n > high-step {
			break
		}
	}
	widest = min(widest, p.Width()/3)
	d.frame = svg.Box{X: p.Left() + widest + 8*svg.One, Y: y, H: min(p.Width()/2, 240*svg.One)}
	d.frame.W = p.Right() - d.frame.X - 4*svg.One
	d.grid(step, high, widest)
	d.curves()
	d.changes()
	d.listed(d.below())
}

var lines = [2]svg.Style{{Stroke: svg.Ink, Width: 180}, {Stroke: svg.Quiet, Width: 180, Dashed: true}}

// grid draws the axes.
func (d *crossDrawing) grid(step, high int64, widest svg.Unit) {
	p, f := d.p, d.frame
	for n := d.lowest; ; n += step {
		y := d.point(0, n).Y
		p.Line(svg.Point{X: f.X, Y: y}, svg.Point{X: f.X + f.W, Y: y}, gridStyle)
		p.Label(svg.Text{At: svg.Point{X: f.X - 4*svg.One, Y: y}, S: svg.Clip(d.amount(n), svg.Small, widest), Anchor: svg.End})
		if n > high-step {
			break
		}
	}
	p.Line(svg.Point{X: f.X, Y: f.Y}, svg.Point{X: f.X, Y: f.Y + f.H}, inkStyle)
	p.Line(svg.Point{X: f.X, Y: f.Y + f.H}, svg.Point{X: f.X + f.W, Y: f.Y + f.H}, inkStyle)
}

// curves draws the two lines.
func (d *crossDrawing) curves() {
	for k := range 2 {
		points := make([]svg.Point, len(d.at))
		for i, at := range d.at {
			points[i] = d.point(at, d.prices[i][k])
		}
		d.p.Polyline(points, lines[k])
	}
}

// shown returns the spans whose beginnings are marked: all, or the first and the last of many.
func (d *crossDrawing) shown() []crossSpan {
	if n := len(d.spans); n > mostMarked+1 {
		return []crossSpan{d.spans[1], d.spans[n-1]}
	} else if n > 0 {
		return d.spans[1:]
	}
	return nil
}

// changes marks the changes of the order.
func (d *crossDrawing) changes() {
	p, f := d.p, d.frame
	bottom := f.Y + f.H
	last := svg.Unit(-1)
	for _, s := range d.shown() {
		two := d.priceAt(s.from)
		c := d.point(s.from, max(two[0], two[1]))
		if c.X-last < 2*svg.One { // where both cost the same for a step
			continue
		}
		last = c.X
		p.Line(svg.Point{X: c.X, Y: f.Y}, svg.Point{X: c.X, Y: bottom + 6*svg.One}, strongStyle)
		p.Circle(c, 4*svg.One, svg.Style{Fill: svg.Paper, Stroke: svg.Mark, Width: 180})
		amount := svg.Text{At: c.Add(-7*svg.One, -9*svg.One), S: d.amount(max(two[0], two[1])), Anchor: svg.End, Plate: true}
		p.Label(amount, svg.Spot{At: c.Add(7*svg.One, 10*svg.One), Anchor: svg.Start}, svg.Spot{At: c.Add(-7*svg.One, -22*svg.One), Anchor: svg.End})
		text := d.place(s.from)
		half := svg.WidthOf(text, svg.Small) / 2
		x := min(max(c.X, f.X+half), p.Right()-half)
		p.Label(svg.Text{At: svg.Point{X: x, Y: bottom + 14*svg.One}, S: text, Bold: true}, svg.Spot{At: svg.Point{X: x, Y: bottom + 28*svg.One}}, svg.Spot{At: svg.Point{X: x, Y: f.Y - 8*svg.One}})
	}
	from, to := d.place(0), d.place(d.last)
	p.Label(svg.Text{At: svg.Point{X: f.X, Y: bottom + 14*svg.One}, S: from, Anchor: svg.Start})
	p.Label(svg.Text{At: svg.Point{X: f.X + f.W, Y: bottom + 14*svg.One}, S: to, Anchor: svg.End})
}

// below draws the ranges in which each is cheaper, and returns where the drawing ends.
func (d *crossDrawing) below() svg.Unit {
	p, f := d.p, d.frame
	y := p.Paragraph(f.Y+f.H+38*svg.One, "Cheaper, by "+d.axis+":", svg.Small, false) + 2*svg.One
	const high = 16 * svg.One
	for _, s := range d.spans {
		a, b := d.point(s.from, d.lowest).X, d.point(min(s.to+1, d.last), d.lowest).X
		box := svg.Box{X: a, Y: y, W: b - a, H: high}
		switch s.cheaper {
		case "":
			p.Rect(box, svg.Style{Fill: svg.Shade})
		case d.labels[0]:
			p.Rect(box, svg.Style{Fill: svg.Wood, Stroke: svg.Ink, Width: 50})
		default:
			p.Rect(box, svg.Style{Fill: svg.Paper, Stroke: svg.Ink, Width: 50})
			if len(d.spans) < 200 {
				p.Hatch(box.Corners(), svg.HatchRising, fineHatch)
			}
		}
		if name := d.nameOf(s.cheaper); svg.WidthOf(name, svg.Small)+4*svg.One < box.W {
			p.Label(svg.Text{At: svg.Point{X: (a + b) / 2, Y: y + high/2}, S: name, Plate: s.cheaper == d.labels[1]})
		}
	}
	return y + high + 6*svg.One
}

// spanWords describes the ranges in which each is cheaper.
func (d *crossDrawing) spanWords() []string {
	var out []string
	for i, s := range d.spans {
		if len(d.spans) > 2*mostMarked && i == mostMarked {
			out = append(out, "and so back and forth until:")
		}
		if len(d.spans) > 2*mostMarked && i >= mostMarked && i < len(d.spans)-1 {
			continue
		}
		text := d.nameOf(s.cheaper) + " costs less"
		if s.cheaper == "" {
			text = "both cost the same"
		}
		where := d.place(s.from)
		if to := d.place(s.to); to != where {
			where += " to " + to
		}
		out = append(out, where+": "+text)
	}
	return out
}

// listed writes them below.
func (d *crossDrawing) listed(y svg.Unit) {
	for _, text := range d.spanWords() {
		y = d.p.Paragraph(y, text, svg.Small, false)
	}
}

func (d *crossDrawing) words() string {
	text := d.name(0) + " and " + d.name(1) + ", by " + d.axis + ". "
	for _, s := range d.spanWords() {
		text += s + ". "
	}
	return text
}
