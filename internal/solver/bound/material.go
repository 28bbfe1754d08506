package bound

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/sumset"
	"example.com/longpoint/internal/solver/wide"
)

// MaterialRate returns the cost per unit of size if only sizes count: that of the bins in which
// the total ends if bins are used in increasing order of cost per size. It is the dual of the
// linear program with one row, as a fraction num/den of a cost. It reports whether the bins
// hold the total.
func MaterialRate(total int64, bins []model.Bin) (num, den int64, holds bool) {
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

// Material returns duals proportional to size, their scale, and the bound that they show for
// the whole problem. A pattern is worth at most its bin's capacity, so no knapsack is solved.
// It reports false if the bins do not hold all pieces or numbers are too large.
func Material(p *model.Problem) (dual []int64, scale, bound int64, ok bool) {
	total := int64(0)
	for _, it := range p.Items {
		total += it.Size * it.Demand
	}
	num, scale, ok := MaterialRate(total, p.Bins)
	times := func(a, b int64) int64 {
		hi, lo := bits.Mul64(uint64(a), uint64(b))
		ok = ok && hi == 0 && lo < 1<<62
		return int64(lo)
	}
	var sum wide.Int
	for _, it := range p.Items {
		dual = append(dual, times(num, it.Size))
	}
	sum.AddMul(num, total)
	for _, bin := range p.Bins {
		if rc := times(scale, bin.Cost) - times(num, bin.Cap); ok && rc < 0 {
			sum.AddMul(rc, bin.Limit)
		}
	}
	if !ok {
		return make([]int64, len(p.Items)), 1, 0, false
	}
	return dual, scale, sum.CeilDiv(scale), true
}

// compareProducts compares a*b with c*d; none is negative.
func compareProducts(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	return cmp.Or(cmp.Compare(h1, h2), cmp.Compare(l1, l2))
}
