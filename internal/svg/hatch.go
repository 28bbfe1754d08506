package svg

import (
	"math"
	"slices"
)

// A Hatch is a way to fill a shape with lines. All are distinguishable in black and white.
type Hatch uint8

const (
	HatchNone    Hatch = iota
	HatchRising        // lines that rise to the right
	HatchFalling       // lines that fall to the right
	HatchCrossed       // both
	HatchUpright       // upright lines
	HatchLevel         // level lines
	HatchGrid          // upright and level lines
	HatchDense         // rising lines, twice as close
)

// mostLines limits the lines that fill one shape; beyond it they are spaced farther apart.
const mostLines = 400

// Hatch fills a polygon, which may be concave, with lines of the style. It needs no ids: the
// lines end at the edges.
func (p *Picture) Hatch(polygon []Point, kind Hatch, s Style) {
	var ends []Point
	if slices.Contains([]Hatch{HatchRising, HatchCrossed, HatchDense}, kind) {
		gap := 7 * One
		if kind == HatchDense {
			gap /= 2
		}
		ends = append(ends, clipped(polygon, 1, 1, gap)...)
	}
	if kind == HatchFalling || kind == HatchCrossed {
		ends = append(ends, clipped(polygon, 1, -1, 7*One)...)
	}
	if kind == HatchUpright || kind == HatchGrid {
		ends = append(ends, clipped(polygon, 1, 0, 5*One)...)
	}
	if kind == HatchLevel || kind == HatchGrid {
		ends = append(ends, clipped(polygon, 0, 1, 5*One)...)
	}
	p.Lines(ends, s)
}

// clipped returns the parts inside a polygon of the lines on which a·x + b·y is a multiple of
// the gap, as pairs of points.
func clipped(polygon []Point, a, b, gap Unit) []Point {
	if len(polygon) < 3 {
		return nil
	}
	value := func(q Point) Unit { return a*q.X + b*q.Y }
	lo, hi := value(polygon[0]), value(polygon[0])
	for _, q := range polygon {
		lo, hi = min(lo, value(q)), max(hi, value(q))
	}
	gap = max(gap, (hi-lo)/mostLines)
	var out []Point
	for c := floorDiv(lo, gap)*gap + gap; c < hi; c += gap {
		var on []Point
		for i, q := range polygon {
			r := polygon[(i+1)%len(polygon)]
			v, w := value(q), value(r)
			if (v < c) == (w < c) { // half open, so that a corner counts once
				continue
			}
			on = append(on, along(q, r, c-v, w-v))
		}
		slices.SortFunc(on, func(q, r Point) int {
			if d := b*q.X - a*q.Y - (b*r.X - a*r.Y); d != 0 {
				return int(math.Copysign(1, float64(d)))
			}
			return 0
		})
		for i := 0; i+1 < len(on); i += 2 {
			if on[i] != on[i+1] {
				out = append(out, on[i], on[i+1])
			}
		}
	}
	return out
}

func floorDiv(a, b Unit) Unit {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
