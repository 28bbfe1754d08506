package drawing

import (
	"slices"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
)

// Margins around a wall for text.
const (
	padLeft  = 34 * svg.One // the height
	padRight = 34 * svg.One
	padAbove = 44 * svg.One // the name, and numbers of pieces at the ceiling
	padBelow = 64 * svg.One // numbers of pieces at the floor, and dimensions
)

var (
	edge     = svg.Style{Stroke: svg.Ink, Width: 80}
	thin     = svg.Style{Stroke: svg.Quiet, Width: 50}
	piece    = svg.Style{Fill: svg.Wood, Stroke: svg.Ink, Width: 60}
	hidden   = svg.Style{Stroke: svg.Quiet, Width: 60, Dashed: true}
	studs    = svg.Style{Stroke: svg.Quiet, Width: 40, Dashed: true}
	openings = svg.Style{Fill: svg.Shade, Stroke: svg.Ink, Width: 60}
	splices  = svg.Style{Stroke: svg.Mark, Width: 160}
	leader   = svg.Style{Stroke: svg.Quiet, Width: 40}
)

func (e *elevation) draw() {
	title := e.room.Name + ": the walls"
	if len(e.views) == 1 {
		title = e.room.Name + ": " + e.room.Walls[0].Name
	}
	p, y := e.o.begin(title, e.describe())
	e.p = p
	e.fit()
	y = p.Paragraph(y, e.lead(), svg.Small, false) + 4*svg.One
	y = e.walls(y)
	if !e.own {
		y = e.o.bar(p, y+4*svg.One, e.views[0].scale) + 4*svg.One
	}
	y = p.Legend(y, e.key()) + 6*svg.One
	e.table(y)
}

// lead explains how to read the picture.
func (e *elevation) lead() string {
	text := "Seen from the room, left to right. Each number is a piece, listed below with its ends, left | right."
	if e.own {
		text += " Each wall is drawn to its own scale."
	}
	return text
}

// fit chooses the scale: the longest wall takes the width, but no wall is higher than three
// fifths of it. On a telephone each wall has its own scale, since short ones could not be read.
func (e *elevation) fit() {
	room := e.p.Right() - e.p.Left() - padLeft - padRight
	var wide, high measure.Length
	for i := range e.views {
		v := &e.views[i]
		wide, high = max(wide, v.right-v.left), max(high, v.high-v.low)
		v.scale = svg.Fit(v.right-v.left, room).Smaller(svg.Fit(v.high-v.low, e.p.Width()*4/5))
	}
	if e.own = !e.o.wide() && len(e.views) > 1; e.own {
		return
	}
	scale := svg.Fit(wide, room).Smaller(svg.Fit(high, e.p.Width()*3/5))
	for i := range e.views {
		e.views[i].scale = scale
	}
}

// walls draws the walls side by side, as far as they fit, and returns where they end.
func (e *elevation) walls(y svg.Unit) svg.Unit {
	for i := 0; i < len(e.views); {
		x, n, above, below := e.p.Left(), i, svg.Unit(0), svg.Unit(0)
		for n < len(e.views) {
			w := e.width(&e.views[n])
			if n > i && (e.own || x+w > e.p.Right()) {
				break
			}
			x += w
			v := &e.views[n]
			above, below = max(above, v.scale.Of(v.high)), max(below, v.scale.Of(-v.low))
			n++
		}
		ground := y + padAbove + above
		for x = e.p.Left(); i < n; i++ {
			e.wall(&e.views[i], svg.Point{X: x, Y: ground})
			x += e.width(&e.views[i])
		}
		y = max(e.p.Height(), ground+below+padBelow) + 6*svg.One
		if e.own {
			y = e.o.bar(e.p, y, e.views[i-1].scale) + 8*svg.One
		}
	}
	return y
}

// width returns the width of a wall with its margins.
func (e *elevation) width(v *view) svg.Unit {
	drawn := v.scale.Of(v.right-v.left) + padLeft + padRight
	return min(max(drawn, 110*svg.One), e.p.Right()-e.p.Left())
}

// canvas maps positions on a wall to points.
type canvas struct {
	*elevation
	v    *view
	zero svg.Point // the left end of the wall on the floor
}

func (c *canvas) at(x, y measure.Length) svg.Point {
	return svg.Point{X: c.zero.X + c.v.scale.Of(x), Y: c.zero.Y - c.v.scale.Of(y)}
}

func (c *canvas) points(shape []at) []svg.Point {
	out := make([]svg.Point, len(shape))
	for i, q := range shape {
		out[i] = c.at(q.x, q.y)
	}
	return out
}

// wall draws one wall with its left pad at a point of the floor.
func (e *elevation) wall(v *view, at svg.Point) {
	c := canvas{elevation: e, v: v, zero: at.Add(padLeft-v.scale.Of(v.left), 0)}
	w := &e.room.Walls[v.wall]
	e.p.Group(e.room.Name + " " + w.Name)
	top := c.zero.Y - v.scale.Of(v.high)
	c.head(at.X, top-padAbove)
	c.bare()
	c.stair()
	for i := range v.place.Openings {
		c.opening(&v.place.Openings[i])
	}
	c.fixtures()
	c.panels()
	order := make([]*member, len(v.members))
	for i := range v.members {
		order[i] = &v.members[i]
	}
	slices.SortStableFunc(order, func(a, b *member) int { return int(depth(a) - depth(b)) })
	for _, m := range order {
		c.member(m)
	}
	c.notches()
	c.steps()
	c.dimensions()
	for i := range v.place.Openings {
		c.openingText(&v.place.Openings[i])
	}
	for i, m := range order {
		c.numbers(m, order[i+1:])
	}
	e.p.End()
}
