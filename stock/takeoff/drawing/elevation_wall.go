package drawing

import (
	"slices"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// depth orders runs from the wall to the room: 0 is hidden, 1 on the wall, more before it.
func depth(m *member) int {
	switch {
	case m.run.Role == stock.RoleBacking:
		return 0
	case m.run.Role == stock.RoleShoe, m.run.Role == stock.RoleBackband, m.run.Role == stock.RoleStool:
		return 3
	case m.run.Standoff > 0:
		return 2
	}
	return 1
}

// head writes the name and the length of the wall.
func (c *canvas) head(x, y svg.Unit) {
	room := c.width(c.v) - 4*svg.One
	name, size := c.room.Walls[c.v.wall].Name, c.o.length(c.v.place.Length)
	if svg.WidthOf(name+"  "+size, svg.Normal) <= room {
		c.p.Put(svg.Text{At: svg.Point{X: x, Y: y + 8*svg.One}, S: name, Size: svg.Normal, Anchor: svg.Start, Bold: true})
		c.p.Put(svg.Text{At: svg.Point{X: x + svg.WidthOf(name+"  ", svg.Normal), Y: y + 8*svg.One}, S: size, Size: svg.Normal, Anchor: svg.Start})
		return
	}
	c.p.Put(svg.Text{At: svg.Point{X: x, Y: y + 8*svg.One}, S: svg.Clip(name, svg.Normal, room), Size: svg.Normal, Anchor: svg.Start, Bold: true})
	c.p.Put(svg.Text{At: svg.Point{X: x, Y: y + 21*svg.One}, S: svg.Clip(size, svg.Small, room), Anchor: svg.Start})
}

// bare draws the wall itself with its studs.
func (c *canvas) bare() {
	w, long := &c.room.Walls[c.v.wall], c.v.place.Length
	var low, high []at
	low = append(low, at{0, c.floor(c.v, 0)})
	for _, f := range w.Floor {
		if f.At > 0 && f.At < long {
			low = append(low, at{f.At, c.floor(c.v, f.At)})
		}
	}
	low = append(low, at{long, c.floor(c.v, long)})
	high = append(high, at{long, c.ceiling(c.v, long)})
	for _, f := range slices.Backward(w.Ceiling) {
		if f.At > 0 && f.At < long {
			high = append(high, at{f.At, c.ceiling(c.v, f.At)})
		}
	}
	high = append(high, at{0, c.ceiling(c.v, 0)})
	c.p.Polygon(c.points(append(low, high...)), svg.Style{Fill: svg.Paper, Stroke: svg.Ink, Width: 120})
	if c.v.guessed {
		c.p.Line(c.at(0, c.v.high), c.at(long, c.v.high), svg.Style{Stroke: svg.Paper, Width: 160})
		c.p.Line(c.at(0, c.v.high), c.at(long, c.v.high), hidden)
	}
	if len(c.v.place.Studs) == 0 || c.v.scale.Of(long)/svg.Unit(len(c.v.place.Studs)) < 3*svg.One {
		return // they would be a gray field
	}
	var ends []svg.Point
	for _, x := range c.v.place.Studs {
		if x > 0 && x < long {
			ends = append(ends, c.at(x, c.floor(c.v, x)), c.at(x, c.ceiling(c.v, x)))
		}
	}
	c.p.Lines(ends, studs)
}

// opening draws a hole with its name and size.
func (c *canvas) opening(o *takeoff.Opening) {
	sill := c.sill(o)
	drop := measure.Length(0) // of the floor at the right jamb
	if o.Kind != takeoff.OpeningWindow {
		drop = o.RightHeight - o.Height
	}
	wider := (o.TopWidth - o.Width) / 2
	left, right, head := o.At, o.At+o.Width, sill+o.Height
	shape := c.points([]at{{left, sill}, {right, sill - drop}, {right + wider, head}, {left - wider, head}})
	c.p.Polygon(shape, openings)
	if o.ArchRise > 0 {
		c.arch(o, head)
	}
	switch o.Kind {
	case takeoff.OpeningWindow: // panes
		c.p.Line(c.at((left+right)/2, sill), c.at((left+right)/2, head), thin)
		c.p.Line(c.at(left, sill+o.Height/2), c.at(right, sill+o.Height/2), thin)
	case takeoff.OpeningCased, takeoff.OpeningPlain: // nothing in it
		c.p.Lines([]svg.Point{shape[0], shape[2], shape[1], shape[3]}, thin)
	}
}

// arch draws the head of an opening that is a part of a circle.
func (c *canvas) arch(o *takeoff.Opening, head measure.Length) {
	a, b := c.at(o.At, head), c.at(o.At+o.Width, head)
	half, rise := (b.X-a.X)/2, c.v.scale.Of(o.ArchRise)
	if rise <= 0 {
		return
	}
	radius := (half*half/rise + rise) / 2
	c.p.Arc(a, b, radius, false, svg.Style{Fill: svg.Shade, Stroke: svg.Ink, Width: 60})
	c.p.Line(a, b, svg.Style{Stroke: svg.Shade, Width: 100})
}

// fixtures draws obstacles at the wall, plates, and trim that stays.
func (c *canvas) fixtures() {
	w := &c.room.Walls[c.v.wall]
	for _, f := range w.Fixtures {
		high := f.Height
		if high == 0 {
			high = min(c.v.high, 3*measure.Foot)
		}
		c.solid(f.Name, []at{{f.At, f.Bottom}, {f.At + f.Width, f.Bottom}, {f.At + f.Width, high}, {f.At, high}}, svg.HatchFalling)
	}
	for _, t := range w.Stretches {
		if !t.Existing || t.Role != stock.RoleBase && t.Role != stock.RoleShoe {
			continue
		}
		to := t.At + t.Width
		if t.Width == 0 {
			to = c.v.place.Length
		}
		c.solid(t.Name, []at{{t.At, 0}, {to, 0}, {to, t.Profile.Width}, {t.At, t.Profile.Width}}, svg.HatchDense)
	}
	for i := range w.Devices {
		d := &w.Devices[i]
		left, right, bottom, top := d.Plate()
		shape := c.points([]at{{left, bottom}, {right, bottom}, {right, top}, {left, top}})
		c.p.Polygon(shape, svg.Style{Fill: svg.Paper, Stroke: svg.Ink, Width: 60})
		mid := c.at((left+right)/2, top)
		c.p.Label(svg.Text{At: mid.Add(0, -8*svg.One), S: svg.Clip(d.Name, svg.Small, 90*svg.One), Plate: true})
	}
}

// solid draws things that are not pieces: hatched, with a name.
func (c *canvas) solid(name string, shape []at, kind svg.Hatch) {
	points := c.points(shape)
	c.p.Polygon(points, svg.Style{Fill: svg.Paper, Stroke: svg.Quiet, Width: 60})
	c.p.Hatch(points, kind, svg.Style{Stroke: svg.Quiet, Width: 50})
	if name == "" {
		return
	}
	mid := c.at((shape[0].x+shape[2].x)/2, (shape[0].y+shape[2].y)/2)
	t := svg.Text{At: mid, S: svg.Clip(name, svg.Small, 160*svg.One), Plate: true}
	high := c.at(0, shape[2].y).Y - 8*svg.One
	c.p.Label(t, svg.Spot{At: svg.Point{X: mid.X, Y: high}}, svg.Spot{At: svg.Point{X: mid.X, Y: high - 13*svg.One}})
}

// panels draws the panels in frames of wainscot.
func (c *canvas) panels() {
	w := c.room.Walls[c.v.wall].Name
	for i := range c.list.Panels {
		p := &c.list.Panels[i]
		if p.Room != c.room.Name || p.Wall != w {
			continue
		}
		shape := c.points([]at{{p.Start, p.Bottom}, {p.Start + p.Width, p.Bottom}, {p.Start + p.Width, p.Bottom + p.Height}, {p.Start, p.Bottom + p.Height}})
		c.p.Group(p.Label)
		c.p.Polygon(shape, thin)
		c.p.End()
	}
}

// member draws a run piece by piece, with its splices.
func (c *canvas) member(m *member) {
	style := piece
	if m.run.Role == stock.RoleBacking {
		style = hidden
	}
	for _, q := range m.parts {
		outline := c.points(c.outline(c.v, m, q.from, q.to))
		c.p.Group(c.list.Pieces[q.piece].Label)
		c.p.Polygon(outline, style)
		c.p.End()
		if m.run.Slope%(90*measure.Degree) == 0 && m.ring == nil {
			c.p.Spare(extent(outline))
		}
	}
	for _, s := range m.run.Splices {
		if len(m.run.Outline) > 0 || m.ring != nil {
			continue
		}
		cut := shape(m.run, m.wide, s, s, c.bent(c.v))
		a, b := c.at(cut[0].x, cut[0].y), c.at(cut[len(cut)-1].x, cut[len(cut)-1].y)
		c.p.Line(a.Add(-150, 300), b.Add(150, -300), splices)
	}
}

// notches draws the obstacles around which runs are notched.
func (c *canvas) notches() {
	w := c.room.Walls[c.v.wall].Name
	for _, n := range c.list.Notches {
		if n.Room == c.room.Name && n.Wall == w {
			c.solid("", []at{{n.At, n.Bottom}, {n.At + n.Width, n.Bottom}, {n.At + n.Width, n.Top}, {n.At, n.Top}}, svg.HatchFalling)
		}
	}
}

// stair draws the steps at the wall.
func (c *canvas) stair() {
	s := c.room.Walls[c.v.wall].Stair
	if s == nil {
		return
	}
	shape := stepsOf(s)
	last := shape[len(shape)-1]
	shape = append(shape, at{last.x, 0})
	c.solid("", shape, svg.HatchFalling)
}

// stepsOf is the line along the steps of a stair, from the foot up.
func stepsOf(s *takeoff.Stair) []at {
	f := s.Flight
	shape := []at{{s.At, 0}}
	dir := measure.Length(1)
	if s.RisesLeft {
		dir = -1
	}
	for i := range min(f.Risers, 1000) {
		n := measure.Length(i)
		x := s.At + dir*n*f.Run
		shape = append(shape, at{x, (n + 1) * f.Rise}, at{x + dir*f.Run, (n + 1) * f.Rise})
	}
	return shape[:len(shape)-1] // the last riser is the upper floor's
}

// steps draws the edges of the steps, which are before the skirt, and the name of the stair.
func (c *canvas) steps() {
	s := c.room.Walls[c.v.wall].Stair
	if s == nil {
		return
	}
	shape := c.points(stepsOf(s))
	c.p.Polyline(shape, svg.Style{Stroke: svg.Ink, Width: 100})
	last := shape[len(shape)-1]
	at := svg.Point{X: last.X - (last.X-shape[0].X)/3, Y: shape[0].Y - (shape[0].Y-last.Y)/5}
	c.p.Label(svg.Text{At: at, S: "stair", Plate: true}, svg.Spot{At: at.Add(0, -14*svg.One)}, svg.Spot{At: at.Add(0, 14*svg.One)})
}
