package takeoff

import (
	"slices"

	"example.com/longpoint/measure"
)

// Studs is the stud layout of a wall. The zero value assumes the middle of a stud every 16 in
// from the left end, and splices over these are marked as assumed; a Spacing of 16 in means
// that the studs have been found there.
type Studs struct {
	First   measure.Length `json:"first,omitzero"`   // middle of the first, from the left end
	Spacing measure.Length `json:"spacing,omitzero"` // on center; 0 = 16 in, at least 1 in

	// At lists the middles instead, ascending, if the layout is irregular.
	At []measure.Length `json:"at,omitempty"`
}

func (s Studs) isZero() bool { return s.First == 0 && s.Spacing == 0 && len(s.At) == 0 }

func (s Studs) spacing() measure.Length {
	if s.Spacing == 0 {
		return 16 * measure.Inch
	}
	return s.Spacing
}

// middles returns the middles of the studs between from and to, ascending.
func (s Studs) middles(from, to measure.Length) []measure.Length {
	if len(s.At) > 0 {
		first, _ := slices.BinarySearch(s.At, from)
		last, _ := slices.BinarySearch(s.At, to+1)
		return s.At[first:max(first, last)]
	}
	var at []measure.Length
	step := s.spacing()
	x := s.First
	if skip := (from - x) / step; skip > 0 {
		x += skip * step
	}
	for ; x <= to; x += step {
		if x >= from {
			at = append(at, x)
		}
	}
	return at
}
