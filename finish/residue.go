package finish

import "math"

const (
	residueSizes = 1 << 18 // the biggest best size that residue takes, after division by the gcd
	residuePrice = 1 << 34 // the biggest price: sums over all residues and sizes stay within int64
)

// residue solves the cases that the branch and bound in cover cannot: many packages of several
// sizes with almost equal value. Let m be the size with the best value. In an optimal mix,
// fewer than m packages are of other sizes, since among m of them some add up to a multiple of
// m and could be exchanged. So it suffices to know, for each remainder r modulo m, the least
// amount that packages of the other sizes with such a total add to the cost of covering with
// size m alone: a shortest path on m nodes, found cycle by cycle for one size after another
// (the round robin of Böcker and Lipták for the Frobenius problem; Gilmore and Gomory's
// periodic knapsack). Memory is proportional to m and does not depend on the need.
//
// The sizes come in the order of cover, the best first. ok is false if m or a price is too big,
// or if the answer would need a negative number of the best size, which happens only for needs
// that are small compared with m.
func residue(need int64, sizes []size) (counts []int64, value mix, ok bool) {
	m := sizes[0].n
	if m > residueSizes {
		return nil, mix{}, false
	}
	for _, z := range sizes {
		if z.price > residuePrice {
			return nil, mix{}, false
		}
	}
	rs := residues{m: m, price: sizes[0].price, least: make([]mix, m), from: make([]uint8, m)}
	for r := range rs.least {
		rs.least[r].cost = math.MaxInt64
	}
	rs.least[0] = mix{}
	for i := 1; i < len(sizes); i++ {
		if !rs.extend(i, sizes[i]) {
			return nil, mix{}, false
		}
	}
	best, value := rs.best(need)
	if best < 0 {
		return nil, mix{}, false
	}
	counts = make([]int64, len(sizes))
	total := int64(0)
	for r := best; r != 0; {
		z := sizes[rs.from[r]]
		counts[rs.from[r]]++
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

// residues holds, for each remainder modulo the best size m, the least mix of other sizes whose
// total has that remainder.
type residues struct {
	m, price int64   // the best size and its price
	least    []mix   // cost and packages, less those of the size m that the total is worth
	from     []uint8 // the last size of each mix
}

// extend allows packages of one more size, the i-th. It reports false if a price is too big.
func (rs *residues) extend(i int, z size) bool {
	step, whole := z.n%rs.m, z.n/rs.m
	if whole > residuePrice || whole > 0 && rs.price > residuePrice/whole {
		return false
	}
	if step == 0 {
		return true // a multiple of m at no better value
	}
	for c := range gcd(step, rs.m) {
		start := rs.cheapest(c, step)
		if rs.least[start].cost == math.MaxInt64 {
			continue
		}
		for r := start; ; {
			next, worth := r+step, whole
			if next >= rs.m {
				next, worth = next-rs.m, worth+1
			}
			if next == start {
				break
			}
			v := mix{cost: rs.least[r].cost + z.price - worth*rs.price, packages: rs.least[r].packages + 1 - worth}
			if v.cheaper(rs.least[next]) {
				rs.least[next], rs.from[next] = v, uint8(i)
			}
			r = next
		}
	}
	return true
}

// cheapest returns where a cycle of remainders through c is cheapest: no later package of the
// size whose steps it takes can improve that node.
func (rs *residues) cheapest(c, step int64) int64 {
	best := c
	for r := c; ; {
		if rs.least[r].cheaper(rs.least[best]) {
			best = r
		}
		if r += step; r >= rs.m {
			r -= rs.m
		}
		if r == c {
			return best
		}
	}
}

// best returns the remainder that the best mix for a need begins with, -1 if there is none
// within int64.
func (rs *residues) best(need int64) (best int64, value mix) {
	best = -1
	for r, v := range rs.least {
		if v.cost == math.MaxInt64 {
			continue
		}
		x := int64(0)
		if need > int64(r) {
			x = ceilDiv(need-int64(r), rs.m)
		}
		over := overshoot(x, rs.m, need) + int64(r)
		cost, ok := mulAdd(v.cost, x, rs.price)
		if w := (mix{cost, v.packages + x, over}); ok && (best < 0 || w.less(value)) {
			best, value = int64(r), w
		}
	}
	return best, value
}

// cheaper compares only cost and packages.
func (m mix) cheaper(o mix) bool {
	return m.cost < o.cost || m.cost == o.cost && m.packages < o.packages
}
