// Package natural computes with integers from 0 to the greatest int64, and reports
// overflow.
package natural

import (
	"cmp"
	"math"
	"math/bits"
)

// Add returns a+b for a, b >= 0; ok is false if the sum overflows int64.
func Add(a, b int64) (sum int64, ok bool) {
	if a > math.MaxInt64-b {
		return 0, false
	}
	return a + b, true
}

// Mul returns a*b; ok is false if a or b is negative or the product overflows int64.
func Mul(a, b int64) (product int64, ok bool) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	if a < 0 || b < 0 || hi != 0 || lo > math.MaxInt64 {
		return 0, false
	}
	return int64(lo), true
}

// CompareProducts compares a*b with c*d, all >= 0.
func CompareProducts(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	return cmp.Or(cmp.Compare(h1, h2), cmp.Compare(l1, l2))
}
