package cutsheet

import (
	"io"
	"math/bits"

	"example.com/longpoint/internal/svg"
)

// ProofPicture draws how good the plan is known to be as one strip: the costs that no plan can
// have, the gap, and the plan. If bound and cost are equal there is one mark: nothing cheaper
// exists. Of the options only Width is used; nil means the zero value. The error is a
// [*measure.FieldError] for a width out of range (options.width), or that of w.
func (s *Sheet) ProofPicture(w io.Writer, o *PictureOptions) error {
	s = s.orEmpty()
	if err := o.checkWidth(); err != nil {
		return err
	}
	title := "How good the plan is: " + s.proofInShort()
	p, y := svg.Titled(o.width(), title, s.proof())
	g := s.gauge(p, y+24*svg.One)
	g.draw(p)
	below := g.top + gaugeHeight + 14*svg.One
	cost, bound := s.plan.Cost, s.plan.Bound
	if g.closed {
		s.proofLabel(p, svg.Point{X: g.bound, Y: g.top - 13*svg.One}, "no plan costs less")
		s.proofLabel(p, svg.Point{X: g.bound, Y: below}, "bound and cost "+s.cost(cost))
	} else {
		if bound > 0 {
			g.mark(p, g.bound)
			s.proofLabel(p, svg.Point{X: g.bound, Y: g.top - 13*svg.One}, "bound "+s.cost(bound))
		}
		s.proofLabel(p, svg.Point{X: g.plan, Y: below}, "this plan "+s.cost(cost))
	}
	if !g.complete {
		p.Line(svg.Point{X: g.shown, Y: g.top}, svg.Point{X: g.shown, Y: g.top + gaugeHeight}, lineStyle)
		below += 14 * svg.One
		shown, _ := s.report.Bound()
		p.Put(svg.Text{At: svg.Point{X: g.left, Y: below}, S: svg.Clip("checked up to "+s.cost(max(shown, 0))+", beyond it searched", svg.Small, g.right-g.left), Anchor: svg.Start})
	}
	y = below + 12*svg.One
	if !g.closed && bound > 0 {
		y = s.gapStrip(p, y+6*svg.One)
	}
	p.Paragraph(y+4*svg.One, s.proof(), svg.Small, false)
	_, err := p.WriteTo(w)
	return err
}

const gaugeHeight = 26 * svg.One

// gauge is the strip of a ProofPicture, along which the cost grows: no plan lies below the bound,
// the gap up to the plan is not known, and the rest costs more.
type gauge struct {
	left, right, top   svg.Unit
	shown, bound, plan svg.Unit // where the checked part of the bound, the bound and the plan's cost are
	closed             bool     // the bound is the cost
	complete           bool     // all of the bound is checked
}

func (s *Sheet) gauge(p *svg.Picture, top svg.Unit) gauge {
	g := gauge{left: p.Left(), right: p.Right(), top: top, closed: s.plan.Cost == s.plan.Bound}
	_, g.complete = s.report.Bound()
	wide := g.right - g.left
	switch {
	case g.closed:
		g.bound = g.left + wide*6/10
		g.plan = g.bound
	case s.plan.Bound <= 0: // a bound without information
		g.bound, g.plan = g.left, g.left+wide*8/10
	default:
		g.bound, g.plan = g.left+wide*3/10, g.left+wide*8/10
	}
	g.shown = g.bound
	if !g.complete {
		g.shown = g.left + (g.bound-g.left)*6/10 // the part that rests on the search is in doubt
	}
	return g
}

// draw draws the strip, without the labels around it.
func (g gauge) draw(p *svg.Picture) {
	from := func(a, b svg.Unit) svg.Box { return svg.Box{X: a, Y: g.top, W: b - a, H: gaugeHeight} }
	none, sure := from(g.left, g.bound), from(g.left, g.shown)
	if none.W > 0 {
		p.Rect(none, lostStyle)
	}
	if !g.complete {
		p.Hatch(from(g.shown, g.bound).Corners(), svg.HatchRising, hatchStyle)
	}
	p.Hatch(sure.Corners(), svg.HatchCrossed, hatchStyle)
	within := func(b svg.Box, text string, plate bool) {
		at := svg.Point{X: b.X + b.W/2, Y: g.top + gaugeHeight/2}
		p.Put(svg.Text{At: at, S: svg.Clip(text, svg.Normal, b.W), Size: svg.Normal, Plate: plate})
	}
	if !g.closed {
		open := from(g.bound, g.plan)
		p.Rect(open, bareStyle)
		within(open, "unknown", false)
	}
	dearer := from(g.plan, g.right)
	p.Rect(dearer, woodStyle)
	within(dearer, "costs more", false)
	if none.W > 0 {
		within(sure, "no plan", true)
	}
	g.mark(p, g.plan)
}

// mark draws a line across the strip.
func (g gauge) mark(p *svg.Picture, x svg.Unit) {
	p.Line(svg.Point{X: x, Y: g.top - 6*svg.One}, svg.Point{X: x, Y: g.top + gaugeHeight + 6*svg.One}, bladeStyle)
}

// proofLabel writes a text at a position, moved as needed to stay inside.
func (s *Sheet) proofLabel(p *svg.Picture, at svg.Point, text string) {
	text = svg.Clip(text, svg.Normal, p.Right()-p.Left())
	half := svg.WidthOf(text, svg.Normal) / 2
	at.X = min(max(at.X, p.Left()+half), p.Right()-half)
	p.Put(svg.Text{At: at, S: text, Size: svg.Normal, Bold: true})
}

// proofInShort returns the same in a few words.
func (s *Sheet) proofInShort() string {
	switch {
	case s.plan.Cost == s.plan.Bound && s.plan.Proven:
		return "proven best"
	case s.plan.Cost == s.plan.Bound:
		return "claimed best, not checked"
	case s.plan.Bound <= 0:
		return "not proven"
	}
	return "at most " + s.gap() + " could be saved"
}

// gapStrip draws bound and cost on a scale from zero, so that the gap has its true proportion.
func (s *Sheet) gapStrip(p *svg.Picture, y svg.Unit) svg.Unit {
	cost, bound := s.plan.Cost, max(s.plan.Bound, 0)
	if cost <= 0 {
		return y
	}
	left, w := p.Left(), p.Right()-p.Left()
	hi, lo := bits.Mul64(uint64(w), uint64(bound))
	q, _ := bits.Div64(hi, lo, uint64(cost)) // the bound is at most the cost
	const high = 8 * svg.One
	p.Put(svg.Text{At: svg.Point{X: left, Y: y + 6*svg.One}, S: svg.Clip("the same from zero, to scale", svg.Small, w), Anchor: svg.Start})
	y += 14 * svg.One
	p.Rect(svg.Box{X: left, Y: y, W: w, H: high}, bareStyle)
	done := svg.Box{X: left, Y: y, W: svg.Unit(q), H: high}
	p.Rect(done, lostStyle)
	p.Hatch(done.Corners(), svg.HatchCrossed, hatchStyle)
	return y + high + 4*svg.One
}
