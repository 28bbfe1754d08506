package finish

import (
	"math"

	"example.com/longpoint/internal/natural"
)

// smallNeed is the biggest need, after division by the common divisor of the
// sizes, that everyAmount accepts; it then uses about twelve megabytes.
const smallNeed = 1 << 19

// everyAmount returns the best mix for need by computing the best mix for every
// smaller need. It is the last resort for a need that is small in units but has
// many mixes. ok is false if need is too big or no mix can be represented.
func everyAmount(need int64, sizes []size) (counts []int64, value mix, ok bool) {
	if need > smallNeed {
		return nil, mix{}, false
	}
	const none = math.MaxUint8 // beyond any index: a product has 64 sizes
	best := make([]mix, need+1)
	first := make([]uint8, need+1) // a size in the mix
	for r := int64(1); r <= need; r++ {
		first[r] = none
		for i, z := range sizes {
			rest := mix{left: z.n - r}
			if z.n < r {
				if first[r-z.n] == none {
					continue
				}
				rest = best[r-z.n]
			}
			cost, fits := natural.Add(rest.cost, z.price)
			if m := (mix{cost, rest.packages + 1, rest.left}); fits && (first[r] == none || m.less(best[r])) {
				best[r], first[r] = m, uint8(i)
			}
		}
	}
	if first[need] == none {
		return nil, mix{}, false
	}
	counts = make([]int64, len(sizes))
	for r := need; r > 0; r -= sizes[first[r]].n {
		counts[first[r]]++
	}
	return counts, best[need], true
}
