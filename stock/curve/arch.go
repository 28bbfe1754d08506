package curve

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// An Arch is the head of an opening in the form of an arc over its width, at most half a
// circle.
type Arch struct {
	Width measure.Length `json:"width"` // between the jambs, at most a mile
	Rise  measure.Length `json:"rise"`  // above the spring line, at which the jambs end: from a 10,000th of the width to half of it
}

// ArchTrim is casing, or a backband, around an arch: two straight legs and a head bent the
// hard way, across its width. Flexible casing for it is preformed: order it by Radius,
// Outer and the miter.
type ArchTrim struct {
	Radius measure.Length `json:"radius"` // of the inner edge of the head
	Inner  measure.Length `json:"inner"`  // along the inner edge of the head
	Outer  measure.Length `json:"outer"`  // along its outer edge

	// LegInner and LegOuter are the heights of the inner and the outer edge of a leg above
	// the spring line. Miter is the cut of the leg from square, its long point at the outer
	// edge: zero for half a circle.
	LegInner measure.Length `json:"leg_inner"`
	LegOuter measure.Length `json:"leg_outer"`
	Miter    measure.Angle  `json:"miter"`
}

// Trim returns the trim of the given width whose inner edge is offset from the jambs and
// the arch. Both edges of the head are arcs about the center of the arch, which meet the
// edges of the legs at the cut. The joint is straight between those two points; the true
// miter of a straight and a bent molding is slightly curved.
//
// The error joins a [*measure.FieldError] for each field or argument out of range.
func (a Arch) Trim(offset, width measure.Length) (ArchTrim, error) {
	var bad fault.List
	c, err := Arc{Chord: a.Width, Rise: a.Rise}.solve()
	for e := range measure.FieldErrors(err) {
		field := e.Field
		if field == "chord" {
			field = "width"
		}
		bad.Add(field, e.Value, e.Want)
	}
	if err == nil && 2*a.Rise > a.Width {
		bad.Add("rise", a.Rise.About(), fmt.Sprintf("at most half the width, %v", (a.Width/2).About()))
	}
	if offset < 0 || offset > maxLength {
		bad.Add("offset", offset.About(), "from 0in to "+maxLength.About())
	}
	if width <= 0 || width > maxLength {
		bad.Add("width", width.About(), "more than zero, at most "+maxLength.About())
	}
	if err := bad.Err(); err != nil {
		return ArchTrim{}, err
	}
	half := float64(float64(a.Width) / 2)
	down := c.radius - float64(a.Rise) // depth of the center below the spring line
	if 2*a.Rise == a.Width {
		down = 0
	}
	// edge returns the arc of an edge and its height above the spring line at the leg.
	edge := func(out float64) (radius, long, up float64) {
		radius = c.radius + out
		x := half + out
		// √(radius² - x²), without the cancellation of a difference of squares.
		y := math.Sqrt(float64(radius-x) * float64(radius+x))
		if down == 0 {
			y = 0
		}
		return radius, 2 * float64(radius*math.Atan2(x, y)), y - down
	}
	r, inner, low := edge(float64(offset))
	_, outer, high := edge(float64(offset) + float64(width))
	return ArchTrim{
		Radius: tick(r), Inner: tick(inner), Outer: tick(outer), LegInner: tick(low), LegOuter: tick(high),
		Miter: microarcseconds(math.Atan2(high-low, float64(width))),
	}, nil
}
