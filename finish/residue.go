package finish

import "math"

const (
	residueSizes = 1 << 18 // the biggest best size that residue takes, after division by the gcd
	residuePrice = 1 << 34 // the biggest price: sums over all residues and sizes stay within int64
)

// residue solves the cases that the branch and bound in cover cannot: many
// packages of several sizes with almost equal value. Let m be the size with the
// best value. In an optimal mix, fewer than m packages are of other sizes,
// since among m of them some add up to a multiple of m and could be exchanged.
// So it suffices to know, for each remainder r modulo m, the least amount that
// packages of the other sizes with such a total add to the cost of covering
// with size m alone: a shortest path on m nodes, found cycle by cycle for one
// size after another (the round robin of Böcker and Lipták for the Frobenius
// problem; Gilmore and Gomory's periodic knapsack). Memory is proportional to m
// and does not depend on the need.
//
// The sizes come in the order of cover, the best first. ok is false if m or a
// price is too big, or if the answer would need a negative number of the best
// size, which happens only for needs that are small compared with m.
func residue(need int64, sizes []size) (counts []int64, value mix, ok bool) {
	m, p := sizes[0].n, sizes[0].price
	if m > residueSizes {
		return nil, mix{}, false
	}
	for _, z := range sizes {
		if z.price > residuePrice {
			return nil, mix{}, false
		}
	}
	least := make([]mix, m) // cost and packages, less those of the size m that the total is worth
	from := make([]uint8, m)
	for r := range least {
		least[r].cost = math.MaxInt64
	}
	least[0] = mix{}
	for i := 1; i < len(sizes); i++ {
		z := sizes[i]
		step, whole := z.n%m, z.n/m
		if whole > residuePrice || whole > 0 && p > residuePrice/whole {
			return nil, mix{}, false
		}
		cycles := gcd(step, m)
		if step == 0 {
			continue // a multiple of m at no better value
		}
		for c := range cycles {
			// start where the cycle is cheapest: no later package of this size
			// can improve that node
			start := c
			for r := c; ; {
				if least[r].cheaper(least[start]) {
					start = r
				}
				if r += step; r >= m {
					r -= m
				}
				if r == c {
					break
				}
			}
			if least[start].cost == math.MaxInt64 {
				continue
			}
			for r := start; ; {
				next, worth := r+step, whole
				if next >= m {
					next, worth = next-m, worth+1
				}
				if next == start {
					break
				}
				v := mix{cost: least[r].cost + z.price - worth*p, packages: least[r].packages + 1 - worth}
				if v.cheaper(least[next]) {
					least[next], from[next] = v, uint8(i)
				}
				r = next
			}
		}
	}
	best := int64(-1)
	for r, v := range least {
		if v.cost == math.MaxInt64 {
			continue
		}
		x := int64(0)
		if need > int64(r) {
			x = ceilDiv(need-int64(r), m)
		}
		over := overshoot(x, m, need) + int64(r)
		cost, ok1 := mulAdd(v.cost, x, p)
		if w := (mix{cost, v.packages + x, over}); ok1 && (best < 0 || w.less(value)) {
			best, value = int64(r), w
		}
	}
	if best < 0 {
		return nil, mix{}, false
	}
	counts = make([]int64, len(sizes))
	total := int64(0)
	for r := best; r != 0; {
		z := sizes[from[r]]
		counts[from[r]]++
		if total > math.MaxInt64-z.n {
			return nil, mix{}, false
		}
		total += z.n
		if r -= z.n % m; r < 0 {
			r += m
		}
	}
	// the other sizes cover total; size m covers the rest of need
	if total < need {
		counts[0] = ceilDiv(need-total, m)
	}
	return counts, value, total-need < m
}

// cheaper compares only cost and packages.
func (m mix) cheaper(o mix) bool {
	return m.cost < o.cost || m.cost == o.cost && m.packages < o.packages
}
