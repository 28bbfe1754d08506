package packing

// counts keeps, for a multiset of sizes, the number of its sub-multisets with a sum in [v-slack, v],
// for every v up to a capacity. Copies of a size count as different, and the numbers are modulo 2^64:
// zero means none or a multiple of 2^64.
type counts struct {
	n []uint64 // by v
}

// newCounts returns the counts of the empty multiset.
func newCounts(cap, slack int64) *counts {
	c := &counts{n: make([]uint64, cap+1)}
	for v := range min(slack, cap) + 1 {
		c.n[v] = 1
	}
	return c
}

func (c *counts) add(size int64) {
	for v := int64(len(c.n)) - 1; v >= size; v-- {
		c.n[v] += c.n[v-size]
	}
}

func (c *counts) remove(size int64) {
	for v := size; v < int64(len(c.n)); v++ {
		c.n[v] -= c.n[v-size]
	}
}

// without returns the count at v for the multiset without one copy of each of the sizes, all of which
// are in it. Dividing the generating function by 1+x^size gives an alternating sum for each size; it
// has one term for each sum of multiples of the sizes up to v.
func (c *counts) without(v int64, sizes ...int64) uint64 {
	if v < 0 {
		return 0
	}
	switch len(sizes) {
	case 0:
		return c.n[v]
	case 1:
		n, plus := uint64(0), true
		for s := sizes[0]; v >= 0; v -= s {
			if plus {
				n += c.n[v]
			} else {
				n -= c.n[v]
			}
			plus = !plus
		}
		return n
	}
	n, plus := uint64(0), true
	for s := sizes[0]; v >= 0; v -= s {
		if plus {
			n += c.without(v, sizes[1:]...)
		} else {
			n -= c.without(v, sizes[1:]...)
		}
		plus = !plus
	}
	return n
}
