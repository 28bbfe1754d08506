package cutsheet

import (
	"io"
	"math/bits"

	"example.com/longpoint/internal/svg"
)

// ProofPicture draws how good the plan is known to be as one strip: the costs that no plan can
// have, the gap, and the plan. If bound and cost are equal there is one mark: nothing cheaper
// exists. The width is in CSS pixels, 320 to 2000, zero for 672, which is 7 in on paper; 360
// suits a telephone. The error is a [*measure.FieldError] for another width, or that of w.
func (s *Sheet) ProofPicture(w io.Writer, width int) error {
	if err := svg.CheckWidth(width); err != nil {
		return err
	}
	title := "How good the plan is: " + s.proofInShort()
	p, y := svg.Titled(width, title, s.proof())
	left, right := p.Left(), p.Right()
	const high = 26 * svg.One
	top := y + 24*svg.One
	// Below the bound the strip is empty; half of it is the gap between bound and cost; the
	// rest is the plan and higher costs.
	cost, bound := s.plan.Cost, s.plan.Bound
	shown, complete := s.report.Bound()
	at := left + (right-left)*6/10
	closed := cost == bound
	switch {
	case closed:
	case bound <= 0: // a bound without information
		at = left
	default:
		at = left + (right-left)*3/10
	}
	planAt := at
	if !closed {
		planAt = left + (right-left)*8/10
	}
	none := svg.Box{X: left, Y: top, W: at - left, H: high}
	if none.W > 0 {
		p.Rect(none, lostStyle)
	}
	sure := none
	if !complete {
		sure.W = none.W * 6 / 10 // the part that rests on the search is in doubt
		p.Hatch([]svg.Point{{X: sure.X + sure.W, Y: top}, {X: at, Y: top}, {X: at, Y: top + high}, {X: sure.X + sure.W, Y: top + high}}, svg.HatchRising, hatchStyle)
	}
	p.Hatch(sure.Corners(), svg.HatchCrossed, hatchStyle)
	if !closed {
		open := svg.Box{X: at, Y: top, W: planAt - at, H: high}
		p.Rect(open, bareStyle)
		p.Put(svg.Text{At: svg.Point{X: (at + planAt) / 2, Y: top + high/2}, S: svg.Clip("not known", svg.Normal, open.W), Size: svg.Normal})
	}
	p.Rect(svg.Box{X: planAt, Y: top, W: right - planAt, H: high}, woodStyle)
	p.Put(svg.Text{At: svg.Point{X: (planAt + right) / 2, Y: top + high/2}, S: svg.Clip("dearer", svg.Normal, right-planAt), Size: svg.Normal})
	if none.W > 0 {
		p.Put(svg.Text{At: svg.Point{X: left + sure.W/2, Y: top + high/2}, S: svg.Clip("no plan", svg.Normal, sure.W), Size: svg.Normal, Plate: true})
	}
	mark := func(x svg.Unit) {
		p.Line(svg.Point{X: x, Y: top - 6*svg.One}, svg.Point{X: x, Y: top + high + 6*svg.One}, bladeStyle)
	}
	mark(planAt)
	below := top + high + 14*svg.One
	if closed {
		s.proofLabel(p, svg.Point{X: at, Y: top - 13*svg.One}, "nothing cheaper exists")
		s.proofLabel(p, svg.Point{X: at, Y: below}, "bound and cost "+s.cost(cost))
	} else {
		if bound > 0 {
			mark(at)
			s.proofLabel(p, svg.Point{X: at, Y: top - 13*svg.One}, "bound "+s.cost(bound))
		}
		s.proofLabel(p, svg.Point{X: planAt, Y: below}, "this plan "+s.cost(cost))
	}
	if !complete {
		p.Line(svg.Point{X: sure.X + sure.W, Y: top}, svg.Point{X: sure.X + sure.W, Y: top + high}, lineStyle)
		below += 14 * svg.One
		p.Put(svg.Text{At: svg.Point{X: left, Y: below}, S: svg.Clip("checked up to "+s.cost(max(shown, 0))+", beyond it searched", svg.Small, right-left), Anchor: svg.Start})
	}
	y = below + 12*svg.One
	if !closed && bound > 0 {
		y = s.gapStrip(p, y+6*svg.One)
	}
	p.Paragraph(y+4*svg.One, s.proof(), svg.Small, false)
	_, err := p.WriteTo(w)
	return err
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
		return "proven the best"
	case s.plan.Cost == s.plan.Bound:
		return "claimed the best, not shown"
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
	p.Put(svg.Text{At: svg.Point{X: left, Y: y + 6*svg.One}, S: svg.Clip("the same from zero on, to scale", svg.Small, w), Anchor: svg.Start})
	y += 14 * svg.One
	p.Rect(svg.Box{X: left, Y: y, W: w, H: high}, bareStyle)
	done := svg.Box{X: left, Y: y, W: svg.Unit(q), H: high}
	p.Rect(done, lostStyle)
	p.Hatch(done.Corners(), svg.HatchCrossed, hatchStyle)
	return y + high + 4*svg.One
}
