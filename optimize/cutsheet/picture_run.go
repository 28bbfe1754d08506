package cutsheet

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
)

// mostStuds is how many places for a splice are drawn as studs: more stand so close that
// they are places every so often, not studs.
const mostStuds = 120

// mostListed is how many lines of a kind a picture lists one by one.
const mostListed = 400

// RunPicture draws a run of the problem to scale over the studs where it may be spliced: where it is
// spliced, what parts it consists of, how long each is and from which stick it comes. Studs that were
// assumed are said to be.
//
// The run is an index into Problem.Runs; any other is a [*measure.FieldError]. The width is in CSS pixels,
// zero for 672, which is 7 in on paper; 360 suits a telephone. Other errors are those of w.
func (s *Sheet) RunPicture(w io.Writer, run, width int) error {
	if run < 0 || run >= len(s.plan.Spliced) {
		return fieldError("run", strconv.Itoa(run), fmt.Sprintf("a run of the problem, which has %d, from 0", len(s.plan.Spliced)))
	}
	d := runDrawing{s: s, k: run}
	d.draw(width)
	_, err := d.p.WriteTo(w)
	return err
}

type runDrawing struct {
	s     *Sheet
	k     int
	p     *svg.Picture
	scale svg.Scale
	left  svg.Unit
}

func (d *runDrawing) draw(width int) {
	s := d.s
	r, sp := &s.problem.Runs[d.k], &s.plan.Spliced[d.k]
	title := typeset.Clip(s.runName(d.k), 100, "…") + ": " + s.length(r.Length)
	switch n := int64(len(sp.At)); {
	case n == 0:
		title += " in one piece"
	case r.Splice.Bevel == 0:
		title += ", " + s.plural(n, "joint")
	default:
		title += ", " + s.plural(n, "splice")
	}
	p, y := svg.Titled(width, title, s.runWords(d.k))
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
	y = d.parts(y)
	y += 6 * svg.One
	if !p.Dimension(d.at(0, y), d.at(r.Length, y), 8*svg.One, s.length(r.Length)) {
		p.Label(svg.Text{At: svg.Point{X: d.left, Y: y + 18*svg.One}, S: s.length(r.Length), Anchor: svg.Start})
	}
	y = d.list(y + 28*svg.One)
	y = p.Legend(y+4*svg.One, d.legend())
	if len(sp.At) > 0 {
		p.Paragraph(y+2*svg.One, "Splices are measured from the left long point.", svg.Small, false)
	}
}

func (d *runDrawing) at(l measure.Length, y svg.Unit) svg.Point {
	return svg.Point{X: d.left + d.scale.Of(l), Y: y}
}

// spots returns the places where the run may be spliced, one for many that stand close.
func (d *runDrawing) spots() (at []measure.Length, thinned bool) {
	all := d.s.problem.Runs[d.k].Splice.At
	if len(all) <= mostStuds {
		return all, false
	}
	for i := range mostStuds {
		at = append(at, all[i*len(all)/mostStuds])
	}
	return at, true
}

// studs draws the wall behind the run, and above it where each splice is.
func (d *runDrawing) studs(y svg.Unit) svg.Unit {
	p, s := d.p, d.s
	r, sp := &s.problem.Runs[d.k], &s.plan.Spliced[d.k]
	const high = 46 * svg.One
	top := y + 16*svg.One
	p.Rect(svg.Box{X: d.left, Y: top, W: d.scale.Of(r.Length), H: high}, svg.Style{Fill: svg.Paper, Stroke: svg.Quiet})
	thick := max(d.scale.Of(3*measure.Inch/2), 150) // as a stud is, and no thinner than can be seen
	at, thinned := d.spots()
	spliced := func(l measure.Length) bool { return slices.Contains(sp.At, l) }
	anywhere := r.Splice.Anywhere || thinned
	for _, l := range at {
		if !spliced(l) {
			style := svg.Style{Fill: svg.Shade, Stroke: svg.Quiet, Width: 50, Dashed: s.assumed(d.k)}
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
	for i, l := range sp.At {
		d.stud(l, top, thick, high, svg.Style{Fill: svg.Quiet, Stroke: svg.Ink, Width: 50})
		if i < mostListed {
			p.Label(svg.Text{At: svg.Point{X: d.at(l, 0).X, Y: y + 7*svg.One}, S: s.length(l), Bold: true})
		}
	}
	return top + high
}

// stud draws a stud with its middle at a place of the run.
func (d *runDrawing) stud(l measure.Length, y, thick, high svg.Unit, style svg.Style) {
	x := d.at(l, y).X - thick/2
	lo, hi := d.left, d.left+d.scale.Of(d.s.problem.Runs[d.k].Length)
	x, end := max(x, lo), min(x+thick, hi)
	if end > x {
		d.p.Rect(svg.Box{X: x, Y: y, W: end - x, H: high}, style)
	}
}

// parts draws the run as it is put together.
func (d *runDrawing) parts(y svg.Unit) svg.Unit {
	p, s := d.p, d.s
	r, sp := &s.problem.Runs[d.k], &s.plan.Spliced[d.k]
	const high = 26 * svg.One
	from := measure.Length(0)
	for i := range sp.Pieces {
		to := r.Length
		if i < len(sp.At) {
			to = sp.At[i]
		}
		b := svg.Box{X: d.at(from, y).X, Y: y, W: d.scale.Of(to) - d.scale.Of(from), H: high}
		p.Rect(b, woodStyle)
		n := strconv.Itoa(i + 1)
		p.Label(svg.Text{At: svg.Point{X: b.X + b.W/2, Y: y + high/2}, S: n + "  " + s.length(s.piece(sp.Pieces[i]).Length), Size: svg.Normal, Bold: true})
		if t := (svg.Text{At: svg.Point{X: b.X + b.W/2, Y: y + high/2}, S: n, Size: svg.Small, Bold: true}); svg.WidthOf(n, svg.Small) < b.W {
			p.Label(t)
		}
		from = to
	}
	// A scarf slants; which part lies over the other is told by the way it does.
	slant := min(max(d.scale.Of(r.Splice.Overlap), 6*svg.One), 10*svg.One) / 2
	for _, l := range sp.At {
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

// list says of each part how long it is and what it is cut from.
func (d *runDrawing) list(y svg.Unit) svg.Unit {
	for i, line := range d.s.partLines(d.k) {
		if i == mostListed {
			return d.p.Paragraph(y, "and "+d.s.count(int64(len(d.s.plan.Spliced[d.k].Pieces)-i))+" more parts", svg.Normal, false)
		}
		y = d.p.Paragraph(y, line, svg.Normal, false)
	}
	return y
}

// partLines has a line for each part of a run, at most one more than are listed.
func (s *Sheet) partLines(k int) []string {
	pieces := s.plan.Spliced[k].Pieces
	pieces = pieces[:min(len(pieces), mostListed+1)]
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
	lines := make([]string, len(pieces))
	for i, n := range pieces {
		lines[i] = strconv.Itoa(i+1) + "  " + typeset.Clip(s.pieceName(n), 60, "…") + ": " + s.length(s.piece(n).Length) + ", from stick " + strings.Join(from[n], " or ")
	}
	return lines
}

// runWords says what the picture of a run shows.
func (s *Sheet) runWords(k int) string {
	r, sp := &s.problem.Runs[k], &s.plan.Spliced[k]
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s long, ", typeset.Clip(s.runName(k), 100, "…"), s.length(r.Length))
	switch {
	case len(sp.At) == 0:
		b.WriteString("in one piece. ")
	case len(sp.At) > 20:
		fmt.Fprintf(&b, "spliced at %s places. ", s.count(int64(len(sp.At))))
	default:
		at := make([]string, len(sp.At))
		for i, l := range sp.At {
			at[i] = s.length(l)
		}
		b.WriteString("spliced at " + list(at) + " from the left long point. ")
	}
	if s.assumed(k) {
		b.WriteString("The studs are assumed: find them first. ")
	}
	for i, line := range s.partLines(k) {
		if i == 20 {
			break
		}
		b.WriteString(line + ". ")
	}
	return b.String()
}

// assumed reports whether nobody has found the studs that a run may be spliced on.
func (s *Sheet) assumed(k int) bool { return s.problem.Runs[k].Splice.Assumed }

func (d *runDrawing) legend() []svg.Entry {
	r, sp := &d.s.problem.Runs[d.k], &d.s.plan.Spliced[d.k]
	var out []svg.Entry
	_, thinned := d.spots()
	switch {
	case len(r.Splice.At) == 0:
	case r.Splice.Anywhere || thinned:
		out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Shade}, Text: "where it may be spliced"})
	case d.s.assumed(d.k):
		out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Shade, Stroke: svg.Quiet, Width: 50, Dashed: true}, Text: "stud, assumed: find it first"})
	default:
		out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Shade, Stroke: svg.Quiet, Width: 50}, Text: "stud"})
	}
	if len(r.Splice.Avoid) > 0 {
		out = append(out, svg.Entry{Sample: "x", Text: "stud to be left free"})
	}
	if len(sp.At) > 0 {
		text := "splice, drawn larger"
		if r.Splice.Bevel == 0 {
			text = "joint"
		}
		out = append(out, svg.Entry{Style: bladeStyle, Text: text})
		if !r.Splice.Anywhere && len(r.Splice.At) > 0 {
			text := "stud under a splice"
			if d.s.assumed(d.k) {
				text = "under a splice, assumed: find it first"
			}
			out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Quiet, Stroke: svg.Ink, Width: 50}, Text: text})
		}
	}
	return out
}
