package estimate

import (
	"cmp"
	"math/big"
	"slices"
)

// apportion divides total among weights, all >= 0, so that the parts add up to it exactly:
// each gets its share rounded down, and the cents left over go to the largest remainders,
// the earlier of equal ones first. Without any weight all goes to the first.
func apportion(total int64, weights []*big.Rat) []int64 {
	parts := make([]int64, len(weights))
	if total == 0 || len(weights) == 0 {
		return parts
	}
	sum, whole := new(big.Rat), true
	for i, w := range weights {
		sum.Add(sum, w)
		if whole = whole && w.IsInt() && w.Num().IsInt64(); whole {
			parts[i] = w.Num().Int64()
		}
	}
	if whole && sum.Cmp(new(big.Rat).SetInt64(total)) == 0 {
		return parts
	}
	clear(parts)
	if sum.Sign() == 0 {
		parts[0] = total
		return parts
	}
	scale := new(big.Rat).SetInt64(total)
	scale.Quo(scale, sum)
	left := total
	rest := make([]*big.Rat, len(weights))
	order := make([]int, len(weights))
	for i, w := range weights {
		x := new(big.Rat).Mul(w, scale)
		q := new(big.Int).Quo(x.Num(), x.Denom())
		parts[i], order[i] = q.Int64(), i
		left -= parts[i]
		rest[i] = x.Sub(x, new(big.Rat).SetInt(q))
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Or(rest[b].Cmp(rest[a]), cmp.Compare(a, b)) })
	for _, i := range order[:left] {
		parts[i]++
	}
	return parts
}

// roundRat rounds x >= 0 to a whole number, a half to the even one or up; ok is false
// where it leaves int64.
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
