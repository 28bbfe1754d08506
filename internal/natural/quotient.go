package natural

import (
	"cmp"
	"math"
	"math/big"
	"math/bits"
)

// Rounding is the integer that a quotient between two becomes.
type Rounding uint8

const (
	Down Rounding = iota
	Up
	HalfUp
	HalfEven
)

// Quotient returns the product of num over the product of den, rounded once. Every factor of num
// must be >= 0 and every factor of den > 0; ok is false if they are not, or if the result overflows
// int64.
func Quotient(mode Rounding, num, den []int64) (q int64, ok bool) {
	n, d := uint64(1), uint64(1)
	nhi := uint64(0)
	small := true
	for _, x := range num {
		if x < 0 {
			return 0, false
		}
		if x == 0 {
			n, nhi = 0, 0
			continue
		}
		h1, l1 := bits.Mul64(n, uint64(x))
		h2, l2 := bits.Mul64(nhi, uint64(x))
		s, c := bits.Add64(l2, h1, 0)
		if h2 != 0 || c != 0 {
			small = false
		}
		nhi, n = s, l1
	}
	for _, x := range den {
		if x <= 0 {
			return 0, false
		}
		h, l := bits.Mul64(d, uint64(x))
		if h != 0 {
			small = false
		}
		d = l
	}
	if !small {
		return bigQuotient(mode, num, den)
	}
	if nhi >= d {
		return 0, false
	}
	quo, rem := bits.Div64(nhi, n, d)
	if mode.up(quo&1 == 1, rem != 0, cmp.Compare(rem, d-rem)) {
		quo++ // cannot wrap: rem != 0 means d > 1, so quo < 1<<64-1
	}
	if quo > math.MaxInt64 {
		return 0, false
	}
	return int64(quo), true
}

// bigQuotient is Quotient for products beyond 128 and 64 bits.
func bigQuotient(mode Rounding, num, den []int64) (int64, bool) {
	n, d := big.NewInt(1), big.NewInt(1)
	var t big.Int
	for _, x := range num {
		n.Mul(n, t.SetInt64(x))
	}
	for _, x := range den {
		d.Mul(d, t.SetInt64(x))
	}
	return Round(mode, n, d)
}

// Round returns n/d rounded, for n >= 0 and d > 0; ok is false if it overflows int64.
func Round(mode Rounding, n, d *big.Int) (q int64, ok bool) {
	var quo, rem, rest big.Int
	quo.QuoRem(n, d, &rem)
	rest.Sub(d, &rem)
	if mode.up(quo.Bit(0) == 1, rem.Sign() != 0, rem.Cmp(&rest)) {
		quo.Add(&quo, big.NewInt(1))
	}
	if !quo.IsInt64() {
		return 0, false
	}
	return quo.Int64(), true
}

// up reports whether a quotient is rounded up, by whether it is odd before, whether it is inexact,
// and how the remainder compares with a half.
func (r Rounding) up(odd, inexact bool, half int) bool {
	switch r {
	case Up:
		return inexact
	case HalfUp:
		return half >= 0
	case HalfEven:
		return half > 0 || half == 0 && odd
	}
	return false
}
