package drawing

import (
	"io"
	"math"
	"slices"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/takeoff"
)

// Plan draws a room from above as measured: the walls with their lengths, the openings and
// fixtures, and in each corner the list's joints, with coped pieces marked on their own side.
// If a room does not close, the gap is drawn, enlarged if it would be too small to see. Walls
// with a Doubt in the list or in Options.Findings are marked to be measured again, with the
// reasons below.
//
// A nil list is read as an empty one. The error joins a *measure.FieldError for each invalid
// field of the room or of o; or it is that of w.
func Plan(w io.Writer, r takeoff.Room, l *takeoff.List, o *Options) error {
	var bad fault.List
	opt, err := o.filled()
	bad.Under("", err)
	places, err := r.Places()
	bad.Under("", err)
	if len(bad) > 0 {
		return bad.Err()
	}
	closing, err := r.Traverse()
	if err != nil {
		return err
	}
	if l == nil {
		l = new(takeoff.List)
	}
	pl := plan{o: &opt, room: &r, places: places, closing: closing, list: l}
	pl.findDoubts()
	pl.lay()
	pl.findCorners()
	pl.draw()
	_, err = pl.p.WriteTo(w)
	return err
}

type plan struct {
	o       *Options
	room    *takeoff.Room
	places  []takeoff.WallPlace
	closing takeoff.Traverse
	list    *takeoff.List

	walls   []planWall
	doubts  []takeoff.Finding
	corners []corner // at the right-hand end of each wall

	unmarked int // joints whose mark does not fit

	wide, high measure.Length // of all chains
	p          *svg.Picture
	scale      svg.Scale
	zero       svg.Point
}

// planWall is a wall seen from above.
type planWall struct {
	line  []spot           // from its left end: two ends, or points of an arc
	along []measure.Length // distance of each from the left end
	doubt bool
}

// spot is a place in plan, to the east and to the south.
type spot struct{ e, s measure.Length }

// findDoubts finds the walls to measure again, and the reasons.
func (pl *plan) findDoubts() {
	pl.walls = make([]planWall, len(pl.places))
	index := map[string]int{}
	for i := range pl.room.Walls {
		index[pl.room.Walls[i].Name] = i
	}
	for _, f := range slices.Concat(pl.list.Findings, pl.o.Findings) {
		if f.Room != pl.room.Name || f.Severity != takeoff.SeverityDoubt {
			continue
		}
		if slices.ContainsFunc(pl.doubts, func(d takeoff.Finding) bool { return d.Code == f.Code && d.Reason == f.Reason }) {
			continue
		}
		pl.doubts = append(pl.doubts, f)
		for _, name := range append([]string{f.Wall}, f.Suspects...) {
			if i, ok := index[name]; ok {
				pl.walls[i].doubt = true
			}
		}
	}
}

// lay lays out the walls: chains that do not join are below each other.
func (pl *plan) lay() {
	first := 0
	for i := range pl.places {
		last := i+1 == len(pl.places) || pl.places[i+1].Apart
		pl.walls[i].line, pl.walls[i].along = pl.line(i, last)
		if !last {
			continue
		}
		lo, hi := pl.walls[first].line[0], pl.walls[first].line[0]
		for k := first; k <= i; k++ {
			for _, q := range pl.around(k) {
				lo = spot{min(lo.e, q.e), min(lo.s, q.s)}
				hi = spot{max(hi.e, q.e), max(hi.s, q.s)}
			}
		}
		down := measure.Length(0)
		if first > 0 {
			down = pl.high + max(2*measure.Foot, pl.high/8)
		}
		for k := first; k <= i; k++ {
			for n := range pl.walls[k].line {
				pl.walls[k].line[n].e -= lo.e
				pl.walls[k].line[n].s += down - lo.s
			}
		}
		pl.wide, pl.high = max(pl.wide, hi.e-lo.e), down+hi.s-lo.s
		first = i + 1
	}
}

// around returns the points of a wall and of its fixtures.
func (pl *plan) around(i int) []spot {
	out := slices.Clone(pl.walls[i].line)
	w := &pl.room.Walls[i]
	dx, dy := heading(pl.places[i].Heading)
	into := func(x, deep measure.Length) {
		a := pl.walls[i].line[0]
		out = append(out, spot{a.e + product(x, dx) - product(deep, dy), a.s + product(x, dy) + product(deep, dx)})
	}
	for _, f := range w.Fixtures {
		into(f.At, f.Depth)
		into(f.At+f.Width, f.Depth)
	}
	if s := w.Stair; s != nil {
		long := measure.Length(s.Flight.Risers-1) * s.Flight.Run
		if s.RisesLeft {
			long = -long
		}
		into(s.At, s.Width)
		into(s.At+long, s.Width)
	}
	return out
}

// line returns the points of a wall and their distances along it.
func (pl *plan) line(i int, last bool) ([]spot, []measure.Length) {
	p := &pl.places[i]
	a := spot{p.East, p.South}
	dx, dy := heading(p.Heading)
	b := spot{a.e + product(p.Chord, dx), a.s + product(p.Chord, dy)}
	if !last {
		b = spot{pl.places[i+1].East, pl.places[i+1].South}
	}
	c := pl.room.Walls[i].Curve
	if c == nil {
		return []spot{a, b}, []measure.Length{0, p.Length}
	}
	d, err := c.Arc.Dimensions()
	if err != nil {
		return []spot{a, b}, []measure.Length{0, p.Length}
	}
	// The arc bulges into the room, to the right, if it is convex. Each point is placed on the
	// circle, as seen from the middle of the chord.
	side := 1.0
	if c.Bend != curve.BendConvex {
		side = -1
	}
	half, radius := float64(d.Angle.Radians()/2), float64(d.Radius)
	const n = 48
	line, far := make([]spot, n+1), make([]measure.Length, n+1)
	for k := range n + 1 {
		t := -half + float64(float64(d.Angle.Radians()*float64(k))/n)
		u := float64(radius*math.Sin(t)) + float64(float64(p.Chord)/2)
		v := float64(side * float64(radius*(math.Cos(t)-math.Cos(half))))
		line[k] = spot{a.e + tick(float64(u*dx)-float64(v*dy)), a.s + tick(float64(u*dy)+float64(v*dx))}
		far[k] = scaled(p.Length, measure.Length(k), n)
	}
	line[0], line[n] = a, b
	return line, far
}

func tick(x float64) measure.Length { return measure.Length(math.RoundToEven(x)) }

// heading returns the direction of a heading, exact for multiples of 90°.
func heading(a measure.Angle) (east, south float64) {
	switch a {
	case 0:
		return 1, 0
	case 90 * measure.Degree:
		return 0, 1
	case 180 * measure.Degree:
		return -1, 0
	case 270 * measure.Degree:
		return 0, -1
	}
	return math.Cos(a.Radians()), math.Sin(a.Radians())
}

// at returns the point of a wall at a distance from its left end.
func (pl *plan) at(wall int, x measure.Length) svg.Point {
	w := &pl.walls[wall]
	for k := 1; k < len(w.line); k++ {
		if x <= w.along[k] || k+1 == len(w.line) {
			a, b := w.line[k-1], w.line[k]
			part, whole := x-w.along[k-1], max(w.along[k]-w.along[k-1], 1)
			return pl.point(spot{a.e + scaled(b.e-a.e, part, whole), a.s + scaled(b.s-a.s, part, whole)})
		}
	}
	return pl.point(w.line[0])
}

func (pl *plan) point(q spot) svg.Point {
	return pl.zero.Add(pl.scale.Of(q.e), pl.scale.Of(q.s))
}

// into returns the point at a distance from a point on a wall, into the room.
func (pl *plan) into(wall int, x measure.Length, by svg.Unit) svg.Point {
	q := pl.at(wall, x)
	h := pl.places[wall].Heading
	if n := len(pl.walls[wall].line); n > 2 { // across the arc as it goes there
		a, b := pl.point(pl.walls[wall].line[0]), pl.point(pl.walls[wall].line[n-1])
		for k := 1; k < n; k++ {
			if x <= pl.walls[wall].along[k] {
				a, b = pl.point(pl.walls[wall].line[k-1]), pl.point(pl.walls[wall].line[k])
				break
			}
		}
		if long := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)); long > 0 {
			return q.Add(unit(-float64(by)*float64(b.Y-a.Y)/long), unit(float64(by)*float64(b.X-a.X)/long))
		}
	}
	dx, dy := heading(h)
	return q.Add(unit(-float64(float64(by)*dy)), unit(float64(float64(by)*dx)))
}

func unit(x float64) svg.Unit { return svg.Unit(math.RoundToEven(x)) }

// describe describes the picture in words.
func (pl *plan) describe() string {
	var b strings.Builder
	b.WriteString("The room " + pl.room.Name + " from above, with " + plural(len(pl.places), "wall") + ".")
	for i := range pl.places {
		if i == 60 {
			b.WriteString(" And " + plural(len(pl.places)-60, "wall") + " more.")
			break
		}
		b.WriteString(" " + pl.wallText(i) + ".")
	}
	b.WriteString(" " + pl.closingText())
	return b.String()
}

// wallText describes a wall: its length, its openings, and the corner at its right.
func (pl *plan) wallText(i int) string {
	w, p := &pl.room.Walls[i], &pl.places[i]
	text := w.Name + ", " + pl.o.length(p.Length)
	for k, o := range p.Openings {
		if k == 6 {
			text += ", and more openings"
			break
		}
		text += ", " + o.Name
	}
	if n := len(pl.places); pl.room.Walls[(i+n-1)%n].Corner.Kind > takeoff.CornerOutside {
		if c := pl.corners[(i+n-1)%n].side(true); c != "" {
			text += "; at its left end: " + c
		}
	}
	text += "; at its right " + w.Corner.String() + " corner"
	if w.Corner.Kind > takeoff.CornerOutside {
		text = strings.TrimSuffix(text, " corner") + " end"
	}
	c := pl.corners[i].String()
	if w.Corner.Kind > takeoff.CornerOutside {
		c = pl.corners[i].side(false)
	}
	if c != "" {
		text += ": " + c
	}
	return text
}

// closingText says whether the room closes.
func (pl *plan) closingText() string {
	t := &pl.closing
	turn := ""
	if t.Turn != 0 {
		turn = " Its corners turn " + pl.o.angle(max(t.Turn, -t.Turn)) + " more than once around."
		if t.Turn < 0 {
			turn = " Its corners turn " + pl.o.angle(-t.Turn) + " less than once around."
		}
	}
	switch {
	case !t.Closed && slices.ContainsFunc(pl.places, func(p takeoff.WallPlace) bool { return p.Apart }):
		return "The room is not closed: its parts stand apart, one below the other."
	case !t.Closed:
		return "The room is not closed."
	case t.Misclosure == 0:
		return "The walls close." + turn
	case t.Misclosure <= t.Tolerance:
		return "The walls close within " + pl.o.length(t.Misclosure) + ", less than careful readings may add up to." + turn
	}
	return "The walls fail to close by " + pl.o.length(t.Misclosure) + ", more than careful readings may add up to." + turn
}
