package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// copeWithin is how far from square an inside corner may be and still be coped.
// Beyond it the square end would leave an open wedge beside the cope, so both ends
// are mitered. Common practice, no source.
const copeWithin = 5 * measure.Degree

// meetCorners decides what the ends of the lines do in the corners of the room.
func (t *taker) meetCorners() {
	walls := t.room.Walls
	for i, w := range walls {
		j := (i + 1) % len(walls)
		a, b := t.spans[i].right, t.spans[j].left
		if !w.Corner.joined() {
			if a.line >= 0 {
				t.atOpenEnd(&t.lines[a.line].right, w.Corner.Kind)
			}
			start := walls[j].Start.Kind
			if walls[j].Start == (Corner{}) {
				start = w.Corner.Kind
			}
			if b.line >= 0 {
				t.atOpenEnd(&t.lines[b.line].left, start)
			}
			continue
		}
		switch {
		case a.line >= 0 && b.line >= 0 && len(walls) > 1:
			t.join(a.line, b.line, w.Corner)
		default:
			if a.line >= 0 {
				t.alone(&t.lines[a.line].right, w.Corner, b)
			}
			if b.line >= 0 {
				t.alone(&t.lines[b.line].left, w.Corner, a)
			}
		}
	}
}

func (t *taker) atOpenEnd(m *meeting, k CornerKind) {
	switch k {
	case Open:
		t.terminate(m, Returned, "open end")
	case Rough:
		t.terminate(m, Scribed, "rough end")
	default: // Stop, and a Start in a corner with a bare wall
		t.terminate(m, Butt, "stop")
	}
}

// alone ends a line in a corner where the other wall has no trim: around an outside
// corner it is returned, in an inside corner it runs up to what stands there.
func (t *taker) alone(m *meeting, c Corner, other edge) {
	if c.Kind == Outside && !c.straight() {
		t.terminate(m, Returned, "corner")
		return
	}
	t.terminate(m, Butt, "corner")
	if !c.straight() {
		m.end.Angle = c.Angle
		m.short, m.why = other.depth, other.name
	}
}

// join makes the joint between the right end of line a and the left end of line b.
func (t *taker) join(a, b int, c Corner) {
	l, r := &t.lines[a].right, &t.lines[b].left
	l.next, r.next = b, a
	l.own = true
	joints := &t.list.Joints
	both := func(k stock.EndKind, n *int) {
		l.end = stock.End{Kind: k, Angle: c.Angle}
		r.end = l.end
		l.name, r.name = k.String(), k.String()
		l.count, r.count = n, n
	}
	off := c.angle() - measure.RightAngle
	switch inside := t.course.profile.Inside; {
	case c.straight():
		both(stock.Square, &joints.Butts)
		l.end.Angle, r.end.Angle = 0, 0
	case c.Kind == Outside:
		both(stock.OutsideMiter, &joints.OutsideMiters)
	case inside == stock.Mitered || off < -copeWithin || off > copeWithin:
		both(stock.InsideMiter, &joints.InsideMiters)
	case inside == stock.ButtJointed:
		both(stock.Square, &joints.Butts)
		l.cope, r.cope = true, true
	default:
		both(stock.Square, &joints.Copes)
		l.cope, r.cope = true, true
	}
}
