package takeoff

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/stair"
)

// A ceiling that slopes along a wall affects only the trim that hangs from it: crown and its
// members. All other trim runs level.

// sloped reports whether the ceiling slopes along the wall by design.
func (w *Wall) sloped() bool { return w.Raked || w.Pitch != measure.Slope{} }

// sloped fills in a height that follows from the pitch. Without any height the lower end is as
// high as the room.
func (r *Room) sloped(i int, left, right measure.Length) (measure.Length, measure.Length) {
	w := &r.Walls[i]
	if w.Pitch == (measure.Slope{}) || w.HeightLeft != 0 && w.HeightRight != 0 {
		return left, right
	}
	rise, _, err := w.Pitch.Rise(w.topLength(), measure.RoundHalfEven)
	if err != nil {
		return left, right
	}
	switch {
	case w.HeightLeft != 0, w.HeightRight == 0 && rise > 0:
		right = left + rise
	case w.HeightRight != 0, rise < 0:
		left = right - rise
	}
	if r.Height == 0 && w.HeightLeft == 0 && w.HeightRight == 0 {
		return 0, 0
	}
	return left, right
}

// topLength returns the length of the wall at the ceiling.
func (w *Wall) topLength() measure.Length {
	if w.TopLength != 0 {
		return w.TopLength
	}
	return w.Length
}

// slopeOf returns the slope of the ceiling along a wall, rising to the right; level if it is
// not sloped by design. Two measured heights take precedence over a pitch.
func (r *Room) slopeOf(i int) measure.Slope {
	w := &r.Walls[i]
	if !w.sloped() {
		return measure.Slope{}
	}
	if w.HeightLeft == 0 || w.HeightRight == 0 {
		if !w.Raked || w.Pitch != (measure.Slope{}) {
			return w.Pitch
		}
	}
	left, right := r.heights(i)
	s, err := measure.NewSlope(right-left, w.topLength())
	if err != nil { // valid, except for absurd terms
		return w.Pitch
	}
	return s
}

// validateSlopes rejects impossible ceilings.
func (r *Room) validateSlopes(bad *faults) {
	if i := slices.IndexFunc(r.Walls, func(w Wall) bool { return w.sloped() }); i >= 0 {
		for k, w := range r.Walls {
			if n := len(w.Ceiling); n > 0 {
				bad.Add(indexed("walls", k)+".ceiling", strconv.Itoa(n)+" readings", "nothing, because the ceiling slopes on purpose along "+r.Walls[i].Name)
			}
		}
	}
	for i := range r.Walls {
		w, at := &r.Walls[i], indexed("walls", i)
		if w.Curve != nil {
			for _, f := range []struct {
				name string
				is   bool
			}{{"pitch", w.Pitch != measure.Slope{}}, {"raked", w.Raked}, {"stair", w.Stair != nil}} {
				if f.is {
					bad.Add(at+"."+f.name, "on a curved wall", "nothing, because slopes are known on straight walls only")
				}
			}
			continue
		}
		if m := w.Pitch.Float64(); m > maxSlope || m < -maxSlope {
			bad.Add(at+".pitch", w.Pitch.String(), "at most 20 in 1, rising or falling")
			continue
		}
		fine := func(l, most measure.Length) bool { return l >= 0 && l <= most }
		if !w.sloped() || w.Length <= 0 || !fine(w.Length, maxWall) || !fine(w.TopLength, maxWall) || !fine(w.HeightLeft, maxHeight) || !fine(w.HeightRight, maxHeight) || !fine(r.Height, maxHeight) {
			continue // reported by another check
		}
		if w.Raked && w.Pitch == (measure.Slope{}) && (w.HeightLeft == 0 || w.HeightRight == 0) {
			bad.Add(at+".raked", "true", "the height at both ends of the wall, or its pitch")
			continue
		}
		left, right := r.heights(i)
		known := left != 0 || right != 0
		switch {
		case known && (left <= 0 || right <= 0):
			bad.Add(at+".pitch", w.Pitch.String(), fmt.Sprintf("less steep: in %v the ceiling would reach the floor", w.topLength().About()))
		case known && (right-left)/maxSlope > w.topLength() || known && (left-right)/maxSlope > w.topLength():
			bad.Add(at+".height_right", right.About(), "a ceiling that rises or falls at most 20 in 1")
		}
	}
}

// slope returns the slope of the course on a wall as a float, rising to the right: zero is level.
func (t *taker) slope(wall int) float64 {
	if !t.atCeiling() {
		return 0
	}
	return t.room.slopeOf(wall).Float64()
}

// onSlope returns the length on the slope of a wall of a level length. On the level it is the
// same.
func (t *taker) onSlope(wall int, level measure.Length) measure.Length {
	m := t.slope(wall)
	if m == 0 {
		return level
	}
	return asLength(float64(float64(level) * math.Sqrt(1+float64(m*m))))
}

// along returns the position on a line, from its left long point, of a position on the wall.
func (t *taker) along(l *line, x measure.Length) measure.Length {
	return t.onSlope(l.wall, x-l.from) + l.reach
}

// across is the reverse of along.
func (t *taker) across(l *line, at measure.Length) measure.Length {
	return t.level(l.wall, at-l.reach) + l.from
}

// level is the reverse of onSlope.
func (t *taker) level(wall int, along measure.Length) measure.Length {
	m := t.slope(wall)
	if m == 0 {
		return along
	}
	return asLength(float64(along) / math.Sqrt(1+float64(m*m)))
}

// inclined returns a run of backing of the given height as it lies under a slope.
func (t *taker) inclined(wall int, run stock.Run, high measure.Length) stock.Run {
	m := t.slope(wall)
	if m == 0 {
		return run
	}
	run.Slope = steep(m)
	if h := t.room.ceilingAt(wall, run.Start); h > 0 {
		run.Bottom = max(0, h-t.onSlope(wall, high-t.course.hi))
	}
	return run
}

// sloping returns the length that the slope of the ceiling adds to a line.
func (t *taker) sloping(l *line) measure.Length {
	return t.onSlope(l.wall, l.to-l.from) - (l.to - l.from)
}

// steep returns a slope as an angle.
func steep(m float64) measure.Angle {
	a, err := measure.FromDegrees(math.Atan(m) * (180 / math.Pi))
	if err != nil {
		return 0
	}
	return a.Round(measure.Arcsecond/1000, measure.RoundHalfEven)
}

// hypot returns the length of the slope of a rise in a run.
func hypot(rise, run measure.Length) measure.Length {
	a, b := float64(rise), float64(run)
	return asLength(math.Sqrt(float64(a*a) + float64(b*b)))
}

// rakeWay is the way in which crown goes around the corner at the right of a wall where it
// turns from level to a rake.
type rakeWay struct {
	turns bool // from level to rake or back; else both walls are raked
	stair.Transition
}

// rakes makes the joint of two lines of which at least one runs up a slope, and reports whether
// it did. In the plane of one wall both are mitered by half the turn. In a corner of a level
// and a raked wall a wedge makes the turn, if possible; else both run to the corner.
func (t *taker) rakes(a, b int, c Corner) bool {
	l, r := &t.lines[a], &t.lines[b]
	left, right := t.slope(l.wall), t.slope(r.wall)
	if left == 0 && right == 0 {
		return false
	}
	if c.straight() {
		turn := steep(left) - steep(right)
		if turn == 0 {
			return false
		}
		end := stock.End{Kind: stock.EndRake, Angle: turn / 2}
		l.right.end, r.left.end = end, end
		l.right.name, r.left.name = end.Kind.String(), end.Kind.String()
		l.right.count, l.right.corner = &t.ends.RakeMiters, true
		return true
	}
	l.right.next, r.left.next = -1, -1
	way := t.transition(l.wall, r.wall, c)
	if t.ways == nil {
		t.ways = make([]*rakeWay, len(t.room.Walls))
	}
	t.ways[l.wall] = &way
	for _, e := range []struct {
		l     *line
		m     *meeting
		slope float64
	}{{l, &l.right, left}, {r, &r.left, -right}} { // as it rises toward the corner
		m := e.m
		m.own, m.corner = true, false
		switch {
		case way.WedgeEdge == 0 && e.slope != 0:
			m.end, m.name, m.count = stock.End{Kind: stock.EndPlumb, Angle: steep(e.slope)}, "corner", &t.ends.Stops
		case way.WedgeEdge == 0 && c.Kind == CornerInside && way.turns && !t.course.profile.Role.Sprung() && t.course.standoff == 0:
			// A flat profile is fitted to the face of its like on the rake.
			m.end, m.name, m.count, m.corner = stock.End{Kind: stock.EndCope, Angle: c.Angle}, stock.EndCope.String(), &t.ends.Copes, true
			if t.course.profile.Inside == stock.JointButt {
				m.end.Kind, m.name, m.count = stock.EndButt, stock.EndButt.String(), &t.ends.Butts
			}
		case way.WedgeEdge == 0 && c.Kind == CornerInside:
			m.end, m.name, m.count = stock.End{Angle: c.Angle}, "corner", &t.ends.Stops
		case way.WedgeEdge == 0:
			m.end, m.name, m.count, m.corner = stock.End{Kind: stock.EndOutsideMiter, Angle: c.Angle}, stock.EndOutsideMiter.String(), &t.ends.OutsideMiters, true
		case e.slope == 0:
			m.end, m.name, m.count, m.corner = stock.End{Kind: stock.EndInsideMiter, Angle: c.Angle}, stock.EndInsideMiter.String(), &t.ends.InsideMiters, true
		default:
			m.end, m.name, m.count, m.corner = stock.End{Kind: stock.EndRake, Angle: steep(e.slope) / 2}, stock.EndRake.String(), &t.ends.RakeMiters, true
			t.stopShort(e.l, m, way.WedgeEdge)
		}
	}
	return true
}

const wedge = "wedge"

// stopShort ends a line where its wedge does.
func (t *taker) stopShort(l *line, m *meeting, by measure.Length) {
	off := by - m.short
	if m == &l.left {
		l.from += off
	} else {
		l.to -= off
	}
	m.short, m.why = by, wedge
}

// transition returns the ways around a corner in which level trim meets raked trim; without a
// WedgeEdge if both are raked or the wedge is impossible.
func (t *taker) transition(left, right int, c Corner) rakeWay {
	var away measure.Slope // of the raked trim, from the corner
	switch l, r := t.slope(left), t.slope(right); {
	case l != 0 && r != 0:
		return rakeWay{}
	case !t.course.profile.Role.Sprung() || t.course.standoff > 0 || t.course.hi != 0: // it does not end in a point at the ceiling
		return rakeWay{turns: true}
	case r != 0:
		away = t.room.slopeOf(right)
	default:
		away = negated(t.room.slopeOf(left))
	}
	way, err := stair.Corner{Slope: away, Angle: c.Angle, Outside: c.Kind == CornerOutside}.Crown(t.course.profile)
	if err != nil {
		return rakeWay{}
	}
	return rakeWay{true, way}
}

// negated returns the slope that falls as s rises.
func negated(s measure.Slope) measure.Slope {
	text, err := s.MarshalText()
	if err != nil {
		return s
	}
	back := "-" + string(text)
	if text[0] == '-' {
		back = string(text[1:])
	}
	if err := s.UnmarshalText([]byte(back)); err != nil {
		return s
	}
	return s
}

// plumb makes the square ends of trim on a slope plumb.
func (t *taker) plumb() {
	for k := range t.lines {
		l := &t.lines[k]
		m := t.slope(l.wall)
		if m == 0 {
			continue
		}
		if l.left.end.Kind == stock.EndSquare {
			l.left.end = stock.End{Kind: stock.EndPlumb, Angle: steep(-m)}
		}
		if l.right.end.Kind == stock.EndSquare {
			l.right.end = stock.End{Kind: stock.EndPlumb, Angle: steep(m)}
		}
	}
}

// rakedInset returns the inset of an end in the plane of its back and in that of its face, if
// it is cut for a slope or meets a wedge.
func (t *taker) rakedInset(m *meeting, c Corner) (inset, bool) {
	switch {
	case m.next < 0 && m.end.Kind == stock.EndInsideMiter:
		return inset{miterAt(t.course.standoff, c.angle()), miterAt(t.tight(), c.angle())}, true
	case !m.end.Kind.Raked():
		return inset{}, false
	case m.end.Kind != stock.EndRake || !t.course.profile.Role.Sprung() || m.next >= 0:
		return inset{}, true
	}
	cut, err := joint.NewCut(t.course.profile, m.end)
	if err != nil {
		return inset{}, true
	}
	// The face of crown is its upper edge, which in plan ends where the wedge comes to a
	// point: beyond the lower edge, or before it.
	off := cut.End.Setback
	if m.end.Angle < 0 {
		off = -off
	}
	return inset{face: off}, true
}

// ceilingAt returns the height of the ceiling at x on a wall, zero if unknown.
func (r *Room) ceilingAt(i int, x measure.Length) measure.Length {
	left, right := r.heights(i)
	long := r.Walls[i].topLength()
	if left == 0 || right == 0 || long <= 0 {
		return 0
	}
	up, _, err := (right - left).MulDiv(int64(max(0, min(x, long))), int64(long), measure.RoundHalfEven)
	if err != nil {
		return min(left, right)
	}
	return left + up
}

// lowOver returns the least height of the ceiling over a part of a wall. Without a designed
// slope it is that of the lower end of the wall.
func (r *Room) lowOver(i int, from, to measure.Length) measure.Length {
	if !r.Walls[i].sloped() {
		return r.low(i)
	}
	return min(r.ceilingAt(i, from), r.ceilingAt(i, to))
}

// clears reports whether the ceiling slopes clear of an obstacle of the given height, so that
// trim at the ceiling passes.
func (t *taker) clears(wall int, b block, hi measure.Length) bool {
	if t.slope(wall) == 0 {
		return false
	}
	low := t.room.lowOver(wall, b.from, b.to)
	return low > 0 && hi <= low-t.onSlope(wall, -t.course.lo)
}

// incline records the slope in a run.
func (t *taker) incline(l *line, run *stock.Run) {
	if m := t.slope(l.wall); m != 0 {
		run.Slope = steep(m)
		if h := t.room.ceilingAt(l.wall, l.from); h > 0 {
			run.Bottom = max(0, h-t.onSlope(l.wall, -t.course.lo))
		}
		return
	}
	n := len(t.room.Walls)
	for _, i := range []int{l.wall, (l.wall + n - 1) % n} {
		if t.ways != nil && t.ways[i] != nil && t.ways[i].WedgeEdge != 0 && run.Bottom > 0 {
			run.Bottom = max(0, run.Bottom+t.course.profile.Drop()-t.ways[i].WedgeLine)
			return
		}
	}
}

// cutWedges adds the level pieces that bring crown around a corner onto a rake, and reports the
// choices at each corner.
func (t *taker) cutWedges() {
	for k := range t.lines {
		l := &t.lines[k]
		if l.gone || l.uncut {
			continue
		}
		both := l.left.why == wedge && l.right.why == wedge
		for i, m := range []*meeting{&l.left, &l.right} {
			if m.why != wedge {
				continue
			}
			label := t.label(l.wall) + " wedge"
			if both {
				label += " " + letters(i)
			}
			if err := t.cutWedge(label, l, m, i == 1); err != nil {
				t.fault(l, err)
			}
		}
	}
	for k := range t.lines {
		if l := &t.lines[k]; !l.gone && !l.uncut && t.slope(l.wall) != 0 && t.course.profile.Role.Sprung() {
			t.noteReturn(l, &l.left, t.room.slopeOf(l.wall))
			t.noteReturn(l, &l.right, negated(t.room.slopeOf(l.wall)))
		}
	}
	for i, way := range t.ways {
		if j := (i + 1) % len(t.room.Walls); way != nil {
			t.noteWay(i, j, way)
		}
	}
}

func (t *taker) cutWedge(label string, l *line, m *meeting, right bool) error {
	w, corner := t.room.Walls[l.wall], t.room.before(l.wall)
	if right {
		corner = w.Corner
	}
	p := t.course.profile
	in, err := joint.NewCut(p, stock.End{Kind: stock.EndInsideMiter, Angle: corner.Angle})
	if err != nil {
		return err
	}
	turn, err := joint.NewCut(p, m.end)
	if err != nil {
		return err
	}
	if m.end.Angle > 0 {
		turn.End.Setback = 0 // not nested: both cuts end in one point
	}
	as := []stock.Allowance{{Name: "wedge at the wall", Length: m.short}}
	if turn.Allowance != 0 {
		as = append(as, stock.Allowance{Name: "rake miter", Length: turn.Allowance})
	}
	n := len(t.room.Walls)
	at, way := measure.Length(0), t.ways[(l.wall+n-1)%n]
	left, end, reach := in.End, turn.End, measure.Length(0)
	if right {
		at, way = t.spans[l.wall].length-m.short, t.ways[l.wall]
		left, end, reach = turn.End, in.End, turn.Allowance
	}
	run := stock.Run{
		Label: label, Profile: p.Name, Role: p.Role, Room: t.room.Name, Wall: w.Name,
		Start: at, Net: m.short, Reach: reach, Standoff: t.course.standoff, Length: m.short + turn.Allowance, Left: left, Right: end, Allowances: as,
	}
	high := measure.Length(0)
	if right {
		high = t.spans[l.wall].length
	}
	if h := t.room.ceilingAt(l.wall, high); h > 0 {
		run.Bottom = max(0, h-way.WedgeLine)
	}
	pieces, err := run.Pieces(nil)
	if err != nil {
		return err
	}
	t.list.add(p, t.course.stone, run, pieces, Joints{}, 0)
	return nil
}

// noteReturn reports that an end that is returned to the wall on a rake has a return of another
// profile. The slope is that of the trim as it leaves the end.
func (t *taker) noteReturn(l *line, m *meeting, away measure.Slope) {
	if m.end.Kind != stock.EndReturn {
		return
	}
	way, err := stair.Corner{Slope: away, Outside: true}.Crown(t.course.profile)
	if err != nil {
		return
	}
	say, p, f := t.opt.words(), t.course.profile, max(steep(t.slope(l.wall)), steep(-t.slope(l.wall)))
	reason := fmt.Sprintf("%s is returned to %s on a slope of %s: a return of the same profile misses it by %s",
		p.Name, t.room.Walls[l.wall].Name, say.FormatAngle(f.Round(measure.Degree/10, measure.RoundHalfEven)), say.about(max(way.Miss, -way.Miss)))
	if way.LevelWidth != 0 {
		reason += fmt.Sprintf("; one that is milled for it is %s wide", say.about(way.LevelWidth))
	}
	t.note(Finding{Code: FindingRake, Severity: SeverityAdvice, Room: t.room.Name, Wall: t.room.Walls[l.wall].Name, Length: max(way.Miss, -way.Miss), Angle: f, Reason: reason + "; or end it plumb"})
}

// noteWay reports the choices at the corner of two walls.
func (t *taker) noteWay(i, j int, way *rakeWay) {
	say, p := t.opt.words(), t.course.profile
	f := Finding{Code: FindingRake, Severity: SeverityAdvice, Room: t.room.Name, Wall: t.room.Walls[i].Name, Length: max(way.Miss, -way.Miss)}
	slope := steep(t.slope(i))
	if slope == 0 {
		slope = steep(t.slope(j))
	}
	f.Angle = max(slope, -slope)
	degrees := func(a measure.Angle) string {
		return say.FormatAngle(a.Round(measure.Degree/10, measure.RoundHalfEven))
	}
	where := fmt.Sprintf("in the corner of %s and %s", t.room.Walls[i].Name, t.room.Walls[j].Name)
	switch {
	case !way.turns:
		f.Severity = SeverityDoubt
		f.Reason = fmt.Sprintf("%s %s: two rakes meet, and no rule here says how it goes around; both are cut plumb", p.Name, where)
		t.note(f)
		return
	case !p.Role.Sprung():
		m := math.Abs(t.slope(i)) + math.Abs(t.slope(j)) // one is level
		narrow := asLength(float64(p.Width) / math.Sqrt(1+float64(m*m)))
		f.Length = p.Width - narrow
		f.Reason = fmt.Sprintf("%s does not meet its like %s: %v wide on the level it has to be %s wide on the slope of %s",
			p.Name, where, say.About(p.Width), say.about(narrow), degrees(f.Angle))
		t.note(f)
		return
	case t.course.standoff > 0 || t.course.hi != 0:
		f.Severity = SeverityDoubt
		f.Reason = fmt.Sprintf("%s, which stands off wall or ceiling, cannot turn %s from the level to %s with one profile; both are cut to the corner: measure there",
			p.Name, where, degrees(f.Angle))
		t.note(f)
		return
	}
	var ways []string
	if way.WedgeEdge != 0 {
		ways = append(ways, fmt.Sprintf("a wedge %s long at the wall is in the list, with the level crown %s below the ceiling of the corner", say.about(way.WedgeEdge), say.about(way.WedgeLine)))
	}
	if way.RakeWidth != 0 {
		ways = append(ways, fmt.Sprintf("crown milled for the rake is %s wide with a spring of %s", say.about(way.RakeWidth), degrees(way.RakeSpring)))
	}
	if way.LevelWidth != 0 {
		ways = append(ways, fmt.Sprintf("crown milled for the level wall is %s wide", say.about(way.LevelWidth)))
	}
	if way.RolledSpring != 0 {
		ways = append(ways, "the level crown rolled to a spring of "+degrees(way.RolledSpring)+" turns as on a level ceiling")
	}
	if way.WedgeEdge == 0 {
		f.Severity = SeverityDoubt
		ways = append(ways, way.Trouble...)
		ways = append(ways, "both are cut to the corner: measure there")
	}
	f.Reason = fmt.Sprintf("%s cannot turn %s from the level to %s with one profile, its upper edges would miss each other by %s; %s",
		p.Name, where, degrees(f.Angle), say.about(max(way.Miss, -way.Miss)), strings.Join(ways, "; "))
	t.note(f)
}

// roofPitch doubts a pitch that disagrees with the heights of its wall.
func (c *checker) roofPitch(i int) {
	w := &c.r.Walls[i]
	if w.Pitch == (measure.Slope{}) || w.HeightLeft == 0 || w.HeightRight == 0 {
		return
	}
	rise, _, err := w.Pitch.Rise(w.topLength(), measure.RoundHalfEven)
	if err != nil {
		return
	}
	off := rise - (w.HeightRight - w.HeightLeft)
	if off = max(off, -off); off <= topBottom {
		return
	}
	real := steep(c.r.slopeOf(i).Float64())
	c.add(Finding{
		Code: FindingRoofPitch, Severity: SeverityDoubt, Wall: w.Name, Length: off, Angle: real,
		Reason: fmt.Sprintf("the ceiling of %s would rise %v at its pitch, and rises %v by its heights, %s; a ceiling often differs from the pitch of the roof, and the heights count",
			w.Name, c.w.About(rise), c.w.About(w.HeightRight-w.HeightLeft), c.w.FormatAngle(real.Round(measure.Degree/10, measure.RoundHalfEven))),
	})
}
