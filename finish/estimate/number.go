package estimate

import (
	"math/big"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// number is an exact amount >= 0 in cents: a whole number if possible, which is common and
// fast, else a rational.
type number struct {
	whole    int64
	rational *big.Rat // instead of whole; never changed once set
}

func (x number) rat() *big.Rat {
	if x.rational != nil {
		return x.rational
	}
	return new(big.Rat).SetInt64(x.whole)
}

func (x number) isZero() bool {
	return x.rational == nil && x.whole == 0 || x.rational != nil && x.rational.Sign() == 0
}

func (x number) plus(y number) number {
	if x.rational == nil && y.rational == nil {
		if s, ok := natural.Add(x.whole, y.whole); ok {
			return number{whole: s}
		}
	}
	return number{rational: new(big.Rat).Add(x.rat(), y.rat())}
}

// times returns x*num/den, for num >= 0 and den > 0.
func (x number) times(num, den int64) number {
	r := big.NewRat(num, den)
	return number{rational: r.Mul(r, x.rat())}
}

// round returns x*num/den as a whole number, a half to even or up; ok is false on overflow.
func (x number) round(num, den int64, halfUp bool) (n int64, ok bool) {
	if x.rational != nil {
		return roundRat(x.times(num, den).rational, halfUp)
	}
	mode := measure.RoundHalfEven
	if halfUp {
		mode = measure.RoundHalfUp
	}
	q, _, err := measure.Length(x.whole).MulDiv(num, den, mode) // Length only carries the number: exact to 128 bits
	return int64(q), err == nil
}

// factor is an amount per cent of its base.
type factor struct{ amount, on number }

func (f factor) rat() *big.Rat {
	if f.on.isZero() {
		return new(big.Rat)
	}
	return new(big.Rat).Quo(f.amount.rat(), f.on.rat())
}
