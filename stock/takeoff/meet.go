package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// copeWithin is the greatest deviation from square of an inside corner that is coped. Beyond it
// the square end would leave an open wedge beside the cope, so both ends are mitered. Common
// practice, no source.
const copeWithin = 5 * measure.Degree

// meetCorners decides the joints of the lines in the corners of the room. It discards earlier
// decisions, but not the deductions in corners.
func (t *taker) meetCorners() {
	for t.clearCorners() {
	}
	for k := range t.lines {
		l := &t.lines[k]
		if l.before == nil {
			l.left = meeting{next: -1, short: l.left.short, why: l.left.why}
		}
		if l.after == nil {
			l.right = meeting{next: -1, short: l.right.short, why: l.right.why}
		}
	}
	walls := t.room.Walls
	for i, w := range walls {
		j := (i + 1) % len(walls)
		a, b := t.spans[i].right, t.spans[j].left
		switch {
		case !w.Corner.joined():
			start := walls[j].Start.Kind
			if walls[j].Start == (Corner{}) {
				start = w.Corner.Kind
			}
			if a >= 0 {
				t.atOpenEnd(&t.lines[a].right, w.Corner.Kind)
			}
			if b >= 0 {
				t.atOpenEnd(&t.lines[b].left, start)
			}
		case a >= 0 && b >= 0 && len(walls) > 1:
			t.join(a, b, w.Corner, t.mitered[i])
		default:
			if a >= 0 {
				t.alone(&t.lines[a].right, w.Corner)
				t.lines[a].right.behind = t.behindAt(w.Corner, func(base *taker) int { return base.spans[j].left })
				t.meetRest(&t.lines[a].right, w.Corner, func(o *taker) int { return o.spans[j].left })
			}
			if b >= 0 {
				t.alone(&t.lines[b].left, w.Corner)
				t.lines[b].left.behind = t.behindAt(w.Corner, func(base *taker) int { return base.spans[i].right })
				t.meetRest(&t.lines[b].left, w.Corner, func(o *taker) int { return o.spans[i].right })
			}
		}
	}
	t.wrap()
	t.plumb()
}

// clearCorners keeps the lines that reach an inside corner clear of obstacles there on the
// other wall, and drops a line of which nothing is left. It reports whether it dropped one,
// because that bares another corner.
func (t *taker) clearCorners() bool {
	walls := t.room.Walls
	for i, w := range walls {
		if w.Corner.Kind != CornerInside || w.Corner.straight() || t.section(i).inner {
			continue
		}
		j := (i + 1) % len(walls)
		a, b := t.spans[i].right, t.spans[j].left
		if a >= 0 && b < 0 {
			l := &t.lines[a]
			depth, name := t.inCorner(j, false)
			l.to -= depth - l.right.short
			l.right.short, l.right.why = depth, name
			if t.bare(a, name) {
				return true
			}
		}
		if b >= 0 && a < 0 {
			l := &t.lines[b]
			depth, name := t.inCorner(i, true)
			l.from += depth - l.left.short
			l.left.short, l.left.why = depth, name
			if t.bare(b, name) {
				return true
			}
		}
	}
	return false
}

// inCorner returns the depth and the name of an obstacle on a wall that is so near its left or
// right end that trim on the next wall runs into it. That may be trim that begins again beyond
// something small, such as a pipe.
func (t *taker) inCorner(wall int, right bool) (depth measure.Length, name string) {
	s := t.spans[wall]
	near := func(from, to measure.Length) bool {
		if right {
			return s.length-to < t.tight()
		}
		return from < t.tight()
	}
	for _, b := range s.blocks {
		if near(b.from, b.to) && (name == "" || b.depth > depth) {
			depth, name = b.depth, b.name
		}
	}
	for k := s.first; k < s.last; k++ {
		if l := &t.lines[k]; !l.gone && near(l.from, l.to) && t.tight() > depth {
			depth, name = t.tight(), t.course.profile.Role.String()
		}
	}
	return depth, name
}

// bare drops line k if the obstacle in its corner leaves it narrower than the trim is thick.
func (t *taker) bare(k int, why string) bool {
	l := &t.lines[k]
	if l.left.short == 0 && l.right.short == 0 || l.to-l.from >= t.tight() {
		return false
	}
	t.sliver(l.wall, max(0, l.to-l.from), why)
	t.lose(k)
	return true
}

func (t *taker) atOpenEnd(m *meeting, k CornerKind) {
	switch k {
	case CornerOpen:
		t.terminate(m, stock.EndReturn, "open end")
	case CornerRough:
		t.terminate(m, stock.EndScribe, "rough end")
	default: // Stop, and a Start in a corner with a bare wall
		t.terminate(m, stock.EndSquare, "stop")
		m.face = true
	}
}

// alone ends a line in a corner where the other wall has no trim: around an outside corner it
// is returned, in an inside corner it runs up to the wall.
func (t *taker) alone(m *meeting, c Corner) {
	if c.Kind == CornerOutside && !c.straight() {
		t.terminate(m, stock.EndReturn, "corner")
		return
	}
	t.terminate(m, stock.EndSquare, "corner")
	m.face = m.short != 0
	if m.short == 0 && !c.straight() {
		m.end.Angle = c.Angle
	}
}

// join makes the joint between the right end of line a and the left end of line b, in an inside
// corner a miter if there is no room for a cope.
func (t *taker) join(a, b int, c Corner, mitered bool) {
	l, r := &t.lines[a].right, &t.lines[b].left
	l.next, r.next = b, a
	l.own, l.corner = true, !c.straight()
	joints := &t.ends
	both := func(k stock.EndKind, n *int) {
		l.end = stock.End{Kind: k, Angle: c.Angle}
		r.end = l.end
		l.name, r.name = k.String(), k.String()
		l.count, r.count = n, n
	}
	off := c.angle() - rightAngle
	switch inside := t.course.profile.Inside; {
	case t.rakes(a, b, c):
	case c.straight():
		both(stock.EndSquare, &joints.Butts)
		l.end.Angle, r.end.Angle = 0, 0
	case c.Kind == CornerOutside:
		both(stock.EndOutsideMiter, &joints.OutsideMiters)
	case mitered || inside == stock.JointMiter || off < -copeWithin || off > copeWithin:
		both(stock.EndInsideMiter, &joints.InsideMiters)
	case inside == stock.JointButt:
		both(stock.EndSquare, &joints.Butts)
		l.cope, r.cope = true, true
	default:
		both(stock.EndSquare, &joints.Copes)
		l.cope, r.cope = true, true
	}
}
