package svg

import (
	"math"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// A Unit is a hundredth of the unit of a picture, which is a CSS pixel: 96 to the inch on paper.
type Unit int64

// One is the unit of a picture. Wide and Narrow are the widths of a picture on paper, 7 in, and
// on a telephone.
const (
	One    Unit = 100
	Wide        = 672 * One
	Narrow      = 360 * One
)

// farthest is beyond every picture; points farther away are drawn there.
const farthest = 1_000_000 * One

// A Point has coordinates to the right and down.
type Point struct{ X, Y Unit }

// Add returns the point moved by dx and dy.
func (p Point) Add(dx, dy Unit) Point { return Point{p.X + dx, p.Y + dy} }

// A Box is a rectangle, given by its upper left corner and its size.
type Box struct{ X, Y, W, H Unit }

// Corners returns the corners, clockwise from the upper left one.
func (b Box) Corners() []Point {
	return []Point{{b.X, b.Y}, {b.X + b.W, b.Y}, {b.X + b.W, b.Y + b.H}, {b.X, b.Y + b.H}}
}

// Meets reports whether two boxes have more in common than an edge.
func (b Box) Meets(c Box) bool {
	return b.X < c.X+c.W && c.X < b.X+b.W && b.Y < c.Y+c.H && c.Y < b.Y+b.H
}

// A Scale converts lengths to units. The zero Scale makes everything zero.
type Scale struct {
	drawn  Unit
	actual measure.Length
}

// Fit returns the scale at which a length fills the room. A length that is not positive counts
// as an inch.
func Fit(actual measure.Length, room Unit) Scale {
	if actual <= 0 {
		actual = measure.Inch
	}
	return Scale{max(room, 0), actual}
}

// Of returns the drawn size of a length, rounded to the nearest hundredth of a unit.
func (k Scale) Of(l measure.Length) Unit {
	if k.actual == 0 {
		return 0
	}
	d, _, err := l.MulDiv(int64(k.drawn), int64(k.actual), measure.RoundHalfUp)
	switch {
	case err != nil && l < 0:
		return -farthest
	case err != nil:
		return farthest
	}
	return min(max(Unit(d), -farthest), farthest)
}

// Length returns the length drawn as u, rounded to the nearest tick.
func (k Scale) Length(u Unit) measure.Length {
	l, _, err := measure.Length(u).MulDiv(int64(k.actual), max(int64(k.drawn), 1), measure.RoundHalfUp)
	if err != nil {
		return math.MaxInt64
	}
	return l
}

// Smaller returns the smaller scale.
func (k Scale) Smaller(o Scale) Scale {
	if float64(k.drawn)/float64(max(k.actual, 1)) < float64(o.drawn)/float64(max(o.actual, 1)) {
		return k
	}
	return o
}

// String formats u as an SVG coordinate, 12.5 for 1250 units.
func (u Unit) String() string {
	s := strconv.FormatInt(int64(u/100), 10)
	if u < 0 && u > -100 {
		s = "-0"
	}
	if f := u % 100; f != 0 {
		f = max(f, -f)
		s = strings.TrimRight(s+"."+strconv.Itoa(int(f/10))+strconv.Itoa(int(f%10)), "0")
	}
	return s
}

func pair(p Point) string { return p.X.String() + " " + p.Y.String() }

// along returns the point at the fraction num/den of the way from a to b.
func along(a, b Point, num, den Unit) Point {
	if den == 0 {
		return a
	}
	return Point{a.X + round(float64(b.X-a.X)*float64(num)/float64(den)), a.Y + round(float64(b.Y-a.Y)*float64(num)/float64(den))}
}

func round(x float64) Unit { return Unit(math.RoundToEven(x)) }

// far returns the distance between two points.
func far(a, b Point) Unit {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	return round(math.Sqrt(float64(dx*dx) + float64(dy*dy)))
}
