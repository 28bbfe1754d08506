package scribe

import (
	"math/bits"

	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A CutKind is the kind of cut that fits the lower edge of trim to a floor.
type CutKind uint8

const (
	CutNone   CutKind = iota // no cut
	CutRip                   // a parallel strip is ripped off
	CutTaper                 // one straight cut, deeper at one end
	CutScribe                // along a line that is scribed to the floor
)

var cutNames = [...]string{CutNone: "none", CutRip: "rip", CutTaper: "taper", CutScribe: "scribe"}

// String returns "none", "rip", "taper" or "scribe".
func (k CutKind) String() string { return kind.Text("CutKind", cutNames[:], k) }

// MarshalText writes the name; an unknown kind is a [*measure.FieldError].
func (k CutKind) MarshalText() ([]byte, error) {
	return kind.Marshal("CutKind", "a cut", cutNames[:], k)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (k *CutKind) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a cut", cutNames[:], text, k)
}

// A Cut describes the cut along the lower edge of one length of trim that makes its top
// level.
type Cut struct {
	Kind CutKind `json:"kind"`

	// Marks are the line on the face, from left to right: at both ends and at every reading
	// between. With a rip or a taper they are the two ends of the straight cut.
	Marks []stock.ScribeMark `json:"marks,omitempty"`

	// Deepest is the greatest depth of the marks, Shallowest the least.
	Deepest    measure.Length `json:"deepest,omitzero"`
	Shallowest measure.Length `json:"shallowest,omitzero"`

	// Gap is the largest gap between the floor and a straight cut or an uncut edge. With a
	// scribe it is the gap of the best straight cut, which exceeds the tolerance.
	Gap measure.Length `json:"gap,omitzero"`
}

// Cut returns the cut for trim that runs along a stretch of wall with its top level. The
// depth at each place is the distance by which the uncut lower edge, which is low below the
// level line, would lie below the floor. If low is the lowest point of the room, as
// returned by [Floor.Shape], the tops of all walls meet in the corners. If the floor is
// farther down than low, the trim does not reach it, and the depth is negative.
//
// The cut is straight if no gap exceeds the tolerance: parallel to the edge if that
// suffices, otherwise the straight cut with the smallest gap. No cut is ever too shallow:
// the trim stands on the floor, and its top is in place.
func (s Surface) Cut(from, to, low, tolerance measure.Length) Cut {
	if to <= from {
		return Cut{}
	}
	var marks []stock.ScribeMark
	for _, r := range s.within(from, to) {
		marks = append(marks, stock.ScribeMark{At: r.At - from, Depth: low - r.FromLine})
	}
	c := Cut{Kind: CutScribe, Marks: marks}
	c.Shallowest, c.Deepest = extremes(marks)
	left, right, gap := straight(marks)
	c.Gap = gap
	switch {
	case c.Deepest <= 0:
		return Cut{Gap: -c.Shallowest}
	case c.Deepest-c.Shallowest <= tolerance:
		c.Kind, left, right = CutRip, c.Deepest, c.Deepest
		c.Gap = c.Deepest - c.Shallowest
	case gap <= tolerance:
		c.Kind = CutTaper
	default:
		return c
	}
	c.Marks = []stock.ScribeMark{{At: 0, Depth: left}, {At: to - from, Depth: right}}
	c.Shallowest, c.Deepest = extremes(c.Marks)
	return c
}

func extremes(marks []stock.ScribeMark) (least, most measure.Length) {
	for i, m := range marks {
		if i == 0 {
			least, most = m.Depth, m.Depth
		}
		least, most = min(least, m.Depth), max(most, m.Depth)
	}
	return least, most
}

// straight returns the straight line that minimizes the greatest distance to the marks, as
// its depths at the first and the last mark. It is nowhere shallower than a mark.
//
// The strip between two parallel lines that holds all marks and has the smallest vertical
// height touches an edge of their convex hull: otherwise turning it a little would make it
// smaller. So only the directions of the edges need to be tried.
func straight(marks []stock.ScribeMark) (left, right, gap measure.Length) {
	first, last := marks[0].At, marks[len(marks)-1].At
	least, most := extremes(marks)
	left, right, gap = most, most, most-least // level
	try := func(a, b stock.ScribeMark) {
		l := between(a.At, a.Depth, b.At, b.Depth, first)
		r := between(a.At, a.Depth, b.At, b.Depth, last)
		if max(l, -l, r, -r) > maxAlong { // steeper than a wall
			return
		}
		var over, under measure.Length // of the marks, seen from the line
		for i, m := range marks {
			d := m.Depth - between(first, l, last, r, m.At)
			if i == 0 {
				over, under = d, d
			}
			over, under = max(over, d), min(under, d)
		}
		if over-under < gap {
			left, right, gap = l+over, r+over, over-under
		}
	}
	for _, side := range []int{1, -1} {
		hull := hull(marks, side)
		for i := 1; i < len(hull); i++ {
			try(hull[i-1], hull[i])
		}
	}
	return left, right, gap
}

// hull returns the upper (1) or the lower (-1) half of the convex hull of the marks.
func hull(marks []stock.ScribeMark, side int) []stock.ScribeMark {
	var h []stock.ScribeMark
	for _, m := range marks {
		for len(h) > 1 && side*turn(h[len(h)-2], h[len(h)-1], m) >= 0 {
			h = h[:len(h)-1]
		}
		h = append(h, m)
	}
	return h
}

// turn returns the direction of the turn at b on the way from a to c: 1 to deeper, -1
// to shallower, 0 for none.
func turn(a, b, c stock.ScribeMark) int {
	return compareProducts(int64(c.Depth-b.Depth), int64(b.At-a.At), int64(b.Depth-a.Depth), int64(c.At-b.At))
}

// compareProducts compares a·b with c·d, for b and d of zero or more.
func compareProducts(a, b, c, d int64) int {
	sign := func(x int64) int {
		switch {
		case x > 0:
			return 1
		case x < 0:
			return -1
		}
		return 0
	}
	product := func(x, y int64) (hi, lo uint64) {
		u := uint64(x)
		if x < 0 {
			u = -u
		}
		return bits.Mul64(u, uint64(y))
	}
	s, t := sign(a)*sign(b), sign(c)*sign(d)
	if s != t {
		return sign(int64(s - t))
	}
	h1, l1 := product(a, b)
	h2, l2 := product(c, d)
	switch {
	case h1 > h2 || h1 == h2 && l1 > l2:
		return s
	case h1 < h2 || l1 < l2:
		return -s
	}
	return 0
}
