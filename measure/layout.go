package measure

import (
	"iter"
	"math"
	"strconv"
)

// OnCenter returns the marks first, first+spacing, first+2*spacing and so on
// that are not beyond span: studs 16 in on center, nails along a base. A
// spacing of zero or less gives no marks. The sequence can be ranged over any
// number of times.
func OnCenter(span, first, spacing Length) iter.Seq[Length] {
	return func(yield func(Length) bool) {
		if spacing <= 0 {
			return
		}
		for mark := first; mark <= span; mark += spacing {
			if !yield(mark) || mark > math.MaxInt64-spacing {
				return
			}
		}
	}
}

// EvenSpacing returns the starts of n members of one width along span, placed so
// that the gaps between them and before the first and after the last are equal to
// within one graduation: balusters, hooks on a coat rail, panels in a wainscot. The
// gaps are those of [Length.Split] with the same graduation, and the marks are
// measured from the start of span. The sequence can be ranged over any number of
// times.
//
// An n below 1 or above 1,048,575, a negative width, and members whose total
// width exceeds span give a *[RangeError].
func EvenSpacing(span Length, n int, width, graduation Length) (iter.Seq[Length], error) {
	fail := func(reason string) (iter.Seq[Length], error) {
		return nil, &RangeError{Op: "Spaced", Reason: reason,
			Value: span.String() + ", " + strconv.Itoa(n) + ", " + width.String()}
	}
	switch {
	case n < 1 || n > maxParts-1:
		return fail("the number of members must be from 1 to " + strconv.Itoa(maxParts-1))
	case width < 0:
		return fail("the width must not be negative")
	}
	members, err := width.Mul(int64(n))
	if err != nil || members > span {
		return fail("the members are together wider than the span")
	}
	gaps := splitting(uint64(span-members), uint64(n)+1, graduation)
	return func(yield func(Length) bool) {
		for i := range n {
			if !yield(Length(gaps.first(uint64(i)+1)) + Length(i)*width) {
				return
			}
		}
	}, nil
}
