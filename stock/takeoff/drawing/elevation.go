package drawing

import (
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Elevation draws the walls of a room as a person facing them sees them, with openings, fixtures,
// studs, and every piece of the list. All walls are drawn to one scale; on a telephone, where
// short walls would be illegible, each has its own scale and states it. Each piece has a number.
// The table below gives its name, length, ends and, from Options.Sticks, its stick; it includes
// hidden pieces, such as returns. Splices are marked, and dimensioned along the wall.
//
// The list is the result of Take for rooms that include this one, with the scheme s. A profile
// that s does not contain is drawn an inch wide; Estimate.Scheme has all profiles of a whole job.
// A nil list is read as an empty one.
//
// The error joins a *measure.FieldError for each invalid field of the room or of o; or it is
// that of w.
func Elevation(w io.Writer, r takeoff.Room, s takeoff.Scheme, l *takeoff.List, o *Options) error {
	var bad fault.List
	opt, err := o.filled()
	bad.Under("", err)
	places, err := r.Places()
	bad.Under("", err)
	if len(bad) > 0 {
		return bad.Err()
	}
	if l == nil {
		l = new(takeoff.List)
	}
	e := elevation{o: &opt, room: &r, places: places, scheme: s, list: l, sections: sectionsOf(s, r, l)}
	e.collect()
	e.draw()
	_, err = e.p.WriteTo(w)
	return err
}

type elevation struct {
	o        *Options
	room     *takeoff.Room
	places   []takeoff.WallPlace
	scheme   takeoff.Scheme
	list     *takeoff.List
	sections sections

	views []view
	loose []int // pieces of the room that are on no wall
	p     *svg.Picture
	own   bool // each wall has its own scale
}

// part is a piece of a run on a wall.
type part struct {
	number   int
	piece    int // of the list
	from, to measure.Length
}

// member is a run on a wall with its pieces.
type member struct {
	run   *stock.Run
	wide  measure.Length
	parts []part
	ring  []at // of the head of an arch
}

// view is a wall as it is drawn.
type view struct {
	wall    int
	place   *takeoff.WallPlace
	members []member
	unseen  []int // hidden pieces that belong to it, such as returns

	left, right, low, high measure.Length // extents of the drawing around it
	guessed                bool           // its height was not measured
	scale                  svg.Scale
}

// collect finds the trim and obstacles on each wall.
func (e *elevation) collect() {
	e.views = make([]view, len(e.places))
	walls := map[string]int{}
	for i := range e.places {
		e.views[i] = view{wall: i, place: &e.places[i]}
		walls[e.room.Walls[i].Name] = i
	}
	pieces := map[string][]int{} // of runs
	for i := range e.list.Pieces {
		if run := e.list.Pieces[i].Run; run != "" {
			pieces[run] = append(pieces[run], i)
		}
	}
	for i := range e.list.Runs {
		r := &e.list.Runs[i]
		if r.Room != e.room.Name {
			continue
		}
		wall, ok := walls[r.Wall]
		if !ok {
			e.loose = append(e.loose, pieces[r.Label]...)
			continue
		}
		m := member{run: r, wide: e.sections.seen(r)}
		at := measure.Length(0)
		for k, piece := range pieces[r.Label] {
			to := r.Length
			if k < len(r.Splices) {
				to = r.Splices[k]
			}
			m.parts = append(m.parts, part{piece: piece, from: at, to: to})
			at = to
		}
		e.views[wall].members = append(e.views[wall].members, m)
	}
	e.collectReturns(walls)
	n := 0
	for i := range e.views {
		v := &e.views[i]
		e.raise(v)
		for k := range v.members {
			for j := range v.members[k].parts {
				n++
				v.members[k].parts[j].number = n
			}
		}
	}
}

// collectReturns finds the walls of pieces of no run, such as returns. A piece without a wall
// has the name of the run that it closes, which may have a further letter.
func (e *elevation) collectReturns(walls map[string]int) {
	for i := range e.list.Pieces {
		p := &e.list.Pieces[i]
		if p.Run != "" || p.Room != "" && p.Room != e.room.Name {
			continue
		}
		if v, ok := walls[p.Wall]; ok && p.Room != "" {
			e.views[v].unseen = append(e.views[v].unseen, i)
			continue
		}
		of, _, _ := strings.Cut(p.Label, " return")
		v := slices.IndexFunc(e.views, func(v view) bool { return v.calls(of) })
		switch {
		case v >= 0:
			e.views[v].unseen = append(e.views[v].unseen, i)
		case p.Room != "":
			e.loose = append(e.loose, i)
		}
	}
}

// calls reports whether a run on the wall has this name, with or without a letter after it.
func (v *view) calls(of string) bool {
	for k := range v.members {
		if label := v.members[k].run.Label; label == of || strings.HasPrefix(label, of+" ") {
			return true
		}
	}
	return false
}

// raise assumes a height for trim at a ceiling or a sill that was not measured, and computes
// the extents of the wall.
func (e *elevation) raise(v *view) {
	high := max(v.place.HeightLeft, v.place.HeightRight)
	if v.guessed = high == 0; v.guessed {
		high = 8 * measure.Foot
		for _, o := range v.place.Openings {
			high = max(high, e.sill(&o)+o.Height+o.ArchRise+measure.Foot)
		}
		for _, m := range v.members {
			if m.run.Slope == 0 {
				high = max(high, m.run.Bottom+m.wide+measure.Foot)
			}
		}
	}
	v.right, v.high = v.place.Length, high
	for k := range v.members {
		m := &v.members[k]
		e.guess(v, m)
		e.bend(v, m)
		e.roll(v, m)
		for _, q := range e.outline(v, m, 0, m.run.Length) {
			v.left, v.right, v.low, v.high = min(v.left, q.x), max(v.right, q.x), min(v.low, q.y), max(v.high, q.y)
		}
	}
	for _, f := range e.room.Walls[v.wall].Floor {
		v.low = min(v.low, e.floor(v, f.At))
	}
	if s := e.room.Walls[v.wall].Stair; s != nil {
		v.high = max(v.high, measure.Length(s.Flight.Risers)*s.Flight.Rise)
	}
}

// outline returns the visible outline of a part of a run.
func (e *elevation) outline(v *view, m *member, from, to measure.Length) []at {
	if m.ring != nil {
		return m.ring
	}
	return shape(m.run, m.wide, from, to, e.bent(v))
}

// bend makes a ring of the head of an arch, which the list has by the length of its outer edge.
func (e *elevation) bend(v *view, m *member) {
	i := slices.IndexFunc(e.list.Curves, func(c takeoff.CurvedTrim) bool {
		return c.Room == m.run.Room && c.Wall == m.run.Wall && c.Role == m.run.Role && slices.Contains(c.Runs, m.run.Label)
	})
	if i < 0 || m.run.Role != stock.RoleCasing && m.run.Role != stock.RoleBackband {
		return
	}
	for k := range v.place.Openings {
		o := &v.place.Openings[k]
		if o.ArchRise <= 0 || m.run.Start > o.At || m.run.Start < o.At-4*measure.Foot {
			continue
		}
		half, rise := float64(float64(o.Width)/2), float64(o.ArchRise)
		spring := float64(e.sill(o) + o.Height)
		radius := float64((float64(half*half)/rise + rise) / 2)
		x, y := float64(o.At)+half, spring+rise-radius
		inner := float64(e.list.Curves[i].Radius)
		outer := inner + float64(m.wide)
		// It begins where the legs end.
		from := math.Asin(min(max((float64(m.run.Bottom)-y)/inner, -1), 1))
		m.ring = ring(x, y, inner, outer, from)
		return
	}
}

// ringSteps is the number of straight segments of an arch.
const ringSteps = 32

// ring returns the outline between two circles above an angle from level: the outer one from left
// to right, and the inner one back.
func ring(x, y, inner, outer, from float64) []at {
	out := make([]at, 0, 2*ringSteps+2)
	for _, back := range []bool{false, true} {
		for k := range ringSteps + 1 {
			turned := float64(float64((math.Pi-float64(2*from))*float64(k)) / ringSteps)
			r, t := outer, math.Pi-from-turned
			if back {
				r, t = inner, from+turned
			}
			out = append(out, at{tick(x + float64(r*math.Cos(t))), tick(y + float64(r*math.Sin(t)))})
		}
	}
	return out
}

// roll makes level crown below a ceiling that slopes along other walls as high as the space
// permits: it is rolled, or has another profile, to meet the crown on the rake.
func (e *elevation) roll(v *view, m *member) {
	sloped := slices.ContainsFunc(e.room.Walls, func(w takeoff.Wall) bool { return w.Raked || w.Pitch != (measure.Slope{}) })
	if !sloped || !m.run.Role.Sprung() || m.run.Slope != 0 || m.run.Bottom == 0 || v.guessed {
		return
	}
	if w := &e.room.Walls[v.wall]; w.Raked || w.Pitch != (measure.Slope{}) {
		return
	}
	if up := min(v.place.HeightLeft, v.place.HeightRight) - m.run.Bottom; up > m.wide/3 && up < 3*m.wide {
		m.wide = up
	}
}

func (e *elevation) bent(v *view) bool { return e.room.Walls[v.wall].Curve != nil }

// guess moves a run with an unknown height to the assumed height.
func (e *elevation) guess(v *view, m *member) {
	if m.run.Bottom != 0 {
		return
	}
	moved := *m.run
	if v.guessed {
		if below, ok := e.fromCeiling(m); ok {
			moved.Bottom = v.high - below
			m.run = &moved
			return
		}
	}
	for i := range v.place.Openings {
		o := &v.place.Openings[i]
		if o.Kind != takeoff.OpeningWindow || o.Sill != 0 || !around(m.run, o) {
			continue
		}
		sill := e.sill(o)
		switch {
		case m.run.Slope == 90*measure.Degree || m.run.Slope == -90*measure.Degree:
			moved.Bottom = sill + max(0, (o.Height-m.run.Length)/2)
		case m.run.Slope == 180*measure.Degree:
			moved.Bottom = sill - o.Reveal - m.wide
		case m.run.Role == stock.RoleStool || m.run.Role == stock.RoleApron:
			moved.Bottom = sill - m.wide
		default:
			moved.Bottom = sill + o.Height + o.Reveal
		}
		m.run = &moved
		return
	}
}

// around reports whether a run is part of the trim of an opening.
func around(r *stock.Run, o *takeoff.Opening) bool {
	switch r.Role {
	case stock.RoleCasing, stock.RoleStool, stock.RoleApron, stock.RoleBackband, stock.RoleFrieze, stock.RoleFillet, stock.RoleCap, stock.RoleBlock, stock.RoleExtension:
	default:
		return false
	}
	end := r.Start + r.Net
	if r.Slope == 90*measure.Degree || r.Slope == -90*measure.Degree {
		end = r.Start
	}
	return r.Assembly == "" && end > o.At-2*measure.Foot && r.Start < o.At+o.Width+2*measure.Foot
}

// fromCeiling returns the distance from the ceiling to the lower edge of a run that hangs
// there.
func (e *elevation) fromCeiling(m *member) (measure.Length, bool) {
	for i := range e.scheme.Assemblies {
		a := &e.scheme.Assemblies[i]
		if k := m.run.Order - 1; a.FromCeiling && a.Name == m.run.Assembly && k >= 0 && k < len(a.Members) {
			return a.At + a.Members[k].At + m.wide, true
		}
	}
	return m.wide, m.run.Role == stock.RoleCrown && m.run.Assembly == ""
}

// assumedSill is the height of a window sill that was not measured.
const assumedSill = 2 * measure.Foot

func (e *elevation) sill(o *takeoff.Opening) measure.Length {
	if o.Kind == takeoff.OpeningWindow && o.Sill == 0 {
		return assumedSill
	}
	return o.Sill
}

// floor returns the height of the floor above that at the left end of the wall.
func (e *elevation) floor(v *view, x measure.Length) measure.Length {
	f := e.room.Walls[v.wall].Floor
	return f.Line(0) - f.Line(x)
}

// ceiling returns how high the ceiling is.
func (e *elevation) ceiling(v *view, x measure.Length) measure.Length {
	w := &e.room.Walls[v.wall]
	left, right := v.place.HeightLeft, v.place.HeightRight
	if v.guessed {
		left, right = v.high, v.high
	}
	if len(w.Ceiling) > 0 {
		return left + w.Ceiling.Line(x) - w.Ceiling.Line(0)
	}
	if w.Raked || w.Pitch != (measure.Slope{}) || left != right {
		return left + scaled(right-left, x, max(v.place.Length, 1))
	}
	return left
}

// title returns the title of the picture, describe its text description.
func (e *elevation) describe() string {
	var b strings.Builder
	b.WriteString("The " + plural(len(e.views), "wall") + " of " + e.room.Name + ", each as one faces it from the room, from left to right.")
	for i := range e.views {
		if i == 60 {
			b.WriteString(" And " + plural(len(e.views)-60, "wall") + " more.")
			break
		}
		v := &e.views[i]
		b.WriteString(" " + e.room.Walls[v.wall].Name + ": " + e.size(v))
		for k, o := range v.place.Openings {
			if k == 10 {
				b.WriteString(", and more openings")
				break
			}
			b.WriteString(", " + o.Name + " from " + e.o.length(o.At) + " to " + e.o.length(o.At+o.Width))
		}
		n := 0
		for _, m := range v.members {
			n += len(m.parts)
		}
		b.WriteString(", " + plural(n, "piece") + ".")
	}
	return b.String()
}

// size says how long and how high a wall is.
func (e *elevation) size(v *view) string {
	text := e.o.length(v.place.Length) + " long"
	switch left, right := v.place.HeightLeft, v.place.HeightRight; {
	case left == 0 && right == 0:
		text += ", height not measured"
	case left == right:
		text += ", " + e.o.length(left) + " high"
	default:
		text += ", " + e.o.length(left) + " high at its left end and " + e.o.length(right) + " at its right"
	}
	return text
}

func plural(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return strconv.Itoa(n) + " " + what
}
