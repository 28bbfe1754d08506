package labor

import (
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// The floor area of a room is the sum of its rectangles, whichever wall comes first and whichever
// way its outside corners turn.
func TestFloorOf(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	wall := func(l measure.Length, k takeoff.CornerKind) takeoff.Wall {
		return takeoff.Wall{Length: l, Corner: takeoff.Corner{Kind: k}}
	}
	rapid.Check(t, func(t *rapid.T) {
		// A stack of rectangles, each right of the same line at the left: steps along the right side.
		n := rapid.IntRange(1, 5).Draw(t, "rectangles")
		var wide, high []measure.Length
		var want measure.Area
		for range n {
			w := measure.Length(rapid.IntRange(1, 400).Draw(t, "wide")) * in
			if len(wide) > 0 && w == wide[len(wide)-1] {
				w += in
			}
			h := measure.Length(rapid.IntRange(1, 400).Draw(t, "high")) * in
			wide, high = append(wide, w), append(high, h)
			want += measure.Area(w/in) * measure.Area(h/in) * measure.SquareInch
		}
		r := takeoff.Room{Walls: []takeoff.Wall{wall(wide[0], takeoff.CornerInside)}}
		for i := range n {
			if i+1 == n {
				r.Walls = append(r.Walls, wall(high[i], takeoff.CornerInside))
				break
			}
			if step := wide[i+1] - wide[i]; step > 0 {
				r.Walls = append(r.Walls, wall(high[i], takeoff.CornerOutside), wall(step, takeoff.CornerInside))
			} else {
				r.Walls = append(r.Walls, wall(high[i], takeoff.CornerInside), wall(-step, takeoff.CornerOutside))
			}
		}
		var left measure.Length
		for _, h := range high {
			left += h
		}
		r.Walls = append(r.Walls, wall(wide[n-1], takeoff.CornerInside), wall(left, takeoff.CornerInside))
		k := rapid.IntRange(0, len(r.Walls)-1).Draw(t, "first")
		r.Walls = append(r.Walls[k:len(r.Walls):len(r.Walls)], r.Walls[:k]...)
		if got, ok := floorOf(&r); !ok || got != want {
			t.Fatalf("%v, %v, want %v: %v by %v", got, ok, want, wide, high)
		}
	})
	for name, r := range map[string]takeoff.Room{
		"no walls":     {},
		"not closed":   {Walls: []takeoff.Wall{wall(ft, takeoff.CornerInside), wall(ft, takeoff.CornerOpen)}},
		"a bay":        {Walls: []takeoff.Wall{{Length: ft, Corner: takeoff.Corner{Angle: 135 * measure.Degree}}}},
		"round":        {Walls: []takeoff.Wall{{Length: ft, Curve: &takeoff.Curve{}}}},
		"endless":      {Walls: []takeoff.Wall{wall(1<<62, 0), wall(1<<62, 0), wall(1<<62, 0), wall(1<<62, 0)}},
		"below zero":   {Walls: []takeoff.Wall{wall(-ft, 0), wall(ft, 0), wall(ft, 0), wall(ft, 0)}},
		"inside out":   {Walls: []takeoff.Wall{wall(ft, 1), wall(ft, 1), wall(ft, 1), wall(ft, 1)}},
		"unknown kind": {Walls: []takeoff.Wall{wall(ft, 99)}},
	} {
		if a, ok := floorOf(&r); ok {
			t.Errorf("%s: %v", name, a)
		}
	}
}
