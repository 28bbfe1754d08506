package estimate

import (
	"math/big"
	"time"

	"example.com/longpoint/measure"
)

// The units of time in rates.
const (
	second = measure.Duration(time.Second)
	hour   = measure.Duration(time.Hour)
)

// whole is 100 %.
const whole = 100 * measure.Percent

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "estimate", Value: what, Reason: "too large to represent"}
}

// mulDiv returns a*b/den, rounded half to even.
func mulDiv(a, b, den int64) (int64, bool) {
	q, _, err := measure.Length(a).MulDiv(b, den, measure.RoundHalfEven) // Length only carries the number: exact to 128 bits
	return int64(q), err == nil
}

// ratio returns a share as a number.
func ratio(r measure.Ratio) *big.Rat { return big.NewRat(int64(r), int64(whole)) }
