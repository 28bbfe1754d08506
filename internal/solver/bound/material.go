package bound

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/sumset"
	"example.com/longpoint/internal/solver/wide"
)

// materialRate returns the cost per unit of size if only sizes count: that of the bins in which
// the total ends if bins are used in increasing order of cost per size. It is the dual of the
// linear program with one row, as a fraction num/den of a cost. It reports whether the bins
// hold the total.
func materialRate(total int64, bins []model.Bin) (num, den int64, holds bool) {
	var order []int
	for b := range bins {
		if bins[b].Cap > 0 {
			order = append(order, b)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return compareProducts(bins[a].Cost, bins[b].Cap, bins[b].Cost, bins[a].Cap)
	})
	den = 1
	for _, b := range order {
		if total <= 0 {
			break
		}
		num, den = bins[b].Cost, bins[b].Cap
		// Fewer than total/Cap sticks suffice for the rest.
		if bins[b].Limit > total/den {
			total = 0
		} else {
			total -= bins[b].Limit * den
		}
	}
	if g := sumset.Divisor(num, den); g > 1 {
		num, den = num/g, den/g
	}
	return num, den, total <= 0
}

// mostMaterial limits the numbers of a bound by material.
const mostMaterial = 1 << 58

// Material returns the bound for the whole problem if only sizes count. Its duals are proportional
// to size: a unit of size is worth per, over the scale. A pattern is worth at most its bin's
// capacity, so no knapsack is solved. It reports false, and a bound of zero, if the bins do not
// hold all pieces or numbers are too large.
func Material(p *model.Problem) (per, scale, bound int64, ok bool) {
	total := int64(0)
	for _, it := range p.Items {
		total += it.Size * it.Demand
	}
	per, scale, ok = materialRate(total, p.Bins)
	times := func(a, b int64) int64 {
		hi, lo := bits.Mul64(uint64(a), uint64(b))
		ok = ok && hi == 0 && lo < mostMaterial
		return int64(lo)
	}
	for _, it := range p.Items {
		times(per, it.Size)
	}
	var sum wide.Int
	sum.AddMul(per, total)
	for _, bin := range p.Bins {
		if rc := times(scale, bin.Cost) - times(per, bin.Cap); ok && rc < 0 {
			sum.AddMul(rc, bin.Limit)
		}
	}
	if !ok {
		return 0, 1, 0, false
	}
	return per, scale, sum.CeilDiv(scale), true
}

// compareProducts compares a*b with c*d; none is negative.
func compareProducts(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	return cmp.Or(cmp.Compare(h1, h2), cmp.Compare(l1, l2))
}
