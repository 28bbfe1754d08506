package takeoff

import (
	"math"

	"example.com/longpoint/measure"
)

// The plan of a course, in ticks: walls as lines, trim as the area between the planes of its
// back and its face. It finds trim in impossible places; no piece is measured by it. Products
// are rounded before they are added, so that a plan is the same on every processor.

// point is a place in plan, east and south of an origin.
type point struct{ x, y float64 }

// polygon is a convex outline, clockwise in plan.
type polygon []point

// ray is a wall in plan: the position of its left end and its direction. The room lies to the
// right of it.
type ray struct {
	at     point
	dx, dy float64
}

// to returns the point at u along the wall and v in front of it.
func (r ray) to(u, v measure.Length) point {
	a, b := float64(u), float64(v)
	return point{
		r.at.x + float64(a*r.dx) - float64(b*r.dy),
		r.at.y + float64(a*r.dy) + float64(b*r.dx),
	}
}

// from returns the position of a point along the wall and in front of it.
func (r ray) from(p point) (u, v float64) {
	x, y := p.x-r.at.x, p.y-r.at.y
	return float64(x*r.dx) + float64(y*r.dy), float64(y*r.dx) - float64(x*r.dy)
}

// extent returns the least and the most of u and v of the points of a polygon.
func (r ray) extent(p polygon) (u, v [2]float64) {
	for i, q := range p {
		a, b := r.from(q)
		if i == 0 {
			u, v = [2]float64{a, a}, [2]float64{b, b}
		}
		u = [2]float64{min(u[0], a), max(u[1], a)}
		v = [2]float64{min(v[0], b), max(v[1], b)}
	}
	return u, v
}

// beyond returns the part of p to the right of the line from a to b (Sutherland and Hodgman,
// 1974).
func (p polygon) beyond(a, b point) polygon {
	side := func(q point) float64 {
		return float64((b.x-a.x)*(q.y-a.y)) - float64((b.y-a.y)*(q.x-a.x))
	}
	var out polygon
	for i, q := range p {
		before := p[(i+len(p)-1)%len(p)]
		s, sb := side(q), side(before)
		if s >= 0 != (sb >= 0) {
			f := sb / (sb - s)
			out = append(out, point{before.x + float64(f*(q.x-before.x)), before.y + float64(f*(q.y-before.y))})
		}
		if s >= 0 {
			out = append(out, q)
		}
	}
	return out
}

// and returns the intersection of p and q.
func (p polygon) and(q polygon) polygon {
	for i := range q {
		if len(p) == 0 {
			return nil
		}
		p = p.beyond(q[i], q[(i+1)%len(q)])
	}
	return p
}

// crowded is the least thickness of a shared area that counts: less than the accuracy of any
// saw, and more than rounding errors of a plan.
const crowded = measure.Inch / 1000

// thick reports whether an outline is more than a thread: its area exceeds crowded times its
// length.
func (p polygon) thick() bool {
	var twice, long float64
	for i, q := range p {
		r := p[(i+1)%len(p)]
		x, y, u, v := q.x-p[0].x, q.y-p[0].y, r.x-p[0].x, r.y-p[0].y
		twice += float64(x*v) - float64(y*u)
		long = max(long, math.Abs(x), math.Abs(y))
	}
	return twice > 2*float64(long*float64(crowded))
}

// plan lays out n walls of the room from the first on, which starts at the origin and
// runs east.
func (t *taker) plan(first, n int) []ray {
	rays := make([]ray, n)
	var at point
	var heading measure.Angle
	const full = 2 * halfTurn
	for i := range rays {
		wall := (first + i) % len(t.room.Walls)
		dx, dy := direction(heading)
		s := t.section(wall)
		rays[i] = ray{at, dx, dy}
		rays[i].at = rays[i].to(-s.left, 0)
		at = rays[i].to(t.spans[wall].length-s.right, 0)
		heading = ((heading+t.room.Walls[wall].Corner.turn())%full + full) % full
	}
	return rays
}

// asLength returns a distance in plan to the nearest tick.
func asLength(x float64) measure.Length {
	if !(math.Abs(x) < 1<<62) {
		return 0
	}
	return measure.Length(math.RoundToEven(x))
}
