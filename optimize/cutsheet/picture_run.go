package cutsheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// mostStuds is the greatest number of splice positions drawn as studs; more are too close
// together to be studs.
const mostStuds = 120

// mostListed is the greatest number of lines of a kind that a picture lists.
const mostListed = 400

// RunPicture draws a run of the problem to scale over the studs on which it may be spliced: its
// splices, and the length and stick of each part. It marks assumed studs.
//
// The run is an index into Problem.Runs. Of the options only Width is used; nil means the zero
// value. The errors are a [*measure.FieldError] for another run (run) and a width out of range
// (options.width), joined, and that of w.
func (s *Sheet) RunPicture(w io.Writer, run int, o *PictureOptions) error {
	s = s.orEmpty()
	var bad fault.List
	if run < 0 || run >= len(s.plan.Spliced) {
		bad.Add("run", strconv.Itoa(run), fmt.Sprintf("a run of the problem, which has %d, from 0", len(s.plan.Spliced)))
	}
	bad.Under("", o.checkWidth())
	if err := bad.Err(); err != nil {
		return err
	}
	d := runDrawing{s: s, run: &s.problem.Runs[run], name: typeset.Clip(s.runName(run), 100, "…"), spliced: s.plan.Spliced[run].At, parts: s.runParts(run)}
	d.draw(o.width())
	_, err := d.p.WriteTo(w)
	return err
}

// SplicedRunPicture is like [Sheet.RunPicture] for a run that was spliced before there was a
// plan, at its Splices, as package takeoff does. Sticks maps the label of a part to its stick,
// such as "stick 3"; it may be nil.
//
// Of the options only Width and Locale are used; nil means the zero value. The errors are those
// of [stock.Run.Pieces], below run, a [*measure.FieldError] for a run whose length is not
// positive (run.length), for each text that is not UTF-8 (run.label) and for each invalid option
// (options.width), joined, and that of w.
func SplicedRunPicture(w io.Writer, run stock.Run, sticks map[string]string, o *PictureOptions) error {
	options := o.sheet()
	var bad fault.List
	bad.Under("", o.checkWidth())
	bad.Under("", options.check())
	for _, t := range [...]struct{ name, text string }{{"label", run.Label}, {"room", run.Room}, {"wall", run.Wall}} {
		bad.Under("run", checkText(t.name, t.text))
	}
	if run.Length <= 0 {
		bad.Add("run.length", run.Length.About(), "more than zero")
	}
	pieces, err := run.Pieces(run.Splices)
	bad.Under("run", err)
	if err := bad.Err(); err != nil {
		return err
	}
	d := runDrawing{s: &Sheet{options: *options, style: options.style()}, run: &run, name: typeset.Clip(run.Label, 100, "…"), spliced: run.Splices}
	if run.Label == "" {
		d.name = "run"
	}
	for i := range pieces {
		from := sticks[pieces[i].Label]
		if !utf8.ValidString(from) {
			from = ""
		}
		d.parts = append(d.parts, runPart{typeset.Clip(cmp.Or(pieces[i].Label, d.name), 60, "…"), pieces[i].Length, typeset.Clip(from, 60, "…")})
	}
	d.draw(o.width())
	_, err = d.p.WriteTo(w)
	return err
}

// runPart is a part of a run, and its stick.
type runPart struct {
	name   string
	length measure.Length
	from   string // empty if unknown
}

// runDrawing is the state of a picture of a run.
type runDrawing struct {
	s       *Sheet // for its formats of lengths and counts
	run     *stock.Run
	name    string
	spliced []measure.Length
	parts   []runPart

	p     *svg.Picture
	scale svg.Scale
	left  svg.Unit
}

func (d *runDrawing) draw(width int) {
	s, r := d.s, d.run
	title := d.name + ": " + s.length(r.Length)
	switch n := int64(len(d.spliced)); {
	case n == 0:
		title += " in one piece"
	case r.Splice.Bevel == 0:
		title += ", " + s.plural(n, "joint")
	default:
		title += ", " + s.plural(n, "splice")
	}
	p, y := svg.Titled(width, title, d.words())
	d.p = p
	d.left = p.Left() + 2*svg.One
	d.scale = svg.Fit(r.Length, p.Right()-p.Left()-4*svg.One)
	var where []string
	for _, t := range []string{r.Room, r.Wall} {
		if t != "" {
			where = append(where, t)
		}
	}
	if where != nil {
		y = p.Paragraph(y, typeset.Clip(strings.Join(where, ", "), 200, "…"), svg.Normal, false)
	}
	y = d.studs(y + 8*svg.One)
	y = d.bars(y)
	y += 6 * svg.One
	if !p.Dimension(d.at(0, y), d.at(r.Length, y), 8*svg.One, s.length(r.Length)) {
		p.Label(svg.Text{At: svg.Point{X: d.left, Y: y + 18*svg.One}, S: s.length(r.Length), Anchor: svg.Start})
	}
	y = d.list(y + 28*svg.One)
	y = p.Legend(y+4*svg.One, d.legend())
	if len(d.spliced) > 0 {
		p.Paragraph(y+2*svg.One, d.lap()+"Splices are measured from the left long point.", svg.Small, false)
	}
}

// lap describes which part of a splice lies over the other.
func (d *runDrawing) lap() string {
	switch {
	case d.run.Splice.Bevel == 0:
		return ""
	case d.run.Splice.RightOver:
		return "The right part laps over the left one. "
	}
	return "The left part laps over the right one. "
}

func (d *runDrawing) at(l measure.Length, y svg.Unit) svg.Point {
	return svg.Point{X: d.left + d.scale.Of(l), Y: y}
}

// spots returns the positions where the run may be spliced, one for many that are close
// together.
func (d *runDrawing) spots() (at []measure.Length, thinned bool) {
	all := d.run.Splice.At
	if len(all) <= mostStuds {
		return all, false
	}
	for i := range mostStuds {
		at = append(at, all[i*len(all)/mostStuds])
	}
	return at, true
}

// studs draws the wall behind the run, and the position of each splice above it.
func (d *runDrawing) studs(y svg.Unit) svg.Unit {
	p, r := d.p, d.run
	const high = 46 * svg.One
	top := y + 16*svg.One
	p.Rect(svg.Box{X: d.left, Y: top, W: d.scale.Of(r.Length), H: high}, svg.Style{Fill: svg.Paper, Stroke: svg.Quiet})
	thick := max(d.scale.Of(3*measure.Inch/2), 150) // the thickness of a stud, but visible
	at, thinned := d.spots()
	spliced := func(l measure.Length) bool { return slices.Contains(d.spliced, l) }
	anywhere := r.Splice.Anywhere || thinned
	for _, l := range at {
		if !spliced(l) {
			style := svg.Style{Fill: svg.Shade, Stroke: svg.Quiet, Width: 50, Dashed: r.Splice.Assumed}
			if anywhere {
				style = svg.Style{Fill: svg.Shade}
			}
			d.stud(l, top, thick, high, style)
		}
	}
	for i, l := range r.Splice.Avoid {
		if i == mostStuds {
			break
		}
		d.stud(l, top, thick, high, svg.Style{Fill: svg.Paper, Stroke: svg.Quiet, Width: 50})
		x := d.at(l, top).X
		p.Lines([]svg.Point{{X: x - thick, Y: top + 4*svg.One}, {X: x + thick, Y: top + 12*svg.One}, {X: x + thick, Y: top + 4*svg.One}, {X: x - thick, Y: top + 12*svg.One}}, lineStyle)
	}
	for i, l := range d.spliced {
		d.stud(l, top, thick, high, svg.Style{Fill: svg.Quiet, Stroke: svg.Ink, Width: 50})
		if i < mostListed {
			p.Label(svg.Text{At: svg.Point{X: d.at(l, 0).X, Y: y + 7*svg.One}, S: d.s.length(l), Bold: true})
		}
	}
	return top + high
}

// stud draws a stud with its middle at a place of the run.
func (d *runDrawing) stud(l measure.Length, y, thick, high svg.Unit, style svg.Style) {
	x := d.at(l, y).X - thick/2
	lo, hi := d.left, d.left+d.scale.Of(d.run.Length)
	x, end := max(x, lo), min(x+thick, hi)
	if end > x {
		d.p.Rect(svg.Box{X: x, Y: y, W: end - x, H: high}, style)
	}
}

// bars draws the parts of the run.
func (d *runDrawing) bars(y svg.Unit) svg.Unit {
	p, r := d.p, d.run
	const high = 26 * svg.One
	from := measure.Length(0)
	for i := range d.parts {
		to := r.Length
		if i < len(d.spliced) {
			to = d.spliced[i]
		}
		b := svg.Box{X: d.at(from, y).X, Y: y, W: d.scale.Of(to) - d.scale.Of(from), H: high}
		p.Rect(b, woodStyle)
		n := strconv.Itoa(i + 1)
		for _, t := range [...]svg.Text{{S: n + "  " + d.s.length(d.parts[i].length), Size: svg.Normal}, {S: n}} {
			if t.At, t.Bold = (svg.Point{X: b.X + b.W/2, Y: y + high/2}), true; t.Box().W < b.W && p.Label(t) {
				break
			}
		}
		from = to
	}
	// A scarf slants; its direction shows which part lies over the other.
	slant := min(max(d.scale.Of(r.Splice.Overlap), 6*svg.One), 10*svg.One) / 2
	for _, l := range d.spliced {
		x := d.at(l, y).X
		a, b := x+slant, x-slant
		switch {
		case r.Splice.Bevel == 0:
			a, b = x, x
		case r.Splice.RightOver:
			a, b = b, a
		}
		p.Line(svg.Point{X: a, Y: y - 3*svg.One}, svg.Point{X: b, Y: y + high + 3*svg.One}, bladeStyle)
	}
	return y + high
}

// list lists the length and the stick of each part.
func (d *runDrawing) list(y svg.Unit) svg.Unit {
	for i := range d.parts {
		if i == mostListed {
			return d.p.Paragraph(y, "and "+d.s.count(int64(len(d.parts)-i))+" more parts", svg.Normal, false)
		}
		y = d.p.Paragraph(y, d.line(i), svg.Normal, false)
	}
	return y
}

// line returns the line of the i-th part.
func (d *runDrawing) line(i int) string {
	p := &d.parts[i]
	text := strconv.Itoa(i+1) + "  " + p.name + ": " + d.s.length(p.length)
	if p.from != "" {
		text += ", from " + p.from
	}
	return text
}

// runParts are the parts of a run of the plan.
func (s *Sheet) runParts(k int) []runPart {
	pieces := s.plan.Spliced[k].Pieces
	from := make(map[int][]string)
	for _, n := range pieces {
		from[n] = nil
	}
	for i := range s.patterns {
		p := &s.patterns[i]
		for c := range p.cuts {
			if at, wanted := from[p.cuts[c].piece]; wanted && len(at) < 3 {
				from[p.cuts[c].piece] = append(at, p.key+" ("+s.length(soldAs(&s.problem.Sticks[p.Stick]))+"), cut "+strconv.Itoa(c+1))
			}
		}
	}
	parts := make([]runPart, len(pieces))
	for i, n := range pieces {
		parts[i] = runPart{typeset.Clip(s.pieceName(n), 60, "…"), s.piece(n).Length, "stick " + strings.Join(from[n], " or ")}
	}
	return parts
}

// words is the text description of the picture.
func (d *runDrawing) words() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s long, ", d.name, d.s.length(d.run.Length))
	switch {
	case len(d.spliced) == 0:
		b.WriteString("in one piece. ")
	case len(d.spliced) > 20:
		fmt.Fprintf(&b, "spliced at %s places. ", d.s.count(int64(len(d.spliced))))
	default:
		at := make([]string, len(d.spliced))
		for i, l := range d.spliced {
			at[i] = d.s.length(l)
		}
		b.WriteString("spliced at " + list(at) + " from the left long point. ")
	}
	if d.run.Splice.Assumed {
		b.WriteString("The studs are assumed: find them first. ")
	}
	for i := range min(len(d.parts), 20) {
		b.WriteString(d.line(i) + ". ")
	}
	return b.String()
}

func (d *runDrawing) legend() []svg.Entry {
	r := d.run
	var out []svg.Entry
	_, thinned := d.spots()
	switch {
	case len(r.Splice.At) == 0:
	case r.Splice.Anywhere || thinned:
		out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Shade}, Text: "where it may be spliced"})
	case r.Splice.Assumed:
		out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Shade, Stroke: svg.Quiet, Width: 50, Dashed: true}, Text: "stud, assumed: find it first"})
	default:
		out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Shade, Stroke: svg.Quiet, Width: 50}, Text: "stud"})
	}
	if len(r.Splice.Avoid) > 0 {
		out = append(out, svg.Entry{Sample: "x", Text: "stud to keep clear of"})
	}
	if len(d.spliced) > 0 {
		text := "splice, drawn larger"
		if r.Splice.Bevel == 0 {
			text = "joint"
		}
		out = append(out, svg.Entry{Style: bladeStyle, Text: text})
		if !r.Splice.Anywhere && len(r.Splice.At) > 0 {
			text := "stud under a splice"
			if r.Splice.Assumed {
				text = "under a splice, assumed: find it first"
			}
			out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Quiet, Stroke: svg.Ink, Width: 50}, Text: text})
		}
	}
	return out
}
