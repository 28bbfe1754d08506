package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// cope decides for each inside corner which of the two ends is coped (or, for butt-jointed
// trim, cut short), and computes the length of every line.
//
// Lines joined by such corners form chains. In a chain with two ends the line opposite the
// entry is the first piece, and from it both ways round each line is coped onto the one before,
// so that none has two copes. A chain that closes on itself has as many corners as lines. A
// spliced line in it can take two copes, one for each of its parts; without one, each line is
// coped at its left end.
//
// It drops the lines of which nothing is left and reports whether there were any, because that
// bares corners.
func (t *taker) cope() (again bool) {
	t.bad = t.bad[:0]
	seen := make([]bool, len(t.lines))
	sight := t.sight()
	for i := range t.lines {
		if seen[i] || t.lines[i].gone {
			continue
		}
		chain, closed := t.chain(i)
		for _, k := range chain {
			seen[k] = true
		}
		t.orient(chain, closed, sight)
	}
	for i := range t.lines {
		if t.lines[i].gone {
			continue
		}
		l := &t.lines[i]
		err := t.size(l)
		if l.uncut = err != nil; l.uncut {
			t.fault(l, err)
		}
	}
	for i := range t.lines {
		if l := &t.lines[i]; !l.gone && !l.uncut && !l.whole() {
			t.sliver(l.wall, l.to-l.from, t.beside(l))
			t.lose(i)
			again = true
		}
	}
	return again
}

// whole reports whether a sized line has some length at its back and at its face: open joints
// and its fit may leave none.
func (l *line) whole() bool {
	back, face := l.length, l.length
	for _, e := range []stock.End{l.left.end, l.right.end} {
		switch e.LongPoint() {
		case stock.SectionBack:
			face -= e.Setback
		case stock.SectionFace:
			back -= e.Setback
		}
	}
	return back > 0 && face > 0
}

// chain returns the lines that are joined with line i by corners to be coped, from left to
// right, and reports whether the last is joined with the first.
func (t *taker) chain(i int) (chain []int, closed bool) {
	first := i
	for t.lines[first].left.cope {
		if first = t.lines[first].left.next; first == i {
			closed = true
			break
		}
	}
	chain = append(chain, first)
	for k := first; t.lines[k].right.cope; {
		if k = t.lines[k].right.next; k == first {
			break
		}
		chain = append(chain, k)
	}
	return chain, closed
}

func (t *taker) orient(chain []int, closed bool, sight []measure.Angle) {
	rank := func(k int) (measure.Angle, measure.Length) {
		l := t.lines[k]
		return sight[l.wall], l.to - l.from
	}
	farther := func(a, b int) bool {
		sa, la := rank(a)
		sb, lb := rank(b)
		return sa < sb || (sa == sb && la > lb)
	}
	if !closed {
		root := 0
		for i := range chain {
			if farther(chain[i], chain[root]) {
				root = i
			}
		}
		for i := 1; i <= root; i++ {
			t.fit(&t.lines[chain[i-1]].right)
		}
		for i := root; i < len(chain)-1; i++ {
			t.fit(&t.lines[chain[i+1]].left)
		}
		return
	}

	last := -1 // the spliced line nearest to the entry
	for i, k := range chain {
		if t.spliced(k) && (last < 0 || farther(chain[last], k)) {
			last = i
		}
	}
	if last < 0 || len(chain) < 3 {
		for _, k := range chain {
			t.fit(&t.lines[k].left)
		}
		return
	}
	rest := append(append([]int(nil), chain[last+1:]...), chain[:last]...)
	t.fit(&t.lines[chain[last]].left)
	t.fit(&t.lines[chain[last]].right)
	t.orient(rest, false, sight)
}

// fit makes m the end that is fitted to its neighbor.
func (t *taker) fit(m *meeting) {
	m.end.Kind = stock.EndCope
	if t.course.profile.Inside == stock.JointButt {
		m.end.Kind = stock.EndButt
	}
	m.name = m.end.Kind.String()
}

// sight returns for each wall its deviation from facing the entry: 0 for the wall opposite,
// 180° for the entry's own. Without an entry all are equal.
func (t *taker) sight() []measure.Angle {
	walls := t.room.chords().Walls
	off := make([]measure.Angle, len(walls))
	entry := -1
	for i, w := range walls {
		if t.room.Entry == w.Name {
			entry = i
		}
		for _, o := range w.Openings {
			if t.room.Entry == "" && entry < 0 && (o.Kind == OpeningDoor || o.Kind == OpeningCased) {
				entry = i
			}
		}
	}
	if entry < 0 {
		return off
	}
	// Both ways round, as far as the walls are joined. In a room whose corners turn
	// once around the two agree.
	for i := range off {
		off[i] = halfTurn
	}
	n := len(walls)
	var right, left measure.Angle
	for k := 1; k < n && walls[(entry+k-1)%n].Corner.joined(); k++ {
		right += walls[(entry+k-1)%n].Corner.turn()
		i := (entry + k) % n
		off[i] = min(off[i], fromOpposite(right))
	}
	for k := 1; k < n && walls[(entry-k+n)%n].Corner.joined(); k++ {
		i := (entry - k + n) % n
		left += walls[i].Corner.turn()
		off[i] = min(off[i], fromOpposite(left))
	}
	return off
}

// fromOpposite returns the deviation of a wall, turned away from another by the angle, from
// facing it, 0° to 180°.
func fromOpposite(turn measure.Angle) measure.Angle {
	const full = 2 * halfTurn
	off := (turn%full+full)%full - halfTurn
	return max(off, -off)
}

// spliced reports whether a line does not fit the longest stick. It is called before the copes
// are decided, which change no length by more than a corner's slant.
func (t *taker) spliced(k int) bool {
	longest := t.course.profile.Longest()
	l := t.lines[k]
	return longest > 0 && t.onSlope(l.wall, l.to-l.from) > longest
}

// size fills in the two ends of a line, its length and its allowances.
func (t *taker) size(l *line) error {
	w := t.room.Walls[l.wall]
	full := t.spans[l.wall].length
	l.as, l.reach, l.leanLeft, l.leanRight = nil, 0, 0, 0
	l.allow("wall "+w.Name, full)
	l.allow(partAtLeft, l.left.short-l.from)
	l.allow(inCornerOf(&l.left, "left"), -l.left.short)
	l.allow(partAtRight, l.to-full+l.right.short)
	l.allow(inCornerOf(&l.right, "right"), -l.right.short)

	if err := t.roll(l); err != nil {
		return err
	}
	l.length = l.to - l.from
	l.allow("slope of the ceiling", t.sloping(l))
	l.length += t.sloping(l)
	for _, e := range []struct {
		m    *meeting
		side string
		c    Corner
	}{{&l.left, "left", t.room.before(l.wall)}, {&l.right, "right", w.Corner}} {
		as, err := t.sizeEnd(e.m, e.side, e.c)
		if err != nil {
			return err
		}
		out, err := t.leaning(l, e.m, e.side, e.c)
		if err != nil {
			return err
		}
		for _, a := range append(as, out...) {
			if err := l.lengthen(a); err != nil {
				return err
			}
			if e.m == &l.left {
				l.reach += a.Length
			}
		}
	}
	if err := t.sizeCurve(l); err != nil {
		return err
	}
	as, err := t.fitted(l)
	if err != nil {
		return err
	}
	for _, a := range as {
		if err := l.lengthen(a); err != nil {
			return err
		}
		if a.Length < 0 {
			l.reach += a.Length / 2 // room is left at both ends; bowed trim fills the wall again
		}
	}
	return nil
}

// allow notes an allowance that the line's length already has.
func (l *line) allow(name string, x measure.Length) {
	if x != 0 {
		l.as = append(l.as, stock.Allowance{Name: name, Length: x})
	}
}

// lengthen adds an allowance to a line and its length.
func (l *line) lengthen(a stock.Allowance) (err error) {
	l.allow(a.Name, a.Length)
	l.length, err = l.length.Add(a.Length)
	return err
}

const (
	partAtLeft  = "left part of the wall"
	partAtRight = "right part of the wall"
)

func inCornerOf(m *meeting, side string) string { return m.why + " in the corner at " + side }

// sizeEnd computes one end and returns its addition to the line.
func (t *taker) sizeEnd(m *meeting, side string, c Corner) ([]stock.Allowance, error) {
	cut, err := joint.NewCut(m.rolled(t.course.profile), m.end)
	if err != nil {
		return nil, err
	}
	m.end = cut.End
	name := m.name + " at " + side
	if m.end.Kind == stock.EndSquare {
		name = "slant of the corner at " + side
	}
	as := []stock.Allowance{{Name: name, Length: cut.Allowance}}
	if m.end.Kind == stock.EndScribe {
		as = append(as, stock.Allowance{Name: "scribe at " + side, Length: t.opt.Scribe})
	}
	if j := t.openJoint(m, side, c); j != 0 {
		name := "movement joint at " + side
		if m.next >= 0 && !m.cope {
			name = "half the joint at " + side
		}
		as = append(as, stock.Allowance{Name: name, Length: -j})
	}
	if s := t.course.standoff; s > 0 && m.next < 0 && m.behind == 0 && m.end.Kind == stock.EndSquare && m.end.Angle != 0 { // its face leans farther than it is thick
		jam, err := joint.SquareDeduction(s, m.end.Angle)
		if err != nil {
			return nil, err
		}
		as = append(as, stock.Allowance{Name: "slant before the " + t.course.before + " at " + side, Length: -jam})
	}
	if m.end.Kind == stock.EndReturn {
		as = append(as, stock.Allowance{Name: "room for what is returned in front at " + side, Length: -m.back})
	}
	if (m.next >= 0 || m.behind > 0) && t.course.standoff > 0 && !c.straight() {
		off, err := joint.MiterOffset(t.course.standoff, c.angle())
		if err != nil {
			return nil, err
		}
		if m.behind > 0 {
			off = t.behindOff(m, c)
		}
		if c.Kind == CornerInside {
			off = -off
		}
		as = append(as, stock.Allowance{Name: t.course.before + " behind it at " + side, Length: off})
	}
	return as, nil
}

// fault notes why a line cannot be cut.
func (t *taker) fault(l *line, why error) {
	t.bad = append(t.bad, wallFault{wall: t.section(l.wall).wall, opening: -1, err: uncut(t.label(l.wall), l.to-l.from, why)})
}

func (t *taker) label(wall int) string {
	label := t.called[t.course.called][wall] + " " + t.course.profile.Role.String()
	if t.elsewhere != nil {
		label += t.suffix(wall)
	}
	return label
}
