package takeoff

import (
	"example.com/longpoint/measure"
)

// entrance returns the wall from which the room is first seen and the viewer's position on it:
// at its first door or cased opening, or in its middle.
func (r *Room) entrance() (wall int, at measure.Length, ok bool) {
	for i, w := range r.Walls {
		if r.Entry != "" && r.Entry != w.Name {
			continue
		}
		for _, o := range w.Openings {
			if o.Kind == OpeningDoor || o.Kind == OpeningCased {
				return i, o.At + o.Width/2, true
			}
		}
		if r.Entry != "" {
			return i, w.Length / 2, true
		}
	}
	return 0, 0, false
}

// faced returns the wall that one faces on coming in, and the point straight ahead. It computes
// in whole ticks, for rooms whose corners are all square. A chain of walls that does not close
// is followed to its end.
func (r *Room) faced() (wall int, at measure.Length, ok bool) {
	entry, from, ok := r.entrance()
	if !ok {
		return 0, 0, false
	}
	// The entry's wall runs east from the origin and the room lies to the south of it.
	type point struct{ east, south measure.Length }
	var p point
	quarter, best, found := 0, measure.Length(0), false
	for k := range r.Walls {
		i := (entry + k) % len(r.Walls)
		w, next := r.Walls[i], p
		if w.Curve != nil {
			return 0, 0, false
		}
		switch quarter {
		case 0:
			next.east += w.Length
		case 1:
			next.south += w.Length
		case 2:
			next.east -= w.Length
		default:
			next.south -= w.Length
		}
		// A wall that runs west faces the door; the nearest hides the others.
		if quarter == 2 && p.south > 0 && next.east <= from && from <= p.east && (!found || p.south < best) {
			wall, at, best, found = i, p.east-from, p.south, true
		}
		if !w.Corner.joined() {
			break
		}
		turn := w.Corner.turn()
		if turn%rightAngle != 0 {
			return 0, 0, false
		}
		quarter = (quarter + int(turn/rightAngle) + 4) % 4
		p = next
	}
	return wall, at, found
}

// rightOver reports whether the right part of a scarf on the line lies over: the part that is
// reached first on the way from the entry along the walls.
func (t *taker) rightOver(l *line) bool {
	entry, from, ok := t.room.entrance()
	if !t.opt.LapFromEntry || !ok {
		return false
	}
	var around, start, middle measure.Length
	closed := true
	for i, w := range t.room.Walls {
		if i == entry {
			start = around + from
		}
		if i == l.wall {
			middle = around + (l.from+l.to)/2
		}
		around += w.Length
		closed = closed && w.Corner.joined()
	}
	ahead := middle - start
	switch {
	case !closed:
		return ahead < 0
	case ahead < 0:
		ahead += around
	}
	return ahead > around/2
}
