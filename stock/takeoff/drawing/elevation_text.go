package drawing

import (
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// openingText writes the name of an opening, and the heights of its sill and its head.
func (c *canvas) openingText(o *takeoff.Opening) {
	sill, x := c.sill(o), o.At+o.Width/5
	points, texts := []svg.Point{c.at(x, sill), c.at(x, sill+o.Height)}, []string{c.o.length(o.Height)}
	if o.Kind == takeoff.OpeningWindow && o.Sill > 0 {
		points, texts = append([]svg.Point{c.at(x, 0)}, points...), append([]string{c.o.length(o.Sill)}, texts...)
	}
	if c.p.Chain(points, 0, texts); o.RightHeight != o.Height {
		x = o.At + o.Width*4/5
		low := sill
		if o.Kind != takeoff.OpeningWindow {
			low -= o.RightHeight - o.Height
		}
		c.p.Chain([]svg.Point{c.at(x, low), c.at(x, low+o.RightHeight)}, 0, []string{c.o.length(o.RightHeight)})
	}
	c.name(o.Name, c.at(o.At+o.Width*3/5, sill+o.Height*3/5), c.v.scale.Of(o.Width)*4/5-8*svg.One)
}

// name writes a name, in several lines if it has several words and the space is narrow.
func (c *canvas) name(name string, mid svg.Point, room svg.Unit) {
	lines := []string{name}
	if words := strings.Fields(name); svg.WidthOf(name, svg.Small) > room && len(words) > 1 && len(words) < 4 && !slices.ContainsFunc(words, func(w string) bool { return len(w) < 3 || strings.ContainsAny(w, "0123456789") }) {
		lines = words
	}
	for i, l := range lines {
		at := mid.Add(0, svg.HeightOf(svg.Small)*svg.Unit(i))
		var spots []svg.Spot
		for _, off := range []svg.Unit{-12, 12, -24, 24, 36} {
			spots = append(spots, svg.Spot{At: at.Add(0, off*svg.One)})
		}
		t := svg.Text{At: at, S: svg.Clip(l, svg.Small, max(room, 50*svg.One)), Plate: true}
		if !c.p.Clear(t.Box()) { // off the trim if possible
			for _, s := range spots {
				moved := t
				if moved.At = s.At; c.p.Clear(moved.Box()) {
					t = moved
					break
				}
			}
		}
		c.p.Label(t, spots...)
	}
}

// numbers writes the number of each piece of a run beside it. Before is the runs in front of
// it.
func (c *canvas) numbers(m *member, before []*member) {
	var covers []svg.Box
	for _, b := range before {
		if b.run.Slope%(90*measure.Degree) == 0 && b.ring == nil {
			covers = append(covers, extent(c.points(c.outline(c.v, b, 0, b.run.Length))))
		}
	}
	for _, q := range m.parts {
		outline := c.points(c.outline(c.v, m, q.from, q.to))
		n := len(outline)
		switch {
		case m.ring != nil: // at its top
			const k = ringSteps/2 - 4
			outline = []svg.Point{outline[n-1-k], outline[n-1-ringSteps+k], outline[ringSteps-k], outline[k]}
			n = 4
		case len(m.run.Outline) > 0:
			outline = []svg.Point{outline[0], outline[1], outline[n-2], outline[n-1]}
			n = 4
		}
		ends := [4]svg.Point{outline[0], outline[n-3], outline[n-2], outline[n-1]} // low, low, high, high
		c.number(strconv.Itoa(q.number), ends, covers)
	}
}

// number writes a number on a piece if it is wide enough, or beside it with a leader.
func (c *canvas) number(text string, ends [4]svg.Point, covers []svg.Box) {
	low, high := middle(ends[0], ends[1]), middle(ends[3], ends[2])
	h := svg.HeightOf(svg.Small)
	// The visible part of its width.
	across := svg.Unit(50)
	for _, s := range []svg.Unit{50, 15, 85, 4, 96} {
		if q := between(low, high, s); !slices.ContainsFunc(covers, func(b svg.Box) bool { return inside(q, b) }) {
			across = s
			break
		}
	}
	m := strip{
		from: between(ends[0], ends[3], across), to: between(ends[1], ends[2], across), wide: span(ends[0], ends[3]),
		upright: span2(ends[0].Y, ends[1].Y) > span2(ends[0].X, ends[1].X),
	}
	t := svg.Text{S: text, Plate: true}
	// Along the middle first, then toward the ends.
	shares := []svg.Unit{50, 35, 65, 20, 80, 42, 58, 10, 90, 28, 72, 5, 95}
	if m.wide >= h && across == 50 && (!m.upright || m.wide >= svg.WidthOf(text, svg.Small)+2*svg.One) {
		for _, s := range shares {
			if t.At = between(m.from, m.to, s); c.p.Label(t) {
				return
			}
		}
	}
	for _, fits := range []func(svg.Box) bool{c.p.Clear, c.p.Free} { // off other pieces if possible
		for _, off := range []svg.Unit{1, 2, 3, 4} {
			for _, s := range shares {
				for _, q := range m.beside(text, s, off) {
					t.At = q[1]
					if box := t.Box(); fits(svg.Box{X: box.X - 3*svg.One, Y: box.Y, W: box.W + 6*svg.One, H: box.H}) {
						c.p.Put(t)
						c.p.Line(q[0], q[1], leader)
						c.p.Circle(q[0], 90, svg.Style{Fill: svg.Ink})
						return
					}
				}
				if m.upright && off > 1 {
					break
				}
			}
		}
	}
	// In the margin below, over anything: it may be at any distance.
	for off := svg.Unit(5); off < 200; off++ {
		on := between(m.from, m.to, 50)
		if t.At = on.Add(0, h*off); c.p.Label(t, svg.Spot{At: on.Add(30*svg.One, h*off)}, svg.Spot{At: on.Add(-30*svg.One, h*off)}) {
			c.p.Line(on, on.Add(0, h*off-h/2), leader)
			return
		}
	}
}

// strip is a piece of trim as drawn: the ends of the line along the visible part of its width.
type strip struct {
	from, to svg.Point
	wide     svg.Unit
	upright  bool
}

// beside returns places for a text beside a strip, at a share of its length and a distance in
// heights of the text: where a leader begins, and the middle of the text.
func (m strip) beside(text string, share, off svg.Unit) [][2]svg.Point {
	on, h := between(m.from, m.to, share), svg.HeightOf(svg.Small)
	if !m.upright {
		away := m.wide/2 + h*off - h*3/10
		return [][2]svg.Point{{on, on.Add(0, -away)}, {on, on.Add(0, away)}}
	}
	if off > 1 { // then above and below its ends
		high, low := between(m.from, m.to, 95), between(m.from, m.to, 5)
		if high.Y > low.Y {
			high, low = low, high
		}
		return [][2]svg.Point{{high, high.Add(0, -h*(off-1))}, {low, low.Add(0, h*(off-1))}}
	}
	away := m.wide/2 + svg.WidthOf(text, svg.Small)/2 + 3*svg.One
	return [][2]svg.Point{{on, on.Add(-away, 0)}, {on, on.Add(away, 0)}}
}

func inside(q svg.Point, b svg.Box) bool {
	return q.X > b.X && q.X < b.X+b.W && q.Y > b.Y && q.Y < b.Y+b.H
}

// extent is the box that points take.
func extent(points []svg.Point) svg.Box {
	lo, hi := points[0], points[0]
	for _, q := range points {
		lo = svg.Point{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
		hi = svg.Point{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	return svg.Box{X: lo.X, Y: lo.Y, W: hi.X - lo.X, H: hi.Y - lo.Y}
}

func middle(a, b svg.Point) svg.Point { return between(a, b, 50) }

// between returns the point at the given hundredths of the way from a to b.
func between(a, b svg.Point, share svg.Unit) svg.Point {
	return svg.Point{X: a.X + (b.X-a.X)*share/100, Y: a.Y + (b.Y-a.Y)*share/100}
}

func span2(a, b svg.Unit) svg.Unit { return max(a-b, b-a) }

// span is how far two points are apart, the longer way.
func span(a, b svg.Point) svg.Unit { return max(span2(a.X, b.X), span2(a.Y, b.Y)) }

// dimensions draws the heights, the positions of openings and the length.
func (c *canvas) dimensions() {
	long := c.v.place.Length
	left, right := c.v.place.HeightLeft, c.v.place.HeightRight
	outer := c.v.left
	if left > 0 {
		c.p.Dimension(c.at(outer, 0), c.at(outer, left), -12*svg.One, c.o.length(left))
	}
	if right > 0 && right != left {
		c.p.Dimension(c.at(c.v.right, c.floor(c.v, long)), c.at(c.v.right, right+c.floor(c.v, long)), 12*svg.One, c.o.length(right))
	} else {
		c.rails()
	}
	ground := c.at(0, min(0, c.v.low)).Y
	row := ground + 30*svg.One
	if len(c.v.place.Openings) > 0 {
		stops := []measure.Length{0}
		for _, o := range c.v.place.Openings {
			stops = append(stops, o.At, o.At+o.Width)
		}
		stops = append(stops, long)
		var points []svg.Point
		var texts []string
		for i, x := range stops {
			if i > 0 {
				x = max(x, stops[i-1]) // openings may overlap
				if stops[i] = x; x > stops[i-1] {
					points = append(points, c.at(x, 0))
					texts = append(texts, c.o.length(x-stops[i-1]))
				}
				continue
			}
			points = append(points, c.at(x, 0))
		}
		c.p.Chain(points, row-points[0].Y, texts)
		row += 24 * svg.One
	}
	a, b := c.at(0, 0), c.at(long, 0)
	c.p.Chain([]svg.Point{a, b}, row-a.Y, []string{c.o.length(long)})
}

// rails draws the heights of the lower edges of rails.
func (c *canvas) rails() {
	off := 12 * svg.One
	seen := map[measure.Length]bool{}
	for i := range c.v.members {
		r := c.v.members[i].run
		if r.Slope != 0 || seen[r.Bottom] || r.Bottom <= 0 || !c.rail(r) {
			continue
		}
		seen[r.Bottom] = true
		if off > 30*svg.One {
			return
		}
		c.p.Dimension(c.at(c.v.right, 0), c.at(c.v.right, r.Bottom), off, c.o.length(r.Bottom))
		off += 15 * svg.One
	}
}

// rail reports whether a run has a chosen height.
func (e *elevation) rail(r *stock.Run) bool {
	if w := e.scheme.Wainscot; r.Role == stock.RoleCap {
		return w != nil && w.Cap != nil && r.Profile == w.Cap.Name
	}
	return r.Role == stock.RoleChairRail || r.Role == stock.RolePictureRail
}
