package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// A Tiling is the layout of strips of one fixed length, of stone or tile, along a wall. No
// strip is shorter than half the difference of strip and joint, unless the wall itself is: the
// trade's rule against slivers.
type Tiling struct {
	Strip measure.Length `json:"strip"`          // length of a full strip
	Joint measure.Length `json:"joint,omitzero"` // open joint between two, to be grouted

	// FullLeft and FullRight begin with a full strip at a visible end, such as at an outside
	// corner; the cuts then go to the other end, or to the middle if both are set. If neither
	// is, the layout is centered and both end strips are cut equally.
	FullLeft  bool `json:"full_left,omitempty"`
	FullRight bool `json:"full_right,omitempty"`
}

// A Layout is one wall of strips from left to right.
type Layout struct {
	Strips []measure.Length `json:"strips"`           // lengths to cut
	Joints []measure.Length `json:"joints,omitempty"` // middles of the joints between them, from the left end
	Cut    int              `json:"cut"`              // strips that are not full
}

// Lay lays out strips that, with the joints between them, fill the length; joints at the two
// ends are not included. It uses as few strips as possible. If one strip would be shorter than
// half, two share the difference.
//
// The error is a *measure.FieldError for a strip that is not positive, a joint that is
// negative or as long as a strip, or a length that is not positive or takes more than 10,000 strips.
func (t Tiling) Lay(length measure.Length) (Layout, error) {
	switch {
	case t.Strip <= 0 || t.Strip > 2*maxWall:
		return Layout{}, &measure.FieldError{Field: "strip", Value: t.Strip.About(), Want: "more than zero, at most two miles"}
	case t.Joint < 0 || t.Joint >= t.Strip:
		return Layout{}, &measure.FieldError{Field: "joint", Value: t.Joint.About(), Want: "zero or more, and less than a strip"}
	case length <= 0 || length > 2*maxWall:
		return Layout{}, &measure.FieldError{Field: "length", Value: length.About(), Want: "more than zero, at most two miles"}
	}
	// The fewest: n strips and n − 1 joints reach at least the length.
	pitch := t.Strip + t.Joint
	most := (length + t.Joint + pitch - 1) / pitch
	if most > maxStrips {
		return Layout{}, &measure.FieldError{Field: "strip", Value: t.Strip.About(), Want: fmt.Sprintf("longer: at most %d strips are laid in %v", maxStrips, length.About())}
	}
	n := int(most)
	strips := make([]measure.Length, n)
	for i := range strips {
		strips[i] = t.Strip
	}
	lack := measure.Length(n)*pitch - t.Joint - length // less than a strip and a joint
	share := func(i, j int) {                          // j is cut, and i too where j would be less than half
		switch {
		case i == j || 2*lack <= t.Strip:
			strips[j] -= lack
		default:
			strips[i] -= lack - lack/2
			strips[j] -= lack / 2
		}
	}
	switch {
	case lack == 0:
	case n == 1:
		strips[0] -= lack
	case t.FullLeft && t.FullRight && n == 3:
		share(2, 1)
	case t.FullLeft && t.FullRight && n > 3:
		share(n/2-1, n/2)
	case t.FullLeft:
		share(n-2, n-1)
	case t.FullRight:
		share(1, 0)
	default:
		strips[0] -= lack - lack/2
		strips[n-1] -= lack / 2
	}
	l := Layout{Strips: strips}
	var at measure.Length
	for i, s := range strips {
		if s != t.Strip {
			l.Cut++
		}
		if at += s; i < n-1 {
			l.Joints = append(l.Joints, at+t.Joint-t.Joint/2)
			at += t.Joint
		}
	}
	return l, nil
}

// maxStrips limits the strips of one wall.
const maxStrips = 10_000
