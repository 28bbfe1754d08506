package drawing

import (
	"strconv"
	"strings"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

var (
	wallStyle  = svg.Style{Stroke: svg.Ink, Width: 240}
	doubtStyle = svg.Style{Stroke: svg.Mark, Width: 360}
	holeStyle  = svg.Style{Stroke: svg.Paper, Width: 420}
	gapStyle   = svg.Style{Stroke: svg.Mark, Width: 120}
)

func (pl *plan) draw() {
	p, y := pl.o.begin(pl.room.Name+": plan", pl.describe())
	pl.p = p
	y = p.Paragraph(y, "Seen from above, as measured. "+pl.closingText(), svg.Small, false) + 4*svg.One
	pad := 74 * svg.One
	if !pl.o.wide() {
		pad = 56 * svg.One
	}
	room := p.Right() - p.Left() - 2*pad
	pl.scale = svg.Fit(pl.wide, room).Smaller(svg.Fit(pl.high, p.Width()))
	pl.zero = svg.Point{X: p.Left() + pad + (room-pl.scale.Of(pl.wide))/2, Y: y + 40*svg.One}
	for i := range pl.walls {
		pl.solids(i)
	}
	for i := range pl.walls {
		pl.wall(i)
	}
	for i := range pl.walls {
		pl.spare(i)
	}
	for i := range pl.walls {
		pl.marks(i)
	}
	pl.gap()
	for _, short := range []bool{false, true} {
		for i := range pl.walls {
			pl.dimension(i, short)
		}
	}
	for i := range pl.walls {
		pl.names(i)
	}
	y = max(p.Height(), pl.zero.Y+pl.scale.Of(pl.high)+44*svg.One) + 6*svg.One
	y = pl.o.bar(p, y, pl.scale) + 6*svg.One
	y = p.Legend(y, pl.key()) + 6*svg.One
	y = pl.enlarged(y)
	pl.table(y)
}

// wall draws the line of a wall with its openings.
func (pl *plan) wall(i int) {
	w := &pl.walls[i]
	pl.p.Group(pl.room.Name + " " + pl.room.Walls[i].Name)
	points := make([]svg.Point, len(w.line))
	for k, q := range w.line {
		points[k] = pl.point(q)
	}
	style := wallStyle
	if w.doubt {
		style = doubtStyle
	}
	pl.p.Polyline(points, style)
	for _, o := range pl.places[i].Openings {
		a, b := pl.at(i, o.At), pl.at(i, o.At+o.Width)
		pl.p.Line(a, b, holeStyle)
		for _, x := range []measure.Length{o.At, o.At + o.Width} {
			pl.p.Line(pl.into(i, x, -3*svg.One), pl.into(i, x, 3*svg.One), edge)
		}
		if o.Kind == takeoff.OpeningWindow {
			for _, by := range []svg.Unit{-150, 150} {
				pl.p.Line(pl.into(i, o.At, by), pl.into(i, o.At+o.Width, by), thin)
			}
		}
	}
	pl.p.End()
}

// solids draws the fixtures at a wall whose depth is known.
func (pl *plan) solids(i int) {
	w := &pl.room.Walls[i]
	for _, f := range w.Fixtures {
		if f.Depth == 0 {
			continue
		}
		by := pl.scale.Of(f.Depth)
		box := []svg.Point{pl.at(i, f.At), pl.at(i, f.At+f.Width), pl.into(i, f.At+f.Width, by), pl.into(i, f.At, by)}
		pl.p.Polygon(box, svg.Style{Fill: svg.Paper, Stroke: svg.Quiet, Width: 60})
		pl.p.Hatch(box, svg.HatchFalling, svg.Style{Stroke: svg.Quiet, Width: 50})
	}
	if s := w.Stair; s != nil && s.Width > 0 {
		by, dir := pl.scale.Of(s.Width), measure.Length(1)
		if s.RisesLeft {
			dir = -1
		}
		for n := range min(s.Flight.Risers, 200) {
			x := s.At + dir*measure.Length(n)*s.Flight.Run
			pl.p.Line(pl.at(i, x), pl.into(i, x, by), edge)
		}
		last := s.At + dir*measure.Length(s.Flight.Risers-1)*s.Flight.Run
		a, b := pl.into(i, s.At, by), pl.into(i, last, by)
		pl.p.Line(a, b, edge)
		c, d := pl.into(i, s.At, by/2), pl.into(i, last, by/2)
		pl.p.Line(c, d, thin)
		pl.p.Arrow(c, d)
	}
}

// spare keeps names and lengths off the lines of the walls.
func (pl *plan) spare(i int) {
	line := pl.walls[i].line
	for k := 1; k < len(line); k++ {
		a, b := pl.point(line[k-1]), pl.point(line[k])
		n := span(a, b)/(10*svg.One) + 1
		if a.X == b.X || a.Y == b.Y {
			n = 1
		}
		for j := range min(n, 100) {
			c, d := a.Add((b.X-a.X)*j/n, (b.Y-a.Y)*j/n), a.Add((b.X-a.X)*(j+1)/n, (b.Y-a.Y)*(j+1)/n)
			box := extent([]svg.Point{c, d})
			pl.p.Spare(svg.Box{X: box.X - 2*svg.One, Y: box.Y - 2*svg.One, W: box.W + 4*svg.One, H: box.H + 4*svg.One})
		}
	}
}

// dimension writes the length of a wall outside it: with a dimension line if the text fits
// between its heads, else, if short is set, alone where there is room. The list of the walls
// has the others.
func (pl *plan) dimension(i int, short bool) {
	text := pl.o.length(pl.places[i].Length)
	w := &pl.walls[i]
	if len(w.line) > 2 {
		text += " along it"
	}
	if w.doubt {
		text += " ?"
	}
	a, b := pl.point(w.line[0]), pl.point(w.line[len(w.line)-1])
	off := -14 * svg.One
	if len(w.line) > 2 { // outside the arc
		for _, q := range w.line {
			off = min(off, pl.beyond(a, b, pl.point(q))-14*svg.One)
		}
	}
	need, aslant := svg.WidthOf(text, svg.Small)+18*svg.One, a.X != b.X && a.Y != b.Y
	if aslant {
		need = 40 * svg.One
	}
	if long := max(span2(a.X, b.X), span2(a.Y, b.Y)) >= need; long || !short {
		if long && !short {
			pl.p.Dimension(a, b, off, text)
		}
		return
	}
	t := svg.Text{S: text, Plate: true}
	for _, by := range []svg.Unit{-10, -22, -34} {
		reach := by * svg.One
		if a.Y != b.Y { // beside it
			reach -= svg.WidthOf(text, svg.Small)/2 - 4*svg.One
		}
		if t.At = pl.into(i, pl.places[i].Length/2, reach); pl.p.Clear(t.Box()) {
			if pl.p.Put(t); by < -10 || a.Y != b.Y {
				pl.p.Line(pl.at(i, pl.places[i].Length/2), t.At, leader)
			}
			return
		}
	}
}

// beyond returns how far a point is to the right of the line from a to b, negative to the left.
func (pl *plan) beyond(a, b, q svg.Point) svg.Unit {
	long := span(a, b)
	if long == 0 {
		return 0
	}
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	cross := float64(dx*float64(q.Y-a.Y)) - float64(dy*float64(q.X-a.X))
	return unit(cross / float64(long))
}

// names writes the names of a wall, its openings and its fixtures, inside the room.
func (pl *plan) names(i int) {
	p := &pl.places[i]
	put := func(x measure.Length, by svg.Unit, s string, bold bool) bool {
		upright := p.Heading == 90*measure.Degree || p.Heading == 270*measure.Degree
		t := svg.Text{S: s, Bold: bold, Plate: true}
		for _, turned := range []bool{upright, false} {
			t.Upright = turned
			for _, extra := range []svg.Unit{0, 13, 26} {
				reach := by + extra*svg.One
				if !turned && p.Heading%(180*measure.Degree) != 0 {
					reach += svg.WidthOf(s, svg.Small) / 3
				}
				if t.At = pl.into(i, x, reach); pl.p.Clear(t.Box()) {
					pl.p.Put(t)
					return true
				}
			}
		}
		return false
	}
	number := strconv.Itoa(i + 1)
	full := number + " " + svg.Clip(pl.room.Walls[i].Name, svg.Small, 120*svg.One)
	if long := pl.scale.Of(p.Length); svg.WidthOf(full, svg.Small) > long+20*svg.One || !put(p.Length/2, 10*svg.One, full, true) {
		for _, by := range []svg.Unit{10, -10, 20, -30} { // else the list has it
			if put(p.Length/2, by*svg.One, number, true) {
				break
			}
		}
	}
	for _, o := range p.Openings {
		put(o.At+o.Width/2, 9*svg.One, svg.Clip(o.Name, svg.Small, 110*svg.One), false)
	}
	for _, f := range pl.room.Walls[i].Fixtures {
		put(f.At+f.Width/2, max(pl.scale.Of(f.Depth)/2, 9*svg.One), svg.Clip(f.Name, svg.Small, 110*svg.One), false)
	}
	if s := pl.room.Walls[i].Stair; s != nil {
		put(s.At, max(pl.scale.Of(s.Width)/2, 9*svg.One), "stair up", false)
	}
}

// marks draws the joints in the corner at the right of a wall.
func (pl *plan) marks(i int) {
	for _, j := range pl.corners[i].joints {
		ends := []markEnd{{i, pl.places[i].Length, -1}, {(i + 1) % len(pl.places), 0, 1}}
		switch {
		case j.next:
			ends = ends[1:]
		case !j.both() || pl.room.Walls[i].Corner.Kind > takeoff.CornerOutside:
			ends = ends[:1]
		}
		at, ok := pl.markAt(ends, !j.both())
		if !ok {
			pl.unmarked++
			continue
		}
		pl.p.Group(jointNames[j.kind][0] + ", " + j.of)
		pl.p.Line(pl.at(ends[0].wall, ends[0].x), at, leader)
		mark(pl.p, at, j.kind)
		pl.p.End()
		pl.p.Keep(markBox(at))
	}
}

// markEnd is an end of a wall for a mark, and the direction of the wall from there.
type markEnd struct {
	wall int
	x    measure.Length
	dir  measure.Length
}

// markAt returns a free position for a mark beside one of the ends, where a reader associates
// it with them, off the lines of the walls if possible; it returns false if there is none near
// them.
func (pl *plan) markAt(ends []markEnd, beside bool) (svg.Point, bool) {
	steps := []svg.Unit{9, 12, 18, 26, 40, 60, 0}
	if beside { // clearly on its own side
		steps = []svg.Unit{20, 28, 40, 60, 12, 9}
	}
	try := func(fits func(svg.Box) bool, bys ...svg.Unit) (svg.Point, bool) {
		for _, by := range bys {
			for _, e := range ends {
				for _, along := range steps {
					along = min(along*svg.One, pl.scale.Of(pl.places[e.wall].Length)+8*svg.One)
					at := pl.into(e.wall, e.x+e.dir*pl.scale.Length(along), by*svg.One)
					if fits(markBox(at)) && pl.belongs(at, ends) {
						return at, true
					}
				}
			}
		}
		return svg.Point{}, false
	}
	ring := func(fits func(svg.Box) bool, from, to svg.Unit) (svg.Point, bool) {
		corner := pl.at(ends[0].wall, ends[0].x)
		for r := from * svg.One; r < to*svg.One; r += 5 * svg.One {
			for _, d := range [][2]svg.Unit{{10, 0}, {0, 10}, {-10, 0}, {0, -10}, {7, 7}, {-7, 7}, {-7, -7}, {7, -7}, {9, 4}, {-9, 4}, {9, -4}, {-9, -4}} {
				if q := corner.Add(r*d[0]/10, r*d[1]/10); fits(markBox(q)) && pl.belongs(q, ends) {
					return q, true
				}
			}
		}
		return svg.Point{}, false
	}
	at, ok := try(pl.p.Clear, 9, 11, 18, 30)
	for _, again := range []func() (svg.Point, bool){
		func() (svg.Point, bool) { return ring(pl.p.Clear, 10, 45) },
		func() (svg.Point, bool) { return try(pl.p.Free, 9, 11, 18, 30) },
		func() (svg.Point, bool) { return ring(pl.p.Free, 10, 90) },
	} {
		if ok {
			break
		}
		at, ok = again()
	}
	return at, ok
}

func markBox(at svg.Point) svg.Box {
	const r = 7 * svg.One
	return svg.Box{X: at.X - r, Y: at.Y - r, W: 2 * r, H: 2 * r}
}

// mark draws the mark of a joint: a different shape for each kind, with a letter.
func mark(p *svg.Picture, at svg.Point, kind stock.EndKind) {
	const r = 6 * svg.One
	style := svg.Style{Fill: svg.Paper, Stroke: svg.Ink, Width: 80}
	switch kind {
	case stock.EndCope:
		p.Circle(at, r, style)
	case stock.EndInsideMiter:
		p.Polygon([]svg.Point{at.Add(0, -r-100), at.Add(r+100, 0), at.Add(0, r+100), at.Add(-r-100, 0)}, style)
	case stock.EndOutsideMiter:
		p.Polygon([]svg.Point{at.Add(-r, -r), at.Add(r, -r), at.Add(r, r), at.Add(-r, r)}, svg.Style{Fill: svg.Shade, Stroke: svg.Ink, Width: 160})
	case stock.EndButt:
		p.Polygon([]svg.Point{at.Add(-r, -r), at.Add(r, -r), at.Add(r, r), at.Add(-r, r)}, style)
	default:
		p.Polygon([]svg.Point{at.Add(-r, r), at.Add(0, -r-100), at.Add(r, r)}, style)
	}
	p.Letter(at, jointNames[kind][1], 8*svg.One)
}

// gapped reports whether the room fails to close by more than careful readings allow.
func (pl *plan) gapped() bool {
	return pl.closing.Closed && pl.closing.Misclosure > pl.closing.Tolerance
}

// gap marks where a room does not close.
func (pl *plan) gap() {
	if !pl.gapped() {
		return
	}
	last := &pl.walls[len(pl.walls)-1]
	a, b := pl.point(last.line[len(last.line)-1]), pl.point(pl.walls[0].line[0])
	pl.p.Group("gap")
	pl.p.Line(a, b, gapStyle)
	mid := middle(a, b)
	r := min(max(span(a, b)*3/4, 9*svg.One), 30*svg.One)
	pl.p.Circle(mid, r, svg.Style{Stroke: svg.Mark, Width: 100, Dashed: true})
	pl.p.End()
	t := svg.Text{At: mid.Add(-r-3*svg.One, -r), S: "gap", Anchor: svg.End, Bold: true, Color: svg.Mark}
	pl.p.Label(t, svg.Spot{At: mid.Add(r+3*svg.One, -r), Anchor: svg.Start}, svg.Spot{At: mid.Add(0, -r-8*svg.One)}, svg.Spot{At: mid.Add(0, r+8*svg.One)})
}

// enlarged draws the gap larger if it would be too small to see, and returns where the drawing
// ends.
func (pl *plan) enlarged(y svg.Unit) svg.Unit {
	t := &pl.closing
	if !pl.gapped() {
		return y
	}
	n := len(pl.walls)
	text := "The gap between the right end of " + pl.room.Walls[n-1].Name + " and the left end of " + pl.room.Walls[0].Name + " is " + pl.o.length(t.Misclosure)
	if pl.scale.Of(t.Misclosure) >= 12*svg.One {
		return pl.p.Paragraph(y, text+", to scale above.", svg.Small, false) + 6*svg.One
	}
	y = pl.p.Paragraph(y, text+"; here it is drawn larger.", svg.Small, false) + 6*svg.One
	k := svg.Fit(t.Misclosure, 36*svg.One)
	mid := svg.Point{X: pl.p.Left() + 120*svg.One, Y: y + 80*svg.One}
	// The walk begins at zero and ends at East and South.
	start := mid.Add(-k.Of(t.East)/2, -k.Of(t.South)/2)
	end := start.Add(k.Of(t.East), k.Of(t.South))
	stub := func(from svg.Point, wall int, long float64) {
		dx, dy := heading(pl.places[wall].Heading)
		to := from.Add(unit(float64(long*dx)), unit(float64(long*dy)))
		pl.p.Line(from, to, wallStyle)
		pl.p.Circle(from, 3*svg.One, svg.Style{Fill: svg.Paper, Stroke: svg.Ink})
		name := svg.Clip(pl.room.Walls[wall].Name, svg.Small, 90*svg.One)
		at := to.Add(unit(float64(long*dx)/8), unit(float64(long*dy)/4))
		pl.p.Label(svg.Text{At: at, S: name, Bold: true}, svg.Spot{At: at.Add(0, 14*svg.One)}, svg.Spot{At: at.Add(0, -14*svg.One)})
	}
	pl.p.Group("gap, drawn larger")
	pl.p.Line(end, start, gapStyle)
	stub(start, 0, 5000)
	stub(end, n-1, -5000)
	pl.p.End()
	if pl.tells(t.East) {
		high := min(start.Y, end.Y)
		pl.p.Dimension(svg.Point{X: min(start.X, end.X), Y: high}, svg.Point{X: max(start.X, end.X), Y: high}, -26*svg.One, pl.o.length(max(t.East, -t.East)))
	}
	if pl.tells(t.South) {
		left := min(start.X, end.X)
		pl.p.Dimension(svg.Point{X: left, Y: min(start.Y, end.Y)}, svg.Point{X: left, Y: max(start.Y, end.Y)}, 26*svg.One, pl.o.length(max(t.South, -t.South)))
	}
	pl.p.Grow(mid.Y + 72*svg.One)
	at := svg.Point{X: pl.p.Left() + 240*svg.One, Y: y + 50*svg.One}
	for _, s := range pl.gapWords() {
		at.Y = pl.p.Block(at, pl.p.Right()-at.X, s, svg.Small, false) + 2*svg.One
	}
	return max(mid.Y+76*svg.One, at.Y, pl.p.Height()+4*svg.One)
}

// tells reports whether the gap in a direction is worth mentioning.
func (pl *plan) tells(l measure.Length) bool {
	return max(l, -l) > pl.closing.Misclosure/20
}

// gapWords describes where the walk around the room ends.
func (pl *plan) gapWords() []string {
	t := &pl.closing
	var how []string
	for _, c := range []struct {
		l            measure.Length
		less, beyond string
	}{{t.East, "to the left of", "to the right of"}, {t.South, "above", "below"}} {
		switch {
		case !pl.tells(c.l):
		case c.l > 0:
			how = append(how, pl.o.length(c.l)+" "+c.beyond)
		case c.l < 0:
			how = append(how, pl.o.length(-c.l)+" "+c.less)
		}
	}
	last, first := pl.room.Walls[len(pl.room.Walls)-1].Name, pl.room.Walls[0].Name
	return []string{last + " ends " + strings.Join(how, " and ") + " where " + first + " begins."}
}

// key explains the marks that occur.
func (pl *plan) key() []svg.Entry {
	var out []svg.Entry
	for _, k := range jointKinds {
		for i := range pl.corners {
			found := false
			for _, j := range pl.corners[i].joints {
				found = found || j.kind == k
			}
			if found {
				text := jointNames[k][0]
				if k == stock.EndCope || k == stock.EndButt {
					text += ", on the side that is cut to the other"
				}
				k := k
				out = append(out, svg.Entry{Draw: func(p *svg.Picture, at svg.Point) { mark(p, at, k) }, Text: text})
				break
			}
		}
	}
	for i := range pl.walls {
		if pl.walls[i].doubt {
			out = append(out, svg.Entry{Style: doubtStyle, Text: "?, measure again"})
			break
		}
	}
	for i := range pl.room.Walls {
		if len(pl.room.Walls[i].Fixtures) > 0 {
			out = append(out, svg.Entry{Style: svg.Style{Fill: svg.Paper, Stroke: svg.Quiet}, Hatch: svg.HatchFalling, Text: "fixture"})
			break
		}
	}
	return out
}

// table lists walls and corners, and the doubts.
func (pl *plan) table(y svg.Unit) {
	if c := pl.counts(); c != "" {
		text := "In the corners: " + c + "."
		if pl.unmarked > 0 {
			text += " For " + plural(pl.unmarked, "mark") + " there was no room above; the list of the walls has all."
		}
		y = pl.p.Paragraph(y, text, svg.Small, false) + 4*svg.One
	}
	if len(pl.doubts) > 0 {
		y = pl.p.Paragraph(y, "Measure again", svg.Normal, true) + 2*svg.One
		for i, f := range pl.doubts {
			if i == 20 {
				y = pl.p.Paragraph(y, "and "+plural(len(pl.doubts)-20, "doubt")+" more", svg.Small, false)
				break
			}
			walls := f.Suspects
			if len(walls) == 0 && f.Wall != "" {
				walls = []string{f.Wall}
			}
			text := f.Reason
			if len(walls) > 0 {
				text = strings.Join(walls, ", ") + ": " + text
			}
			y = pl.p.Paragraph(y, text, svg.Small, false) + 2*svg.One
		}
		y += 4 * svg.One
	}
	y = pl.p.Paragraph(y, "Walls", svg.Normal, true) + 2*svg.One
	wide := svg.WidthOf(strconv.Itoa(len(pl.places)), svg.Small)
	for i := range pl.places {
		lead := strconv.Itoa(i + 1)
		pl.p.Put(svg.Text{At: svg.Point{X: pl.p.Left() + wide, Y: y + svg.HeightOf(svg.Small)/2}, S: lead, Anchor: svg.End, Bold: true})
		y = pl.p.Block(svg.Point{X: pl.p.Left() + wide + 6*svg.One, Y: y}, pl.p.Right()-pl.p.Left()-wide-6*svg.One, pl.wallText(i), svg.Small, false) + svg.One
	}
}
