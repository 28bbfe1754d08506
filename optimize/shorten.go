package optimize

import (
	"math/bits"

	"example.com/longpoint/internal/solver/certificate"
)

// The values of a tree's leaves come from linear programs, with more than forty binary places,
// although bounds in whole cents need fewer. These places, and separate values for each leaf, make
// a proof long. So a leaf takes the values of a leaf before it, or its own in few places, if it
// still shows enough.

// places are the numbers of binary places of a scale to try, in this order.
var places = [...]int{4, 8, 12, 16, 24, 32}

// sharing is the number of recent rows of values to try for a leaf.
const sharing = 8

// shorten makes the leaves of a proof take fewer bytes. Given values, judge returns a function
// that reports whether a leaf with these values shows enough; it may err only by returning false.
// All leaves keep their boxes.
func shorten(leaves []leaf, judge func(values *leaf) func(l *leaf) bool) {
	type row struct {
		values *leaf
		enough func(*leaf) bool
	}
	var last []row // the most recent at the end
	for k := range leaves {
		l := &leaves[k]
		found := false
		for j := len(last) - 1; j >= 0 && !found; j-- {
			m := withValues(l, last[j].values)
			if found = last[j].enough(&m); found {
				*l = m
				last = append(append(last[:j:j], last[j+1:]...), last[j]) // the first to try next
			}
		}
		if found {
			continue
		}
		own := row{values: l}
		for _, n := range places {
			short, ok := rounded(l, n)
			if !ok {
				break
			}
			if enough := judge(&short); enough(&short) {
				own = row{&short, enough}
				break
			}
		}
		if own.enough == nil {
			continue
		}
		*l = withValues(l, own.values)
		if last = append(last, own); len(last) > sharing {
			last = last[1:]
		}
	}
}

// withValues returns a leaf's box with other values.
func withValues(l, values *leaf) leaf {
	m := *values
	m.Lo, m.Hi, m.Used, m.Sums = l.Lo, l.Hi, l.Used, l.Sums
	return m
}

// rounded returns a leaf with its values rounded down to the given number of binary places; not
// ok if it has no more places.
func rounded(l *leaf, places int) (leaf, bool) {
	size := l.Scale
	if size == 0 { // costs do not matter: round by the greatest value
		for _, v := range l.Values {
			size = max(size, v)
		}
	}
	by := bits.Len64(uint64(size)) - 1 - places
	if by <= 0 {
		return leaf{}, false
	}
	m := *l
	m.Scale >>= by
	m.Spare >>= by
	m.Values = make([]int64, len(l.Values))
	for i, v := range l.Values {
		m.Values[i] = v >> by
	}
	if l.Parts != nil {
		m.Parts = make([]certificate.Part, len(l.Parts))
		for i, p := range l.Parts {
			m.Parts[i] = certificate.Part{Length: p.Length, Value: p.Value >> by}
		}
	}
	return m, true
}
