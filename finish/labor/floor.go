package labor

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// maxAcross bounds the walls of a room whose floor area is computed: a mile, which keeps
// positions exact.
const maxAcross = 5280 * measure.Foot

// floorOf returns the floor area of a room whose walls are straight and meet at right
// angles, ignoring the error of closure of its walls; ok is false for any other room.
func floorOf(r *takeoff.Room) (area measure.Area, ok bool) {
	heading, x, y := 0, measure.Length(0), measure.Length(0)
	var twice measure.Area // the signed sum of the areas swept by the walls
	for i := range r.Walls {
		w := &r.Walls[i]
		if w.Curve != nil || w.Length <= 0 || w.Length > maxAcross {
			return 0, false
		}
		swept, neg := measure.Area(0), false
		switch heading {
		case 0: // east; south is down
			swept, ok = surface(max(y, -y), w.Length)
			x, neg = x+w.Length, y > 0
		case 1:
			swept, ok = surface(max(x, -x), w.Length)
			y, neg = y+w.Length, x < 0
		case 2:
			swept, ok = surface(max(y, -y), w.Length)
			x, neg = x-w.Length, y < 0
		default:
			swept, ok = surface(max(x, -x), w.Length)
			y, neg = y-w.Length, x > 0
		}
		if neg {
			swept = -swept
		}
		sum, err := twice.Add(swept)
		if !ok || err != nil {
			return 0, false
		}
		twice = sum
		turn, straight := turnOf(w.Corner)
		if !straight {
			return 0, false
		}
		heading = (heading + turn) % 4
	}
	if heading != 0 || twice <= 0 {
		return 0, false
	}
	return twice / 2, true
}

// turnOf returns the number of quarter turns to the right at a corner; ok is false for any
// other turn.
func turnOf(c takeoff.Corner) (quarters int, ok bool) {
	switch {
	case c.Kind > takeoff.CornerOutside:
		return 0, false
	case c.Angle == 180*measure.Degree:
		return 0, true
	case c.Angle != 0 && c.Angle != 90*measure.Degree:
		return 0, false
	case c.Kind == takeoff.CornerInside:
		return 1, true
	}
	return 3, true
}
