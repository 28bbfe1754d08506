package finish

import (
	"cmp"
	"math"
	"math/big"
	"math/bits"

	"example.com/longpoint/internal/suited"
	"example.com/longpoint/measure"
)

// Pi to eighteen decimals, rounded down. The error is a sixth of one part in
// 10^18, so it cannot move a need by a whole unit within int64.
const (
	piNum = 3_141_592_653_589_793_238
	piDen = 1_000_000_000_000_000_000
)

// The small units of area and volume, in square and cubic ticks of length.
const (
	ticksPerInch       = int64(measure.Inch)
	squareTicksPerUnit = ticksPerInch * ticksPerInch / int64(measure.SquareInch)
	cubicTicksPerUnit  = ticksPerInch * ticksPerInch * ticksPerInch / int64(measure.CubicInch)
)

// Both divisions must be exact, or this does not compile.
const (
	_ = uint(-(ticksPerInch * ticksPerInch % int64(measure.SquareInch)))
	_ = uint(-(ticksPerInch * ticksPerInch * ticksPerInch % int64(measure.CubicInch)))
)

type rounding uint8

const (
	down rounding = iota
	up
	halfEven
)

// quotient returns the product of num over the product of den, rounded. Every
// factor of num must be >= 0 and every factor of den > 0; ok is false if they
// are not, or if the result overflows int64.
func quotient(mode rounding, num, den []int64) (q int64, ok bool) {
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
	if roundsUp(mode, quo&1 == 1, rem != 0, cmpHalf(rem, d)) {
		quo++ // cannot wrap: rem != 0 means d > 1, so quo < 1<<64-1
	}
	if quo > math.MaxInt64 {
		return 0, false
	}
	return int64(quo), true
}

// cmpHalf compares rem with half of d.
func cmpHalf(rem, d uint64) int {
	return cmp.Compare(rem, d-rem)
}

func roundsUp(mode rounding, odd, inexact bool, half int) bool {
	switch mode {
	case up:
		return inexact
	case halfEven:
		return half > 0 || half == 0 && odd
	}
	return false
}

func bigQuotient(mode rounding, num, den []int64) (int64, bool) {
	n, d := big.NewInt(1), big.NewInt(1)
	var t big.Int
	for _, x := range num {
		n.Mul(n, t.SetInt64(x))
	}
	for _, x := range den {
		d.Mul(d, t.SetInt64(x))
	}
	return roundRat(mode, n, d)
}

// roundRat returns n/d rounded, for n >= 0 and d > 0.
func roundRat(mode rounding, n, d *big.Int) (int64, bool) {
	var q, r big.Int
	q.QuoRem(n, d, &r)
	var rest big.Int
	rest.Sub(d, &r)
	if roundsUp(mode, q.Bit(0) == 1, r.Sign() != 0, r.Cmp(&rest)) {
		q.Add(&q, big.NewInt(1))
	}
	if !q.IsInt64() {
		return 0, false
	}
	return q.Int64(), true
}

// fixed formats n/d, n >= 0 and d > 0, with at most places decimals, rounded
// half to even, without trailing zeros.
func fixed(n, d int64, places int) string {
	return string(suited.AppendFixed(make([]byte, 0, 24), n, d, places))
}
