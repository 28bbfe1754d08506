package drawing

import (
	"math"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// at is a position on a wall: from its left end, and above the floor.
type at struct{ x, y measure.Length }

// shape returns the outline of a part of a run on the wall, between two positions along it,
// from its long point at the left. Wide is its width; bent means that the wall is curved and
// drawn unrolled.
func shape(r *stock.Run, wide, from, to measure.Length, bent bool) []at {
	f := frame{run: r, wide: wide, long: r.Length, origin: at{r.Start, r.Bottom}}
	if bent && f.level() {
		f.long = r.Net
		from, to = scaled(from, r.Net, r.Length), scaled(to, r.Net, r.Length)
	}
	switch {
	case r.Slope == 90*measure.Degree:
		// Its outer edge, the upper one of a piece that lies flat, is at the left.
		f.along, f.up, f.origin.x = at{0, 1}, at{-1, 0}, r.Start+wide
	case r.Slope == -90*measure.Degree:
		f.along, f.up, f.origin.y = at{0, -1}, at{1, 0}, r.Bottom+r.Length
	case r.Slope == 180*measure.Degree:
		f.along, f.up = at{-1, 0}, at{0, -1}
		f.origin = at{r.Start + r.Length, r.Bottom + wide}
	default:
		f.cos, f.sin = math.Cos(r.Slope.Radians()), math.Sin(r.Slope.Radians())
		if r.Slope == 0 {
			f.cos, f.sin = 1, 0
		}
		if !bent {
			f.origin.x -= product(r.Reach, f.cos)
			f.origin.y -= product(r.Reach, f.sin)
		}
		f.turned = true
	}
	if len(r.Outline) > 2 {
		out := make([]at, len(r.Outline))
		for i, q := range r.Outline {
			out[i] = f.place(q.Along, q.Up)
		}
		return out
	}
	return f.outline(from, to)
}

// frame is the position of a run on a wall: along its axis, and up its width.
type frame struct {
	run       *stock.Run
	wide      measure.Length
	long      measure.Length
	origin    at
	along, up at // one step, where it lies along an axis of the wall
	cos, sin  float64
	turned    bool // along the slope instead
}

func (f *frame) level() bool { return f.run.Slope == 0 }

func (f *frame) place(along, up measure.Length) at {
	if !f.turned {
		return at{f.origin.x + along*f.along.x + up*f.up.x, f.origin.y + along*f.along.y + up*f.up.y}
	}
	return at{f.origin.x + product(along, f.cos) - product(up, f.sin), f.origin.y + product(along, f.sin) + product(up, f.cos)}
}

// outline returns the outline of a part of the run with the shapes of its ends and its scribed
// edge.
func (f *frame) outline(from, to measure.Length) []at {
	var leftLow, leftHigh, rightLow, rightHigh measure.Length // how far the edges fall short of the long points
	if from <= 0 {
		leftLow, leftHigh = f.short(f.run.Left, true)
	}
	if to >= f.long {
		rightLow, rightHigh = f.short(f.run.Right, false)
	}
	low := []at{f.place(from+leftLow, 0)}
	if marks := f.run.Scribe; f.level() && len(marks) > 0 {
		low = low[:0]
		lead := f.run.Reach
		low = append(low, f.place(from, depthAt(marks, from-lead)))
		for _, m := range marks {
			if x := m.At + lead; x > from && x < to {
				low = append(low, f.place(x, m.Depth))
			}
		}
		low = append(low, f.place(to, depthAt(marks, to-lead)))
	} else {
		low = append(low, f.place(to-rightLow, 0))
	}
	return append(low, f.place(to-rightHigh, f.wide), f.place(from+leftHigh, f.wide))
}

// short returns how far the lower and the upper edge end before the long point of an end that
// is cut across the face.
func (f *frame) short(e stock.End, left bool) (low, high measure.Length) {
	rises := f.run.Slope > 0
	switch e.Kind {
	case stock.EndFlatMiter: // long at its outer edge
		return e.Setback, 0
	case stock.EndPlumb, stock.EndRake:
		if f.run.Slope == 0 { // a level end is long at its lower edge, at the foot of a stair
			return 0, e.Setback
		}
		if rises == left {
			return 0, e.Setback
		}
		return e.Setback, 0
	case stock.EndLevel:
		if rises == left {
			return e.Setback, 0
		}
		return 0, e.Setback
	}
	return 0, 0
}

// depthAt returns the depth removed from the lower edge at a position.
func depthAt(marks []stock.ScribeMark, x measure.Length) measure.Length {
	for i, m := range marks {
		if x <= m.At {
			if i == 0 {
				return m.Depth
			}
			b := marks[i-1]
			if m.At == b.At {
				return m.Depth
			}
			return b.Depth + scaled(m.Depth-b.Depth, x-b.At, m.At-b.At)
		}
	}
	return marks[len(marks)-1].Depth
}

// scaled returns l·num/den.
func scaled(l, num, den measure.Length) measure.Length {
	if den == 0 {
		return l
	}
	v, _, err := l.MulDiv(int64(num), int64(den), measure.RoundHalfEven)
	if err != nil {
		return l
	}
	return v
}

func product(l measure.Length, x float64) measure.Length {
	return measure.Length(math.RoundToEven(float64(float64(l) * x)))
}
