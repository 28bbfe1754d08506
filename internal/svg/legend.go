package svg

import "example.com/longpoint/measure"

// An Entry explains one kind of element of a picture by a sample of it.
type Entry struct {
	Style  Style // of the sample: a box, or a line if Fill is empty and Hatch is none
	Hatch  Hatch
	Sample string                     // a letter instead of the box
	Draw   func(p *Picture, at Point) // draws the sample around a point, no higher or wider than 14 units
	Text   string
}

// Legend writes entries from y down, side by side if they fit, and returns where it ends.
func (p *Picture) Legend(y Unit, entries []Entry) Unit {
	const sample, gap = 18 * One, 6 * One
	h := HeightOf(Small) + 3*One
	x := p.Left()
	for _, e := range entries {
		lead := max(sample, WidthOf(e.Sample, Small))
		need := lead + gap + WidthOf(e.Text, Small)
		if x > p.Left() && x+need > p.Right() {
			x, y = p.Left(), y+h
		}
		b := Box{x, y + 2*One, lead, h - 4*One}
		switch {
		case e.Draw != nil:
			e.Draw(p, Point{x + lead/2, y + h/2})
		case e.Sample != "":
			p.Put(Text{At: Point{x + lead/2, y + h/2}, S: e.Sample, Bold: true})
		case e.Style.Fill == "" && e.Hatch == HatchNone:
			p.Line(Point{x, y + h/2}, Point{x + lead, y + h/2}, e.Style)
		default:
			p.Rect(b, e.Style)
			p.Hatch(b.Corners(), e.Hatch, Style{Stroke: Quiet, Width: 60})
		}
		end := p.Block(Point{x + lead + gap, y + (h-HeightOf(Small))/2}, p.Right()-x-lead-gap, e.Text, Small, false)
		if end > y+h {
			x, y = p.Left(), end+3*One
			continue
		}
		x += need + 3*gap
	}
	if x > p.Left() {
		y += h
	}
	return y
}

// ScaleBar draws a bar of a round length at the left margin, at most a third of the picture
// wide, with its length as format writes it, and returns where it ends. Steps are the possible
// lengths, ascending, such as 1 in, 6 in, 1 ft, 2 ft.
func (p *Picture) ScaleBar(y Unit, k Scale, steps []measure.Length, format func(measure.Length) string) Unit {
	return p.ScaleBarAt(Point{p.Left(), y}, k, steps, format)
}

// ScaleBarAt is ScaleBar with the bar at a given point.
func (p *Picture) ScaleBarAt(at Point, k Scale, steps []measure.Length, format func(measure.Length) string) Unit {
	y := at.Y
	var l measure.Length
	for _, s := range steps {
		if u := k.Of(s); u <= (p.Right()-p.Left())/3 && (l == 0 || u <= 120*One) {
			l = s
		}
	}
	if l <= 0 || k.Of(l) < One {
		return y
	}
	w, h := k.Of(l), 5*One
	x, top := at.X, y+(HeightOf(Small)-h)/2
	p.Rect(Box{x, top, w, h}, Style{Fill: Paper, Stroke: Ink})
	p.Rect(Box{x, top, w / 2, h}, Style{Fill: Ink, Stroke: Ink})
	p.Put(Text{At: Point{x + w + 6*One, y + HeightOf(Small)/2}, S: format(l), Anchor: Start})
	return y + HeightOf(Small)
}
