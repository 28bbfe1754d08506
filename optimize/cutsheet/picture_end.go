package cutsheet

import (
	"io"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// SawEnd is one end of a piece to be cut, for a picture of it.
type SawEnd struct {
	Piece string     // name of the piece, in UTF-8; may be empty
	End   stock.End  // as in stock.Piece
	Side  joint.Side // end of the piece as installed; none counts as left
	Flat  bool       // the piece lies on its back, even if it is usually cut upright or nested
}

// Picture draws the end as it lies on the saw, seen from above by the operator: the fence, the
// blade at its miter and bevel, the long point, the side to keep, the waste side, and
// the readings of the scales. Beside it is the section against the fence. The section and all
// angles are to scale.
//
// Base and casing stand against the fence, crown is nested upside down, and a piece cut across
// its face, such as for a flat miter, lies flat. With Flat the back is on the table and the
// blade tilts to the left; a soffit always lies the same way.
//
// Nil options mean the zero value. The errors are a [*measure.FieldError] for each invalid
// option, angle or text (end.angle, options.profile.spring), joined, and that of w.
func (e SawEnd) Picture(w io.Writer, o *PictureOptions) error {
	options := o.sheet()
	profile := options.profile()
	c, err := joint.NewCut(profile, e.End)
	var bad fault.List
	bad.Under("", o.checkWidth())
	bad.Under("", options.check())
	bad.Under("", checkText("piece", e.Piece))
	bad.Under("", err)
	if e.Side > joint.SideRight {
		bad.Add("side", e.Side, "left or right")
	}
	if err := bad.Err(); err != nil {
		return err
	}
	side := max(e.Side, joint.SideLeft)
	d := endDrawing{SawEnd: e, o: options, profile: profile, cut: c, lie: lieOnSaw(profile, c, side, e.Flat)}
	d.Side = side
	d.draw(o.width())
	_, err = d.p.WriteTo(w)
	return err
}

// endDrawing is the state of a picture of an end.
type endDrawing struct {
	SawEnd
	o       *Options
	profile stock.Profile
	cut     joint.Cut
	lie     sawLie
	p       *svg.Picture
}

func (d *endDrawing) angle(a measure.Angle) string {
	return markedAngle(a, d.o.graduation(), d.o.Locale)
}

// title names the end; words describes the cut.
func (d *endDrawing) title() string {
	text := d.Side.String() + " end: " + d.End.Kind.String()
	switch corner := d.End.Corner(); {
	case d.End.Kind.Mitered() && corner != 90*measure.Degree, d.End.Kind == stock.EndButt && corner != 90*measure.Degree:
		text += ", corner " + d.angle(corner)
	}
	if d.Piece == "" {
		return "The " + text
	}
	return d.Piece + ", " + text
}

func (d *endDrawing) words() []string {
	l := &d.lie
	how := map[string]string{"nested": "Nested, upside down", "upright": "Upright", "flat": "Flat, face up", "face down": "Face down"}[l.name]
	lines := []string{how + ": " + l.fence + " against the fence, " + l.table + " on the table."}
	saw := "Saw: "
	switch m, b := l.miter(), l.tilt(); {
	case m == joint.SideNone && b == joint.SideNone:
		saw += "square, miter 0, bevel 0"
	case b == joint.SideNone:
		saw += "miter " + d.angle(l.set.Miter) + " to the " + m.String() + ", bevel 0"
	case m == joint.SideNone:
		saw += "miter 0, bevel " + d.angle(l.set.Bevel) + ", blade tilted to the " + b.String()
	default:
		saw += "miter " + d.angle(l.set.Miter) + " to the " + m.String() + ", bevel " + d.angle(l.set.Bevel) + ", blade tilted to the " + b.String()
	}
	lines = append(lines, saw+". Keep the "+l.keep.String()+" side.")
	if d.End.Kind == stock.EndCope {
		lines = append(lines, "This is the first cut: then cope along the edge of the profile.")
	}
	return lines
}

const endCaution = "Saws cause serious injuries: follow the saw's manual, keep the guards on and your hands out of the path of the blade."

func (d *endDrawing) draw(width int) {
	var desc string
	for _, s := range d.words() {
		desc += s + " "
	}
	if at := d.longPoint(); at != "" {
		desc += "The long point is " + at + ". "
	}
	var y svg.Unit
	d.p, y = svg.Titled(width, d.title(), desc+endCaution)
	for _, s := range d.words() {
		y = d.p.Paragraph(y, s, svg.Normal, false)
	}
	y += 10 * svg.One
	left, right := d.p.Left(), d.p.Right()
	const beside = 190 * svg.One
	if right-left >= 520*svg.One {
		below := d.above(svg.Box{X: left, Y: y, W: right - left - beside - 16*svg.One})
		y = max(below, d.section(svg.Box{X: right - beside, Y: y, W: beside}))
	} else {
		y = d.above(svg.Box{X: left, Y: y, W: right - left}) + 10*svg.One
		y = d.section(svg.Box{X: left, Y: y, W: right - left})
	}
	if d.lie.set.Bevel != 0 {
		y = d.front(svg.Box{X: left, Y: y + 10*svg.One, W: min(right-left, 460*svg.One)})
	}
	d.p.Paragraph(y+8*svg.One, endCaution, svg.Small, false)
}

// longPoint describes the position of the long point.
func (d *endDrawing) longPoint() string {
	switch c := d.lie.long; {
	case c.far > 0 && c.up < 0:
		return "at the fence, on the table"
	case c.far > 0 && c.up > 0:
		return "at the fence, on top"
	case c.far < 0 && c.up < 0:
		return "toward you, on the table"
	case c.far < 0 && c.up > 0:
		return "toward you, on top"
	case c.far > 0:
		return "at the fence"
	case c.far < 0:
		return "toward you"
	case c.up < 0:
		return "on the table"
	case c.up > 0:
		return "on top"
	}
	return ""
}

// leftward returns -1 for left and 1 for right.
func leftward(s joint.Side) float64 {
	switch s {
	case joint.SideLeft:
		return -1
	case joint.SideRight:
		return 1
	}
	return 0
}

// ahead returns the anchor of a text that continues to the right if the direction is positive.
func ahead(direction float64) svg.Anchor {
	if direction < 0 {
		return svg.End
	}
	return svg.Start
}

// slants returns how far the line of the cut moves to the right from the fence to the near edge
// at the drawn depth, and from the table to the top at the drawn height.
func (d *endDrawing) slants(deep, high svg.Unit) (near, top svg.Unit) {
	l := &d.lie
	miter, bevel := l.set.Miter.Radians(), l.set.Bevel.Radians()
	near = times(deep, leftward(l.miter())*math.Tan(miter))
	top = times(high, leftward(l.tilt())*math.Tan(bevel)/math.Cos(miter))
	return near, top
}

// scale returns the scale of the section: as large as the room for the slant allows.
func (d *endDrawing) scale(room svg.Unit) svg.Scale {
	deep := min(64*svg.One, d.p.Width()/6)
	k := svg.Fit(max(d.lie.across, measure.Inch/16), deep)
	near, top := d.slants(svg.Unit(d.lie.across), svg.Unit(d.lie.high)) // in ticks
	span := measure.Length(min(max(near, -near, 1), farthest) + min(max(top, -top), farthest))
	return k.Smaller(svg.Fit(span, room))
}

// above draws the saw from above and returns where the drawing ends.
func (d *endDrawing) above(in svg.Box) svg.Unit {
	p, l := d.p, &d.lie
	k := d.scale(in.W * 4 / 10)
	deep := max(k.Of(l.across), 2*svg.One)
	near, top := d.slants(k.Of(l.across), k.Of(l.high))
	if l.name == "nested" || l.name == "upright" {
		top = 0 // the line of the cut on top of an upright piece is that of the blade
	}
	fence := in.Y + 22*svg.One
	pivot := svg.Point{X: in.X + in.W/2 - (near+min(near+top, top, 0)+max(near+top, top, 0))/4, Y: fence}

	p.Put(svg.Text{At: svg.Point{X: in.X, Y: in.Y + 6*svg.One}, S: "from above", Anchor: svg.Start, Bold: true})
	bar := svg.Box{X: in.X, Y: fence - 9*svg.One, W: in.W, H: 9 * svg.One}
	p.Rect(bar, lostStyle)
	p.Keep(bar)
	p.Label(svg.Text{At: svg.Point{X: in.X + in.W, Y: in.Y + 6*svg.One}, S: "fence", Anchor: svg.End})

	d.sides(in, pivot, deep, near, top)
	// Inside the kept side and the other one, far from the blade.
	kept := svg.Point{X: in.X + 10*svg.One, Y: fence + deep/2}
	away := svg.Point{X: in.X + in.W - 10*svg.One, Y: fence + deep/2}
	anchors := [2]svg.Anchor{svg.Start, svg.End}
	if l.keep == joint.SideRight {
		kept, away = away, kept
		anchors[0], anchors[1] = anchors[1], anchors[0]
	}
	p.Put(svg.Text{At: kept, S: "keep this side", Anchor: anchors[0], Bold: true, Plate: true})
	p.Put(svg.Text{At: away, S: "waste side", Anchor: anchors[1], Plate: true})
	end := d.scales(in, pivot, deep)
	d.points(in, pivot, deep, near, top)
	end -= 8 * svg.One
	return max(end, p.ScaleBar(end, k, barSteps(d.o.Locale), d.o.Locale.FormatLength))
}

// barSteps are round lengths for the bar that shows a scale.
func barSteps(l measure.Locale) []measure.Length {
	if l.Metric {
		return []measure.Length{measure.Millimeter, 5 * measure.Millimeter, 10 * measure.Millimeter, 20 * measure.Millimeter, 50 * measure.Millimeter, 100 * measure.Millimeter, 200 * measure.Millimeter, 500 * measure.Millimeter, measure.Meter, 2 * measure.Meter, 5 * measure.Meter, 10 * measure.Meter, 50 * measure.Meter, 100 * measure.Meter}
	}
	return []measure.Length{measure.Inch / 16, measure.Inch / 4, measure.Inch / 2, measure.Inch, 2 * measure.Inch, 6 * measure.Inch, measure.Foot, 2 * measure.Foot, 5 * measure.Foot, 10 * measure.Foot, 20 * measure.Foot, 50 * measure.Foot, 100 * measure.Foot}
}

// sides draws the piece on both sides of the blade: plain on the side to keep, hatched on the
// other.
func (d *endDrawing) sides(in svg.Box, pivot svg.Point, deep, near, top svg.Unit) {
	p, l := d.p, &d.lie
	edge, other := in.X, in.X+in.W
	if l.keep == joint.SideRight {
		edge, other = other, edge
	}
	inside := func(x svg.Unit) svg.Unit { return min(max(x, in.X), in.X+in.W) }
	strip := func(x, at svg.Unit) []svg.Point { // from an edge of the picture to the line of the cut at a height
		return []svg.Point{{X: x, Y: pivot.Y}, {X: inside(pivot.X + at), Y: pivot.Y}, {X: inside(pivot.X + near + at), Y: pivot.Y + deep}, {X: x, Y: pivot.Y + deep}}
	}
	// The side that is longer on the table reaches below the blade.
	keptAt, awayAt := svg.Unit(0), top
	if l.long.up > 0 {
		keptAt, awayAt = top, 0
	}
	p.Polygon(strip(other, awayAt), svg.Style{Fill: svg.Paper, Stroke: svg.Ink})
	p.Hatch(strip(other, awayAt), svg.HatchRising, hatchStyle)
	p.Polygon(strip(edge, keptAt), woodStyle)
	if top != 0 { // the other edge of the slanting cut
		at := top
		style := svg.Style{Stroke: svg.Ink}
		if l.long.up > 0 { // hidden below
			at, style.Dashed = 0, true
		}
		p.Line(svg.Point{X: inside(pivot.X + at), Y: pivot.Y}, svg.Point{X: inside(pivot.X + near + at), Y: pivot.Y + deep}, style)
	}
	for _, x := range []svg.Unit{in.X, in.X + in.W} {
		d.broken(svg.Point{X: x, Y: pivot.Y}, deep)
	}
}

// broken draws the edge at which the drawing of the piece breaks off.
func (d *endDrawing) broken(at svg.Point, deep svg.Unit) {
	var line []svg.Point
	const n = 6
	for i := range svg.Unit(n + 1) {
		off := 2 * svg.One
		if i%2 == 1 {
			off = -off
		}
		line = append(line, svg.Point{X: at.X + off, Y: at.Y + deep*i/n})
	}
	d.p.Polyline(line, svg.Style{Stroke: svg.Paper, Width: 500})
	d.p.Polyline(line, quietStyle)
}

// scales draws the blade, the saw's arm and the miter scale, and returns where the drawing
// ends.
func (d *endDrawing) scales(in svg.Box, pivot svg.Point, deep svg.Unit) svg.Unit {
	p, l := d.p, &d.lie
	radius := min(max(deep+50*svg.One, 100*svg.One), 130*svg.One, pivot.X-in.X-4*svg.One, in.X+in.W-pivot.X-4*svg.One)
	turn := func(deg float64, r svg.Unit) svg.Point { // degrees to the right
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return pivot.Add(times(r, sin), times(r, cos))
	}
	set := leftward(l.miter()) * l.set.Miter.Degrees()
	last := int(min(85, max(50, math.Ceil((math.Abs(set)+4)/5)*5)))
	p.Arc(turn(float64(-last), radius), turn(float64(last), radius), radius, true, quietStyle)
	p.Grow(pivot.Y + radius + 24*svg.One)
	var ticks []svg.Point
	for a := -last; a <= last; a += 5 {
		long := 4 * svg.One
		if a%15 == 0 {
			long = 7 * svg.One
		}
		ticks = append(ticks, turn(float64(a), radius), turn(float64(a), radius+long))
	}
	p.Lines(ticks, quietStyle)

	// The blade cuts beyond the fence and the near edge; the arm goes on to the scale.
	sin, cos := math.Sincos(set * math.Pi / 180)
	reach := min(times(deep, 1/max(cos, 1e-6))+14*svg.One, radius-4*svg.One)
	p.Line(pivot.Add(times(-14*svg.One, sin), times(-14*svg.One, cos)), turn(set, max(reach, 20*svg.One)), bladeStyle)
	p.Line(turn(set, reach), turn(set, radius), svg.Style{Stroke: svg.Mark, Width: 100, Dashed: true})
	p.Arrow(pivot, turn(set, radius))

	reading := "read " + d.angle(l.set.Miter)
	if m := l.miter(); m != joint.SideNone {
		reading += " " + m.String()
	}
	at := turn(set, radius+18*svg.One)
	p.Label(svg.Text{At: at, S: reading, Bold: true, Plate: true}, svg.Spot{At: at.Add(0, 12*svg.One)}, svg.Spot{At: pivot.Add(0, radius+18*svg.One)}, svg.Spot{At: pivot.Add(0, radius+32*svg.One)})
	for a := -last / 15 * 15; a <= last; a += 15 {
		d.p.Label(svg.Text{At: turn(float64(a), radius+15*svg.One), S: d.o.Locale.FormatAngle(measure.Angle(max(a, -a)) * measure.Degree)})
	}
	return max(pivot.Y+radius+34*svg.One, p.Height()+8*svg.One)
}

// points marks the long point and the distance of the short point behind it.
func (d *endDrawing) points(in svg.Box, pivot svg.Point, deep, near, top svg.Unit) {
	p, l := d.p, &d.lie
	if l.long == (sawCorner{}) || l.long.far == 0 && top == 0 {
		return
	}
	at := pivot
	if l.long.up > 0 {
		at.X += top
	}
	if l.long.far < 0 {
		at = at.Add(near, deep)
	}
	if at.X < in.X || at.X > in.X+in.W {
		return
	}
	p.Circle(at, 3*svg.One, svg.Style{Fill: svg.Ink, Stroke: svg.Paper})
	p.Keep(svg.Box{X: at.X - 3*svg.One, Y: at.Y - 3*svg.One, W: 6 * svg.One, H: 6 * svg.One})
	if short := pivot.Add(near, deep); near != 0 && top == 0 {
		a, b := svg.Point{X: min(pivot.X, short.X), Y: pivot.Y + deep}, svg.Point{X: max(pivot.X, short.X), Y: pivot.Y + deep}
		p.Dimension(b, a, -16*svg.One, d.cut.End.Setback.Format(d.o.style()))
	}
	// On the side that falls off.
	out := -leftward(l.keep)
	anchor := ahead(out)
	up := -20 * svg.One
	if at.Y > pivot.Y {
		up = 12 * svg.One
	}
	p.Label(svg.Text{At: at.Add(times(8*svg.One, out), up), S: "long point", Anchor: anchor, Plate: true},
		svg.Spot{At: at.Add(0, up)}, svg.Spot{At: at.Add(times(10*svg.One, out), 12*svg.One), Anchor: anchor}, svg.Spot{At: at.Add(times(30*svg.One, out), 30*svg.One), Anchor: anchor})
}

// front draws the tilted blade as seen from the front of the saw, and returns where the drawing
// ends.
func (d *endDrawing) front(in svg.Box) svg.Unit {
	p, l := d.p, &d.lie
	k := svg.Fit(max(l.high, measure.Inch/16), 48*svg.One)
	lean := math.Tan(l.set.Bevel.Radians()) * leftward(l.tilt())
	high := max(k.Of(l.high), 4*svg.One)
	if span := times(high, math.Abs(lean)); span > in.W*4/10 {
		high = max(high*(in.W*4/10)/span, svg.One)
	}
	p.Put(svg.Text{At: svg.Point{X: in.X, Y: in.Y + 6*svg.One}, S: "from the front", Anchor: svg.Start, Bold: true})
	table := in.Y + 42*svg.One + high
	top := times(high, lean)
	foot := svg.Point{X: in.X + in.W/2 - top/2, Y: table}
	strip := func(x svg.Unit) []svg.Point {
		return []svg.Point{{X: x, Y: table}, foot, foot.Add(top, -high), {X: x, Y: table - high}}
	}
	edge, other := in.X, in.X+in.W
	if l.keep == joint.SideRight {
		edge, other = other, edge
	}
	p.Polygon(strip(edge), woodStyle)
	p.Polygon(strip(other), bareStyle)
	p.Hatch(strip(other), svg.HatchRising, hatchStyle)
	for _, x := range []svg.Unit{edge, other} {
		d.broken(svg.Point{X: x, Y: table - high}, high)
	}
	p.Rect(svg.Box{X: in.X, Y: table, W: in.W, H: 6 * svg.One}, lostStyle)
	tip := high + min(16*svg.One, times(30*svg.One, 1/math.Abs(lean)))
	p.Line(foot, foot.Add(times(tip, lean), -tip), bladeStyle)
	p.Line(foot, foot.Add(0, -high), svg.Style{Stroke: svg.Quiet, Dashed: true})
	mark := foot
	if l.long.up > 0 {
		mark = foot.Add(top, -high)
	}
	p.Circle(mark, 3*svg.One, svg.Style{Fill: svg.Ink, Stroke: svg.Paper})

	out := -leftward(l.keep)
	anchor := ahead(out)
	words := [2]svg.Text{
		{At: svg.Point{X: edge, Y: table - high/2}.Add(times(10*svg.One, out), 0), S: "keep this side", Bold: true, Plate: true, Anchor: anchor},
		{At: svg.Point{X: other, Y: table - high/2}.Add(times(-10*svg.One, out), 0), S: "waste side", Plate: true, Anchor: svg.Start + svg.End - anchor},
	}
	p.Put(words[0])
	p.Put(words[1])
	tipAt := foot.Add(times(tip, lean), -tip)
	p.Label(svg.Text{At: tipAt.Add(times(8*svg.One, leftward(l.tilt())), 0), S: "read " + d.angle(l.set.Bevel) + " " + l.tilt().String(), Bold: true, Anchor: ahead(leftward(l.tilt()))},
		svg.Spot{At: tipAt.Add(0, -10*svg.One)}, svg.Spot{At: svg.Point{X: in.X + in.W/2, Y: table + 34*svg.One}})
	if l.long.up > 0 { // the blade leans away from the piece
		p.Label(svg.Text{At: mark.Add(times(-8*svg.One, out), -10*svg.One), S: "long point", Anchor: ahead(-out)})
	} else {
		p.Label(svg.Text{At: svg.Point{X: mark.X, Y: table + 15*svg.One}, S: "long point"})
	}
	return max(table+26*svg.One, p.Height())
}

// section draws the piece between fence and table, seen from the left end of the saw, and
// returns where the drawing ends.
func (d *endDrawing) section(in svg.Box) svg.Unit {
	p, l := d.p, &d.lie
	p.Put(svg.Text{At: svg.Point{X: in.X, Y: in.Y + 6*svg.One}, S: "from the left end", Anchor: svg.Start, Bold: true})
	const room = 110 * svg.One
	wide, tall := l.across, l.high
	if l.spring != 0 { // it leans, and its thickness with it
		wide, tall = wide+d.profile.Thickness, tall+d.profile.Thickness
	}
	k := svg.Fit(max(wide, measure.Inch/16), min(in.W-60*svg.One, 120*svg.One)).Smaller(svg.Fit(max(tall, measure.Inch/16), room-20*svg.One))
	fence := in.X + 14*svg.One
	table := in.Y + 16*svg.One + room
	p.Rect(svg.Box{X: fence - 9*svg.One, Y: table - room, W: 9 * svg.One, H: room}, lostStyle)
	p.Rect(svg.Box{X: fence - 9*svg.One, Y: table, W: in.W - 5*svg.One, H: 7 * svg.One}, lostStyle)
	across, high := max(k.Of(l.across), svg.One), max(k.Of(l.high), svg.One)
	var outline []svg.Point
	if l.spring != 0 {
		// From the wall edge, up at the fence, to the ceiling edge, down on the table; the face
		// is toward the operator.
		sin, cos := math.Sincos(l.spring.Radians())
		t := k.Of(d.profile.Thickness)
		a, b := svg.Point{X: fence, Y: table - high}, svg.Point{X: fence + across, Y: table}
		dx, dy := times(t, cos), times(t, -sin)
		outline = []svg.Point{a, b, b.Add(dx, dy), a.Add(dx, dy)}
	} else {
		outline = svg.Box{X: fence, Y: table - high, W: across, H: high}.Corners()
	}
	p.Polygon(outline, woodStyle)
	p.Hatch(outline, svg.HatchDense, svg.Style{Stroke: svg.Quiet, Width: 30})
	for _, q := range outline {
		p.Grow(q.Y)
	}
	y := table + 12*svg.One
	y = p.Block(svg.Point{X: in.X, Y: y}, in.W, l.fence+" against the fence", svg.Small, false)
	y = p.Block(svg.Point{X: in.X, Y: y}, in.W, l.table+" on the table", svg.Small, false)
	if l.spring != 0 {
		y = p.Block(svg.Point{X: in.X, Y: y}, in.W, "at its spring angle, "+d.angle(l.spring), svg.Small, false)
	}
	return y
}
