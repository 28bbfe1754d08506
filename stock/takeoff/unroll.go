package takeoff

import (
	"fmt"
	"math"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
)

// section is the part of the measured room to which a wall of an unrolled room corresponds.
type section struct {
	wall int // of the room as measured

	// The extent on that wall, if it is a segment.
	segment         bool
	from, to, whole measure.Length // whole is the length of that wall

	inner bool // at its right is a joint within the curve or the bullnose

	// The deductions from the ends of a straight wall for the segments beside it; negative if
	// they leave more.
	left, right measure.Length

	curved   *Curve         // of a segment or a wall that trim bends around
	bead     measure.Length // radius of the bullnose that a segment goes around
	segments curve.Segments // all of the curve or of the bullnose
}

// unroll converts a room with curves to one of straight walls for the course: a wall for each
// segment, and one for the piece around a bullnose. For trim that bends by itself a curved wall
// counts as straight; onCurve and sizeCurve correct that.
func (t *taker) unroll() {
	if !t.room.bends() {
		return
	}
	from := t.room
	room, n := *from, len(from.Walls)
	room.Walls, t.sections = nil, nil
	called := t.called
	t.called = make([][]string, len(called))
	taken := map[string]bool{}
	for _, walls := range called {
		for _, c := range walls {
			taken[c] = true
		}
	}
	add := func(w Wall, s section, suffix string) {
		room.Walls, t.sections = append(room.Walls, w), append(t.sections, s)
		for k, walls := range called {
			name := walls[s.wall]
			if suffix != "" && taken[name+suffix] {
				name = strconv.Quote(name)
			}
			t.called[k] = append(t.called[k], name+suffix)
		}
	}
	for i, w := range from.Walls {
		switch segs := t.segmentsOf(w); {
		case segs.Count > 0:
			t.segmentWall(i, segs, func(w Wall, s section, k int) { add(w, s, fmt.Sprintf(" segment %d of %d", k, segs.Count)) })
		case w.Curve != nil:
			// Splices stay away from the middle of a curve.
			w.KeepClear = append(w.KeepClear[:len(w.KeepClear):len(w.KeepClear)], KeepClear{Name: "the middle of the curve", At: w.Length / 3, Width: w.Length / 3})
			add(w, section{wall: i, curved: w.Curve}, "")
		default:
			add(w, section{wall: i, left: t.cutAt(from, (i+n-1)%n, i, false), right: t.cutAt(from, i, (i+1)%n, true)}, "")
		}
		if w.Bullnose == 0 {
			continue
		}
		if bead, err := beadOf(w); err == nil { // was validated
			last := len(room.Walls) - 1
			corner := Corner{Kind: CornerOutside, Angle: halfTurn - 2*bead.Miter}
			t.sections[last].inner = true
			room.Walls[last].Corner = corner
			piece := Wall{Name: w.Name, Length: bead.Back, Corner: corner, HeightLeft: w.HeightRight, HeightRight: w.HeightRight, Unpaneled: w.Unpaneled}
			add(piece, section{wall: i, segment: true, from: w.Length, to: w.Length + bead.Back, whole: w.Length, bead: w.Bullnose, segments: bead}, " bullnose")
		}
	}
	t.turnCorners(room.Walls)
	t.room = &room
}

// turnCorners turns the corners before and after segments by as much more as half of one.
func (t *taker) turnCorners(walls []Wall) {
	m := len(walls)
	for i := range walls {
		s, next := t.sections[i], t.sections[(i+1)%m]
		if s.inner || s.bead != 0 || next.bead != 0 && next.wall == s.wall {
			continue
		}
		by := s.ends() + next.ends()
		walls[i].Corner = walls[i].Corner.turned(by)
	}
}

// ends returns the turn of the end of a row of segments against the curve, to the right at a
// corner.
func (s section) ends() measure.Angle {
	switch {
	case s.curved == nil || !s.segment:
		return 0
	case s.curved.Bend == curve.BendConvex:
		return -s.segments.Miter
	}
	return s.segments.Miter
}

// segmentsOf returns the segments of a wall for the course, if it is cut into any.
func (t *taker) segmentsOf(w Wall) curve.Segments {
	if w.Curve == nil || w.Curve.method(t.course.ceiling) != CurveSegments {
		return curve.Segments{}
	}
	return w.Curve.segments()
}

func beadOf(w Wall) (curve.Segments, error) {
	return curve.Bullnose{Radius: w.Bullnose, Corner: w.Corner.Angle, Thickness: 1}.Segments()
}

// segmentWall adds the segments of wall i.
func (t *taker) segmentWall(i int, segs curve.Segments, add func(w Wall, s section, k int)) {
	n := len(t.room.Walls)
	w := t.room.Walls[i]
	count := measure.Length(segs.Count)
	inner := Corner{Kind: CornerInside, Angle: halfTurn - 2*segs.Miter}
	if w.Curve.Bend == curve.BendConvex {
		inner.Kind = CornerOutside
	}
	for k := measure.Length(0); k < count; k++ {
		v := Wall{Name: w.Name, Length: segs.Back, Corner: inner, HeightLeft: w.HeightLeft, HeightRight: w.HeightRight, Openings: w.Openings, Fixtures: w.Fixtures, Stretches: w.Stretches, Studs: w.Studs}
		s := section{wall: i, segment: true, whole: w.Length, from: w.Length/count*k + w.Length%count*k/count, inner: true, curved: w.Curve, segments: segs}
		s.to = w.Length/count*(k+1) + w.Length%count*(k+1)/count
		if k == 0 {
			v.Start = w.Start
			v.Length -= t.cutAt(t.room, (i+n-1)%n, i, false)
		}
		if k == count-1 {
			v.Corner, s.inner = w.Corner, false
			v.Length -= t.cutAt(t.room, i, (i+1)%n, true)
		}
		v.Length = max(v.Length, 1)
		add(v, s, int(k)+1)
	}
}

// cutAt returns the deduction of the corner between walls i and j from the right end of i or
// the left end of j. Around a bullnose it is that of its pieces. Segments around a convex wall
// are tangents, which end off the wall by their gap: the lines of the backs meet a little
// before or beyond the corner.
func (t *taker) cutAt(r *Room, i, j int, right bool) measure.Length {
	a, b := r.Walls[i], r.Walls[j]
	if a.Bullnose != 0 {
		if s, err := beadOf(a); err == nil {
			return s.Short
		}
	}
	if !a.Corner.joined() {
		return 0
	}
	sa, sb := t.segmentsOf(a), t.segmentsOf(b)
	stands := func(w Wall, s curve.Segments) (gap, lean float64) {
		lean = s.Miter.Radians()
		if s.Count > 0 && w.Curve.Bend == curve.BendConvex {
			return float64(s.Gap), lean
		}
		return 0, -lean
	}
	ga, la := stands(a, sa)
	gb, lb := stands(b, sb)
	if ga == 0 && gb == 0 {
		return 0
	}
	// At the origin, with the tangent of b along x and the room at y > 0: the line of a goes
	// through p in the direction d, that of b through q in the direction e.
	turn := a.Corner.turn().Radians()
	p := point{float64(ga * math.Sin(turn)), float64(ga * math.Cos(turn))}
	d := point{math.Cos(la - turn), math.Sin(la - turn)}
	q := point{0, gb}
	e := point{math.Cos(lb), -math.Sin(lb)}
	cross := func(u, v point) float64 { return float64(u.x*v.y) - float64(u.y*v.x) }
	off := point{q.x - p.x, q.y - p.y}
	det := cross(d, e)
	if math.Abs(det) < 1e-6 {
		return 0 // one continues in the direction of the other
	}
	beyond, before := cross(off, e)/det, cross(off, d)/det
	limit := float64(min(lineLength(a, sa), lineLength(b, sb))) / 2
	if !(math.Abs(beyond) < limit && math.Abs(before) < limit) {
		return 0
	}
	if right {
		return asLength(-beyond)
	}
	return asLength(before)
}

func lineLength(w Wall, s curve.Segments) measure.Length {
	if s.Count > 0 {
		return s.Back
	}
	return w.Length
}

// section returns the section of a wall.
func (t *taker) section(wall int) section {
	if t.sections == nil {
		return section{wall: wall}
	}
	return t.sections[wall]
}

// on returns the position on the section of a position on the measured wall.
func (s section) on(x, length measure.Length) measure.Length {
	if !s.segment || s.to == s.from {
		return x
	}
	at, _, err := (x - s.from).MulDiv(int64(length), int64(s.to-s.from), measure.RoundHalfEven)
	if err != nil {
		return length
	}
	return at
}

// off returns the position on the measured wall of a position on the section.
func (s section) off(x, length measure.Length) measure.Length {
	if !s.segment || length == 0 {
		return x
	}
	at, _, err := x.MulDiv(int64(s.to-s.from), int64(length), measure.RoundHalfEven)
	if err != nil {
		return s.to
	}
	return s.from + at
}

// cutBack shortens the lines at corners where segments on the other side take some of the wall.
func (t *taker) cutBack() {
	for i := range t.sections {
		s, why := t.sections[i], "segments"
		if k := t.spans[i].left; k >= 0 && s.left != 0 {
			l := &t.lines[k]
			if t.section((i+len(t.sections)-1)%len(t.sections)).bead != 0 {
				why = "bullnose"
			}
			l.from += s.left
			l.left.short, l.left.why = s.left, why
			if t.bare(k, why) {
				continue
			}
		}
		if k := t.spans[i].right; k >= 0 && s.right != 0 {
			l := &t.lines[k]
			if why = "segments"; t.section((i+1)%len(t.sections)).bead != 0 {
				why = "bullnose"
			}
			l.to -= s.right
			l.right.short, l.right.why = s.right, why
			t.bare(k, why)
		}
	}
}

// bending returns the curve that a line bends around in one piece, nil if it is straight.
func (t *taker) bending(wall int) *Curve {
	if s := t.section(wall); s.curved != nil && !s.segment {
		return s.curved
	}
	return nil
}

// bendsAnywhere reports whether the course goes around a curve in one piece.
func (t *taker) bendsAnywhere() bool {
	for i := range t.sections {
		if t.bending(i) != nil {
			return true
		}
	}
	return false
}

// onCurve switches to the flexible profile on a wall around which it bends, and returns the
// function that switches back.
func (t *taker) onCurve(wall int) func() {
	c := t.bending(wall)
	if c == nil || c.method(t.course.ceiling) != CurveFlexible {
		return func() {}
	}
	was := t.course.profile
	for _, p := range t.scheme.Flexible {
		if p.Role == was.Role {
			p.Inside, p.Spring = was.Inside, was.Spring
			t.course.profile = p
		}
	}
	return func() { t.course.profile = was }
}

// sizeCurve adds to a line that bends its extra length: along the face of flexible molding on a
// convex wall, along its back on a concave one, and along the web of kerfed trim.
func (t *taker) sizeCurve(l *line) error {
	c := t.bending(l.wall)
	if c == nil {
		return nil
	}
	d, err := c.Arc.Dimensions()
	if err != nil {
		return err
	}
	s := c.strip(t.course.profile.Projection(), t.course.standoff)
	if _, err := s.Flexible(); err != nil { // which reports that it is thicker than the radius
		return err
	}
	name, out := "face of the curve", t.course.standoff+s.Thickness
	switch {
	case c.method(t.course.ceiling) == CurveKerfed:
		k, err := s.Kerfs(c.Kerf)
		if err != nil {
			return err
		}
		name, out = "web of the kerfs", t.course.standoff+k.Depth
	case c.Bend == curve.BendConcave:
		name, out = "back of the curve", -t.course.standoff
	}
	more, _, err := (l.to - l.from).MulDiv(int64(out), int64(d.Radius), measure.RoundHalfEven)
	if err != nil {
		return err
	}
	return l.lengthen(stock.Allowance{Name: name, Length: more})
}

// recordCurve adds a run to the list of trim around curves.
func (t *taker) recordCurve(l *line, label string) error {
	s := t.section(l.wall)
	if s.curved == nil && s.bead == 0 {
		return nil
	}
	v := CurvedTrim{
		Room: t.room.Name, Wall: t.room.Walls[l.wall].Name, Role: t.course.profile.Role,
		Radius: s.bead, Runs: []string{label}, Segments: s.segments,
	}
	list := &t.list.Curves
	if s.bead != 0 {
		t.list.Curves = append(*list, v)
		return nil
	}
	d, err := s.curved.Arc.Dimensions()
	if err != nil {
		return err
	}
	v.Radius, v.Bend, v.Method = d.Radius, s.curved.Bend, s.curved.method(t.course.ceiling)
	depth := t.course.standoff + t.course.profile.Projection()
	if whole, err := s.curved.strip(depth, 0).Segments(s.curved.tolerance()); err == nil && s.segment {
		v.Segments = whole
	}
	if n := len(*list); s.segment && n > t.curves { // of this course
		if last := &(*list)[n-1]; last.Room == v.Room && last.Wall == v.Wall && last.Role == v.Role && last.Segments == v.Segments {
			last.Runs = append(last.Runs, label)
			return nil
		}
	}
	if v.Method == CurveKerfed {
		part, _, err := d.Angle.MulDiv(int64(l.to-l.from), int64(t.spans[l.wall].length), measure.RoundHalfEven)
		if err != nil {
			return err
		}
		arc := s.curved.Arc
		if l.from != 0 || l.to != t.spans[l.wall].length {
			arc = curve.Arc{Radius: d.Radius, Angle: max(part, 1)}
		}
		strip := curve.Strip{Arc: arc, Bend: v.Bend, Thickness: t.course.profile.Projection(), Standoff: t.course.standoff}
		if v.Kerfs, err = strip.Kerfs(s.curved.Kerf); err != nil {
			return err
		}
	}
	t.list.Curves = append(*list, v)
	t.tightCurve(l, v)
	return nil
}

// tightCurve reports flexible molding around less than its least radius.
func (t *taker) tightCurve(l *line, v CurvedTrim) {
	if v.Method != CurveFlexible {
		return
	}
	w, p := t.opt.words(), t.course.profile
	least, listed := curve.MinRadius(p.Width)
	f := Finding{Code: FindingTightCurve, Severity: SeverityAdvice, Room: v.Room, Wall: v.Wall, Length: least}
	switch {
	case !listed:
		f.Reason = fmt.Sprintf("%s is %v wide; flexible molding of more than %v is on no list, ask the maker how far it bends", p.Name, w.About(p.Width), w.or("10 in", "254 mm"))
	case v.Radius < least:
		f.Reason = fmt.Sprintf("%s of %v bends to a radius of %v, and the wall has %v; take segments, or ask the maker", p.Name, w.About(p.Width), w.About(least), w.About(v.Radius))
	default:
		return
	}
	if fs := t.list.Findings; len(fs) > 0 && fs[len(fs)-1].Reason == f.Reason && fs[len(fs)-1].Wall == f.Wall {
		return // of another run on the wall
	}
	t.note(f)
}

// validateFlexible rejects flexible profiles that do not match the profile of their role.
func (s Scheme) validateFlexible(bad *faults) {
	seen := map[stock.Role]bool{}
	for i, p := range s.Flexible {
		at := indexed("flexible", i)
		bad.Under(at, p.Validate())
		if seen[p.Role] {
			bad.Add(at+".role", p.Role, "a role that no other flexible profile has")
		}
		seen[p.Role] = true
		like := false
		for _, f := range s.named() {
			if f.p == nil || f.role != p.Role {
				continue
			}
			like = true
			if p.Thickness != f.p.Thickness {
				bad.Add(at+".thickness", p.Thickness.About(), fmt.Sprintf("%v like %s, which it goes on from", f.p.Thickness.About(), f.p.Name))
			}
			if p.Width != f.p.Width {
				bad.Add(at+".width", p.Width.About(), fmt.Sprintf("%v like %s, which it goes on from", f.p.Width.About(), f.p.Name))
			}
			if p.Name == f.p.Name {
				bad.Add(at+".name", p.Name, "another name than that of the profile that does not bend")
			}
		}
		if !like {
			bad.Add(at+".role", p.Role, "the role of a profile of the scheme")
		}
	}
}
