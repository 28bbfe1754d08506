package svg

// Sizes of a dimension.
const (
	arrowLong = 6 * One
	arrowHalf = 2 * One
	overrun   = 2 * One // of the extension lines beyond the dimension line
)

var dimensionStyle = Style{Stroke: Quiet, Width: 60}

// Dimension draws the distance from a to b: extension lines from both, a line with arrowheads
// at a distance from them - to the right of the direction from a to b, or to the left if off is
// negative - and a text. If there is no room between the heads, they are outside and point
// inward, and the text moves outside. It returns false, without a text, if there is no room for
// it at all.
func (p *Picture) Dimension(a, b Point, off Unit, text string) bool {
	long := far(a, b)
	if long == 0 {
		return false
	}
	c, d := p.dimensionLine(a, b, off, long)
	return p.dimensionText(c, d, Point{c.X - a.X, c.Y - a.Y}, long, text)
}

// dimensionLine draws the lines of a dimension, and returns the ends of the dimension line.
func (p *Picture) dimensionLine(a, b Point, off, long Unit) (c, d Point) {
	// n is off to the right.
	n := along(Point{}, Point{-(b.Y - a.Y), b.X - a.X}, off, long)
	c, d = a.Add(n.X, n.Y), b.Add(n.X, n.Y)
	if o := max(off, -off); o > 0 {
		tail := along(Point{}, n, overrun, o)
		gap := along(Point{}, n, min(overrun, o/2), o)
		p.Line(a.Add(gap.X, gap.Y), c.Add(tail.X, tail.Y), dimensionStyle)
		p.Line(b.Add(gap.X, gap.Y), d.Add(tail.X, tail.Y), dimensionStyle)
	}
	if box := (Box{min(c.X, d.X) - One, min(c.Y, d.Y) - One, abs(d.X-c.X) + 2*One, abs(d.Y-c.Y) + 2*One}); c.X == d.X || c.Y == d.Y {
		p.Spare(box)
	}
	if long >= 3*arrowLong {
		p.Line(c, d, dimensionStyle)
		p.Arrow(d, c)
		p.Arrow(c, d)
	} else {
		e, f := along(d, c, long+2*arrowLong, long), along(c, d, long+2*arrowLong, long)
		p.Line(e, f, dimensionStyle)
		p.Arrow(e, c)
		p.Arrow(f, d)
	}
	return c, d
}

// Chain draws dimensions between consecutive points on one line, at a distance from it as in
// Dimension. A text that does not fit between its heads is beside its own dimension line, so
// that it is not mistaken for a neighbor's. It returns the indices of the texts without room.
func (p *Picture) Chain(points []Point, off Unit, texts []string) (left []int) {
	type wait struct {
		i    int
		t    Text
		c, d Point
	}
	var narrow []wait
	for i := 0; i+1 < len(points) && i < len(texts); i++ {
		a, b := points[i], points[i+1]
		long := far(a, b)
		if long == 0 {
			continue
		}
		c, d := p.dimensionLine(a, b, off, long)
		t := Text{S: texts[i], Plate: true, At: Point{(c.X + d.X) / 2, (c.Y + d.Y) / 2}, Upright: c.X == d.X}
		if long < WidthOf(t.S, Small)+2*arrowLong+4*One || !p.Label(t) {
			narrow = append(narrow, wait{i, t, c, d})
		}
	}
	h := HeightOf(Small)
	for _, w := range narrow {
		var spots []Spot
		w.t.Plate = false
		for _, by := range []Unit{h * 8 / 10, -h * 8 / 10, 2 * h, -2 * h} {
			if w.t.Upright {
				spots = append(spots, Spot{At: w.t.At.Add(by, 0), Upright: true})
			} else {
				spots = append(spots, Spot{At: w.t.At.Add(0, by)})
			}
		}
		if !p.labelAt(w.t, spots) {
			left = append(left, w.i)
		}
	}
	return left
}

// Arrow draws an arrowhead at b that points from a to b.
func (p *Picture) Arrow(a, b Point) {
	long := far(a, b)
	if long == 0 {
		return
	}
	back := along(b, a, arrowLong, long)
	side := along(Point{}, Point{-(b.Y - a.Y), b.X - a.X}, arrowHalf, long)
	p.Polygon([]Point{b, back.Add(side.X, side.Y), back.Add(-side.X, -side.Y)}, Style{Fill: Quiet})
}

// dimensionText writes the text of the dimension line from c to d, on the side n away from the
// object.
func (p *Picture) dimensionText(c, d, n Point, long Unit, text string) bool {
	mid := Point{(c.X + d.X) / 2, (c.Y + d.Y) / 2}
	w, h := WidthOf(text, Small), HeightOf(Small)
	lo, hi := Point{min(c.X, d.X), min(c.Y, d.Y)}, Point{max(c.X, d.X), max(c.Y, d.Y)}
	beyond := 2*arrowLong + 2*One
	t := Text{S: text, Plate: true}
	switch {
	case c.Y == d.Y:
		var spots []Spot
		if long < w+2*arrowLong+4*One {
			spots = []Spot{{At: hi.Add(beyond, 0), Anchor: Start}, {At: lo.Add(-beyond, 0), Anchor: End}}
		} else {
			spots = []Spot{{At: mid}}
		}
		away := h * 9 / 10
		if n.Y < 0 {
			away = -away
		}
		return p.labelAt(t, append(spots, Spot{At: mid.Add(0, away)}, Spot{At: mid.Add(0, -away)}, Spot{At: mid.Add(0, 2*away)}))
	case c.X == d.X:
		away, anchor := h/2+One, Start
		if n.X < 0 {
			away, anchor = -away, End
		}
		var spots []Spot
		if long >= w+2*arrowLong+4*One {
			spots = append(spots, Spot{At: mid, Upright: true})
		}
		return p.labelAt(t, append(spots, Spot{At: mid.Add(away, 0), Anchor: anchor}, Spot{At: Point{mid.X, lo.Y - beyond - h/2}},
			Spot{At: Point{mid.X, hi.Y + beyond + h/2}}, Spot{At: mid.Add(away, 0), Upright: true}))
	}
	// Beside a slanted line: away from the object, far enough that the text does not touch it.
	far := max(far(Point{}, n), 1)
	out := func(by Unit) Spot {
		q := along(Point{}, n, by, far)
		reach := abs(q.X)*w/2/max(by, 1) + abs(q.Y)*h/2/max(by, 1) + 3*One
		q = along(Point{}, n, reach+by-One, far)
		return Spot{At: mid.Add(q.X, q.Y)}
	}
	return p.labelAt(t, []Spot{out(One), out(h), out(2 * h), out(4 * h)})
}

func (p *Picture) labelAt(t Text, spots []Spot) bool {
	t.At, t.Anchor, t.Upright = spots[0].At, spots[0].Anchor, spots[0].Upright
	return p.Label(t, spots[1:]...)
}

func abs(u Unit) Unit { return max(u, -u) }
