// Package wide adds up products of int64 values without overflow.
package wide

import (
	"cmp"
	"math/bits"
)

// Int is a 128-bit two's complement integer. The zero value is 0.
type Int struct{ hi, lo uint64 }

// AddMul adds a*b.
func (x *Int) AddMul(a, b int64) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	// Mul64 is unsigned: subtract 2^64 times the other factor for each negative one.
	if a < 0 {
		hi -= uint64(b)
	}
	if b < 0 {
		hi -= uint64(a)
	}
	var c uint64
	x.lo, c = bits.Add64(x.lo, lo, 0)
	x.hi, _ = bits.Add64(x.hi, hi, c)
}

// Sign returns -1, 0 or 1.
func (x Int) Sign() int {
	switch {
	case int64(x.hi) < 0:
		return -1
	case x.hi|x.lo == 0:
		return 0
	}
	return 1
}

// Sub returns x-y.
func (x Int) Sub(y Int) Int {
	lo, b := bits.Sub64(x.lo, y.lo, 0)
	hi, _ := bits.Sub64(x.hi, y.hi, b)
	return Int{hi, lo}
}

// Cmp compares x and y.
func (x Int) Cmp(y Int) int {
	if x.hi != y.hi {
		return cmp.Compare(int64(x.hi), int64(y.hi))
	}
	return cmp.Compare(x.lo, y.lo)
}

// Int64 returns x and whether it fits.
func (x Int) Int64() (int64, bool) {
	v := int64(x.lo)
	return v, x.hi == uint64(v>>63)
}

// CeilDiv returns x/d rounded up for d > 0, clamped to [0, 1<<62].
func (x Int) CeilDiv(d int64) int64 {
	if x.Sign() <= 0 {
		return 0
	}
	if x.hi >= uint64(d) {
		return 1 << 62
	}
	q, r := bits.Div64(x.hi, x.lo, uint64(d))
	if q >= 1<<62 {
		return 1 << 62
	}
	if r > 0 {
		q++
	}
	return int64(q)
}

// Float returns x as a float, rounded.
func (x Int) Float() float64 { return float64(float64(int64(x.hi))*(1<<64)) + float64(x.lo) }
