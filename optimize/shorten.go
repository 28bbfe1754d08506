package optimize

import (
	"math/bits"

	"example.com/longpoint/internal/solver/certificate"
)

// The values of a tree's leaves come from linear programs and are fractions to more than forty
// binary places, while the whole cents of a plan's cost leave room for error. What makes a
// proof long is those places, and that each leaf has values of its own. So leaves take
// over values of a leaf before them, or their own in few places, where what they show is
// enough all the same.

// places is how many binary places of a scale are tried, one after the other.
var places = [...]int{4, 8, 12, 16, 24, 32}

// sharing is how many of the last values are tried for a leaf.
const sharing = 8

// shorten makes the leaves of a proof take fewer bytes. What judge returns for a leaf's
// values says of leaves with those values whether they show enough; it tells the truth or
// that they do not. All leaves keep their boxes.
func shorten(leaves []leaf, judge func(values *leaf) func(l *leaf) bool) {
	type row struct {
		values *leaf
		enough func(*leaf) bool
	}
	var last []row // the youngest at the end
	for k := range leaves {
		l := &leaves[k]
		found := false
		for j := len(last) - 1; j >= 0 && !found; j-- {
			m := withValues(l, last[j].values)
			if found = last[j].enough(&m); found {
				*l = m
				last = append(append(last[:j:j], last[j+1:]...), last[j]) // the first to be tried next
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

// rounded returns a leaf whose values are rounded down to so many binary places; not ok
// where it has no more.
func rounded(l *leaf, places int) (leaf, bool) {
	size := l.Scale
	if size == 0 { // no cost matters; of the greatest value so many bits
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
