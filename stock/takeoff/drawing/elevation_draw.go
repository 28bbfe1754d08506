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

// Room around a wall for what is written there.
const (
	padLeft  = 34 * svg.One // the height
	padRight = 34 * svg.One
	padAbove = 44 * svg.One // the name, and numbers of what is at the ceiling
	padBelow = 64 * svg.One // numbers of what is at the floor, and dimensions
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

// lead says how to read the picture.
func (e *elevation) lead() string {
	text := "Seen from the room, left to right. A number is a piece; what it is stands below."
	if e.own {
		text += " Each wall is drawn to a scale of its own."
	}
	return text
}

// fit chooses the scale: the longest wall takes the width, but none is higher than three fifths of
// that. On a telephone each wall has a scale of its own, since short ones could not be read.
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

// walls draws the walls side by side, as far as they go, and returns where they end.
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

// width is the room that a wall takes from side to side.
func (e *elevation) width(v *view) svg.Unit {
	drawn := v.scale.Of(v.right-v.left) + padLeft + padRight
	return min(max(drawn, 110*svg.One), e.p.Right()-e.p.Left())
}

// canvas turns places on a wall into points.
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

// opening draws a hole with what it is called and how large it is.
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

// openingText writes what an opening is called, and how high its sill and its head are.
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

// name writes a name, in several lines where it has words and the room is narrow.
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
		t := svg.Text{At: at, S: svg.Clip(l, svg.Small, max(room, 40*svg.One)), Plate: true}
		if !c.p.Clear(t.Box()) { // off the trim, if that can be
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

// fixtures draws what stands at the wall, plates, and trim that stays.
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

// solid draws what is no piece: hatched, with a name.
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

// panels draws what frames of wainscot hold.
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

// notches draws what runs are cut around.
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

// numbers writes the number of each piece of a run beside it. Before is what lies before it.
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

// number writes a number on a piece if it is wide enough, or beside it with a line to it.
func (c *canvas) number(text string, ends [4]svg.Point, covers []svg.Box) {
	wide := span(ends[0], ends[3])
	low, high := middle(ends[0], ends[1]), middle(ends[3], ends[2])
	upright := span2(ends[0].Y, ends[1].Y) > span2(ends[0].X, ends[1].X)
	h := svg.HeightOf(svg.Small)
	// Where of its width the piece is to be seen.
	across := svg.Unit(50)
	for _, s := range []svg.Unit{50, 15, 85, 4, 96} {
		if q := between(low, high, s); !slices.ContainsFunc(covers, func(b svg.Box) bool { return inside(q, b) }) {
			across = s
			break
		}
	}
	a, b := between(ends[0], ends[3], across), between(ends[1], ends[2], across)
	t := svg.Text{S: text, Plate: true}
	// Along the middle first, then toward the ends.
	shares := []svg.Unit{50, 35, 65, 20, 80, 42, 58, 10, 90, 28, 72, 5, 95}
	if wide >= h && across == 50 && (!upright || wide >= svg.WidthOf(text, svg.Small)+2*svg.One) {
		for _, s := range shares {
			if t.At = between(a, b, s); c.p.Label(t) {
				return
			}
		}
	}
	for _, fits := range []func(svg.Box) bool{c.p.Clear, c.p.Free} { // off other pieces, if that can be
		for _, off := range []svg.Unit{1, 2, 3, 4} {
			for _, s := range shares {
				on := between(a, b, s)
				away := wide/2 + h*off - h*3/10
				spots := [][2]svg.Point{{on, on.Add(0, -away)}, {on, on.Add(0, away)}}
				if upright {
					away = wide/2 + svg.WidthOf(text, svg.Small)/2 + 3*svg.One
					spots = [][2]svg.Point{{on, on.Add(-away, 0)}, {on, on.Add(away, 0)}}
					if off > 1 { // then above and below its ends
						high, low := between(a, b, 95), between(a, b, 5)
						if high.Y > low.Y {
							high, low = low, high
						}
						spots = [][2]svg.Point{{high, high.Add(0, -h*(off-1))}, {low, low.Add(0, h*(off-1))}}
					}
				}
				for _, q := range spots {
					t.At = q[1]
					if box := t.Box(); fits(svg.Box{X: box.X - 3*svg.One, Y: box.Y, W: box.W + 6*svg.One, H: box.H}) {
						c.p.Put(t)
						c.p.Line(q[0], q[1], leader)
						c.p.Circle(q[0], 90, svg.Style{Fill: svg.Ink})
						return
					}
				}
				if upright && off > 1 {
					break
				}
			}
		}
	}
	// In the margin below everything, whatever is there: it may be any distance away.
	for off := svg.Unit(5); off < 200; off++ {
		on := between(a, b, 50)
		if t.At = on.Add(0, h*off); c.p.Label(t, svg.Spot{At: on.Add(30*svg.One, h*off)}, svg.Spot{At: on.Add(-30*svg.One, h*off)}) {
			c.p.Line(on, on.Add(0, h*off-h/2), leader)
			return
		}
	}
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

// between returns the point at so many hundredths of the way from a to b.
func between(a, b svg.Point, share svg.Unit) svg.Point {
	return svg.Point{X: a.X + (b.X-a.X)*share/100, Y: a.Y + (b.Y-a.Y)*share/100}
}

func span2(a, b svg.Unit) svg.Unit { return max(a-b, b-a) }

// span is how far two points are apart, the longer way.
func span(a, b svg.Point) svg.Unit { return max(span2(a.X, b.X), span2(a.Y, b.Y)) }

// dimensions draws heights, the places of openings and the length.
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

// rails draws how high the lower edges of rails are.
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

// rail reports whether a run has a height that somebody chose.
func (e *elevation) rail(r *stock.Run) bool {
	if w := e.scheme.Wainscot; r.Role == stock.RoleCap {
		return w != nil && w.Cap != nil && r.Profile == w.Cap.Name
	}
	return r.Role == stock.RoleChairRail || r.Role == stock.RolePictureRail
}
