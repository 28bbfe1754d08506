package measure

import "strconv"

// maxParts is the maximum number of parts that Split makes.
const maxParts = 1 << 20

// Split divides l into n parts that sum to l exactly and differ by at most one
// graduation. Every part is a multiple of graduation, except that the last part also
// takes the remainder of l. The longer parts are spread evenly, and the first part is
// one of them. A graduation of zero or less is one [Tick].
//
// If l is negative, the parts are the negated parts of -l. An n below 1 or
// above 1,048,576 gives a *[RangeError].
//
//	parts, err := measure.MustParse(`10'`).Split(7, measure.Inch/16)
func (l Length) Split(n int, graduation Length) ([]Length, error) {
	if n < 1 || n > maxParts {
		return nil, &RangeError{Op: "Length.Split", Value: l.String() + ", " + strconv.Itoa(n),
			Reason: "the number of parts must be from 1 to " + strconv.Itoa(maxParts)}
	}
	mag, neg := magnitude(int64(l))
	split := splitting(mag, uint64(n), graduation)
	parts := make([]Length, n)
	given := uint64(0)
	for i := range parts {
		sum := split.first(uint64(i) + 1)
		v, _ := signed(sum-given, neg) // no longer than l
		parts[i], given = Length(v), sum
	}
	return parts, nil
}

// split is a length in n parts: every part has each graduations, extra of them, spread
// evenly, have one graduation more, and the last one also has the remainder.
type split struct {
	n, graduation uint64
	each, extra   uint64
	whole         uint64
}

func splitting(whole, n uint64, graduation Length) split {
	g := uint64(max(graduation, 1))
	steps := whole / g
	return split{n: n, graduation: g, each: steps / n, extra: steps % n, whole: whole}
}

// first returns the sum of the first k parts, k from 0 to n.
func (s split) first(k uint64) uint64 {
	if k == s.n {
		return s.whole
	}
	// The k-th part ends at the next graduation at or above its share of the extra.
	return (k*s.each + (k*s.extra+s.n-1)/s.n) * s.graduation
}
