package labor

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// Every result is that of big rationals, or said not to fit.
func TestRatioAgainstBig(t *testing.T) {
	num := rapid.OneOf(rapid.Int64Range(0, math.MaxInt64), rapid.Int64Range(0, 1000), rapid.SampledFrom([]int64{0, 1, 1 << 62, math.MaxInt64, 24_384_000, 1_000_000}))
	den := rapid.OneOf(rapid.Int64Range(1, math.MaxInt64), rapid.Int64Range(1, 1000), rapid.SampledFrom([]int64{1, 1 << 62, math.MaxInt64, 24_384_000, 1_000_000}))
	rapid.Check(t, func(t *rapid.T) {
		var r ratio
		n, d := big.NewInt(1), big.NewInt(1)
		for i := range r.num {
			r.num[i], r.den[i] = num.Draw(t, "num"), den.Draw(t, "den")
			n.Mul(n, big.NewInt(r.num[i]))
			d.Mul(d, big.NewInt(r.den[i]))
		}
		up := new(big.Int).Add(n, d)
		up.Sub(up, big.NewInt(1)).Quo(up, d)
		near := new(big.Int).Add(new(big.Int).Add(n, n), d)
		near.Quo(near, new(big.Int).Add(d, d))
		for _, x := range []struct {
			want *big.Int
			f    func() (int64, bool)
		}{{up, r.ceil}, {near, r.round}} {
			if got, ok := x.f(); ok != x.want.IsInt64() || ok && got != x.want.Int64() {
				t.Fatalf("%v: %d, %v, want %v", r, got, ok, x.want)
			}
		}
	})
}

// A half is rounded up, what is less is not.
func TestRoundHalf(t *testing.T) {
	for _, x := range [][3]int64{{1, 2, 1}, {3, 2, 2}, {499, 1000, 0}, {500, 1000, 1}, {0, 7, 0}, {7, 7, 1}} {
		r := ratio{num: [4]int64{x[0], 1, 1, 1}, den: [4]int64{x[1], 1, 1, 1}}
		if got, ok := r.round(); !ok || got != x[2] {
			t.Errorf("%d/%d: %d, %v", x[0], x[1], got, ok)
		}
	}
}

// The floor of a room is what its squares add up to, wherever the list begins and whichever
// way its outside corners lie.
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
