package estimate

import (
	"cmp"
	"math/big"
	"slices"
)

// apportion divides total in proportion to weights, all >= 0, so that the parts add up exactly:
// each share is rounded down, and the remaining cents go to the largest remainders, the earlier
// of equal ones first. If all weights are zero, everything goes to the first.
func apportion(total int64, weights []*big.Rat) []int64 {
	parts := make([]int64, len(weights))
	if total == 0 || len(weights) == 0 {
		return parts
	}
	n, sum := numerators(weights)
	switch {
	case sum.Sign() == 0:
		parts[0] = total
		return parts
	case sum.IsInt64() && sum.Int64() == total: // the weights are whole and are the parts
		for i := range n {
			parts[i] = n[i].Int64()
		}
		return parts
	}
	left, of := total, big.NewInt(total)
	order := make([]int, len(weights))
	for i, w := range n {
		q, rest := new(big.Int).QuoRem(w.Mul(w, of), sum, new(big.Int))
		parts[i], n[i], order[i] = q.Int64(), rest, i
		left -= parts[i]
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Or(n[b].Cmp(n[a]), cmp.Compare(a, b)) })
	for _, i := range order[:left] {
		parts[i]++
	}
	return parts
}

// numerators returns weights over a common denominator, fresh integers, and their sum.
func numerators(weights []*big.Rat) (n []*big.Int, sum *big.Int) {
	common, factors := big.NewInt(1), map[string]*big.Int{}
	for _, w := range weights {
		if d := w.Denom(); !w.IsInt() && factors[string(d.Bytes())] == nil {
			factors[string(d.Bytes())] = d
			g := new(big.Int).GCD(nil, nil, common, d)
			common.Mul(common, g.Quo(d, g))
		}
	}
	for k, d := range factors {
		factors[k] = new(big.Int).Quo(common, d)
	}
	sum = new(big.Int)
	n = make([]*big.Int, len(weights))
	for i, w := range weights {
		f := common
		if !w.IsInt() {
			f = factors[string(w.Denom().Bytes())]
		}
		n[i] = new(big.Int).Mul(w.Num(), f)
		sum.Add(sum, n[i])
	}
	return n, sum
}

// roundRat rounds x >= 0 to a whole number, a half to even or up; ok is false on overflow.
func roundRat(x *big.Rat, halfUp bool) (n int64, ok bool) {
	if x.IsInt() {
		return x.Num().Int64(), x.Num().IsInt64()
	}
	q, rem := new(big.Int).QuoRem(x.Num(), x.Denom(), new(big.Int))
	half := rem.Lsh(rem, 1).Cmp(x.Denom())
	if half > 0 || half == 0 && (halfUp || q.Bit(0) == 1) {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64(), q.IsInt64()
}
