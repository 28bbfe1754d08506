package measure

import "strconv"

// maxParts is the most parts that Split makes.
const maxParts = 1 << 20

// Split divides l into n parts that sum to l exactly and differ by at most one
// grain. Every part is a multiple of grain, except that the last also takes
// what l itself is beyond one. The longer parts are spread evenly, the first
// part being one of them. A grain of zero or less is one [Tick].
//
// With l negative the parts are the negated parts of -l. An n below 1 or above
// 1,048,576 gives a *[RangeError].
//
//	parts, err := measure.MustParse(`10'`).Split(7, measure.Inch/16)
func (l Length) Split(n int, grain Length) ([]Length, error) {
	if n < 1 || n > maxParts {
		return nil, &RangeError{Op: "Length.Split", Value: l.String() + ", " + strconv.Itoa(n),
			Reason: "the number of parts must be from 1 to " + strconv.Itoa(maxParts)}
	}
	mag, neg := magnitude(int64(l))
	g := uint64(max(grain, 1))
	steps, beyond := mag/g, mag%g
	each, extra := steps/uint64(n), steps%uint64(n)

	parts := make([]Length, n)
	given := uint64(0) // how many of the first parts' extra steps are given out
	for i := range parts {
		// Part i ends at the next step at or above its share of the extra ones.
		due := (uint64(i+1)*extra + uint64(n) - 1) / uint64(n)
		part := (each + due - given) * g
		given = due
		if i == n-1 {
			part += beyond
		}
		v, _ := signed(part, neg) // no longer than l
		parts[i] = Length(v)
	}
	return parts, nil
}
