package drawing

import (
	"math"
	"slices"

	"example.com/longpoint/internal/svg"
)

// belongs reports whether a reader associates a point with the wall of one of the ends: it is
// in the room, and no other wall is nearer. A point at only one of two walls is clearly on that
// one's side of their corner. If the walls do not close, the inside of the room is unknown:
// then the room is to the right of the wall.
func (pl *plan) belongs(at svg.Point, ends []markEnd) bool {
	closed, inside := pl.closing.Closed && !pl.gapped(), false
	if !closed {
		inside = slices.ContainsFunc(ends, func(e markEnd) bool { return pl.right(e, at) >= 0 })
	}
	n, rival := len(pl.walls), -1
	if len(ends) == 1 {
		if rival = (ends[0].wall + n - int(ends[0].dir)) % n; pl.right(ends[0], at) < 6*svg.One {
			return false
		}
	}
	own, other, beside := math.Inf(1), math.Inf(1), math.Inf(1)
	for i := range pl.walls {
		for k := 1; k < len(pl.walls[i].line); k++ {
			a, b := pl.point(pl.walls[i].line[k-1]), pl.point(pl.walls[i].line[k])
			if closed && crosses(at, a, b) {
				inside = !inside
			}
			d := apart(at, a, b)
			switch {
			case slices.ContainsFunc(ends, func(e markEnd) bool { return e.wall == i }):
				own = min(own, d)
			case i == rival:
				beside = min(beside, d)
			default:
				other = min(other, d)
			}
		}
	}
	if closed { // across the gap between the last wall and the first
		last := pl.walls[n-1].line
		if crosses(at, pl.point(last[len(last)-1]), pl.point(pl.walls[0].line[0])) {
			inside = !inside
		}
	}
	return inside && own <= other && own < beside
}

// right returns how far a point is to the right of a wall at one of its ends, that is, in the
// room.
func (pl *plan) right(e markEnd, at svg.Point) svg.Unit {
	l := pl.walls[e.wall].line
	k := 1
	if e.dir < 0 {
		k = len(l) - 1
	}
	return pl.beyond(pl.point(l[k-1]), pl.point(l[k]), at)
}

// crosses reports whether the ray from a point to the right crosses a line.
func crosses(q, a, b svg.Point) bool {
	if (a.Y > q.Y) == (b.Y > q.Y) {
		return false
	}
	return float64(q.X-a.X) < float64(float64(q.Y-a.Y)*float64(b.X-a.X))/float64(b.Y-a.Y)
}

// apart returns the square of the distance of a point from a segment.
func apart(q, a, b svg.Point) float64 {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	x, y := float64(q.X-a.X), float64(q.Y-a.Y)
	if long := float64(dx*dx) + float64(dy*dy); long > 0 {
		t := (float64(x*dx) + float64(y*dy)) / long
		t = max(0, min(1, t))
		x -= float64(t * dx)
		y -= float64(t * dy)
	}
	return float64(x*x) + float64(y*y)
}
