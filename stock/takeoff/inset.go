package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// inset is the distance of the end of a piece from the end of its line, in the plane of its
// back and in that of its face; it is negative around an outside corner.
type inset struct{ back, face measure.Length }

// nowhere is an inset for which no wall has room.
const nowhere = 4 * maxWall

// insetOf computes the inset of the joint at one end of a line. A corner that is to be coped
// takes the greater one, of the fitted end; mitered means that it is mitered instead. Once ends
// are settled, each has the inset of its cut, and a return piece counts as part of the end that
// it closes.
func (t *taker) insetOf(m *meeting, c Corner, mitered, settled bool) inset {
	back, face := t.course.standoff, t.tight()
	if in, ok := t.rakedInset(m, c); ok {
		return in
	}
	switch {
	case m.end.Kind == stock.EndReturn && !settled:
		return inset{back: m.back + face - back, face: m.back}
	case m.end.Kind == stock.EndReturn:
		return inset{m.back, m.back}
	case m.next < 0:
		off, leans := measure.Length(0), face
		if m.behind > 0 {
			off, leans = t.behindOff(m, c), face-back
		}
		if m.end.Kind == stock.EndSquare && m.end.Angle != 0 {
			off += slantAt(leans, min(m.end.Angle, rightAngle))
		}
		return inset{off, off}
	case c.straight():
		return inset{}
	case c.Kind == CornerOutside:
		return inset{-miterAt(back, c.angle()), -miterAt(face, c.angle())}
	case !m.cope || mitered:
		return inset{miterAt(back, c.angle()), miterAt(face, c.angle())}
	case settled && m.end.Kind == stock.EndSquare: // it runs behind the other
		off := miterAt(back, c.angle()) + slantAt(face-back, min(c.angle(), rightAngle))
		return inset{off, off}
	}
	short, err := joint.ButtDeduction(face, c.angle())
	if err != nil {
		short = nowhere
	}
	return inset{short + slantAt(back, c.angle()), short + slantAt(face, c.angle())}
}

// miterAt returns the distance from the corner of two walls at which the two planes at a
// distance from them meet.
func miterAt(depth measure.Length, corner measure.Angle) measure.Length {
	if depth == 0 {
		return 0
	}
	off, err := joint.MiterOffset(depth, corner)
	if err != nil {
		return nowhere
	}
	return min(off, nowhere)
}

// slantAt returns how far a plane at an angle to the wall leans over it at a distance:
// depth/tan(corner), negative beyond 90°.
func slantAt(depth measure.Length, corner measure.Angle) measure.Length {
	if depth == 0 || corner == rightAngle {
		return 0
	}
	sharp := min(corner, halfTurn-corner)
	off, err := joint.SquareDeduction(depth, sharp)
	if err != nil {
		off = nowhere
	}
	if off = min(off, nowhere); corner > rightAngle {
		return -off
	}
	return off
}

// insets returns the insets of the two ends of a line.
func (t *taker) insets(l *line, mitered, settled bool) (left, right inset) {
	return t.insetOf(&l.left, t.room.before(l.wall), mitered, settled), t.insetOf(&l.right, t.room.Walls[l.wall].Corner, mitered, settled)
}

// holds reports whether the wall of a line has room for a piece: some of its back and of its
// face is left.
func (t *taker) holds(l *line, mitered bool) bool {
	left, right := t.insets(l, mitered, false)
	return left.back+right.back < l.to-l.from && left.face+right.face < l.to-l.from
}

// outline returns the plan outline of a line.
func (t *taker) outline(l *line, r ray) polygon {
	left, right := t.insets(l, false, true)
	back, face := t.course.standoff, t.tight()
	return polygon{
		r.to(l.from+left.back, back), r.to(l.to-right.back, back),
		r.to(l.to-right.face, face), r.to(l.from+left.face, face),
	}
}
