package estimate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"math/bits"

	"example.com/longpoint/measure"
)

// The spans of time that rates are made of.
const (
	second measure.Duration = 1_000_000_000
	minute                  = 60 * second
	hour                    = 60 * minute
)

// whole is one, 100 %.
const whole = 100 * measure.Percent

// bad reports a value that cannot be right.
func bad(field string, value any, want string) error {
	return &measure.FieldError{Field: field, Value: fmt.Sprint(value), Want: want}
}

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "estimate", Value: what, Reason: "too large to represent"}
}

// within puts the path of the value that holds what err is about before its field.
func within(path string, err error) error {
	switch e := err.(type) {
	case *measure.FieldError:
		return e.Under(path)
	case *measure.RangeError:
		return &measure.RangeError{Op: e.Op, Value: path + ": " + e.Value, Reason: e.Reason}
	case interface{ Unwrap() []error }: // of package finish
		var all []error
		for _, err := range e.Unwrap() {
			all = append(all, within(path, err))
		}
		return errors.Join(all...)
	}
	return err
}

// share checks a ratio that must be at least 0 and below limit.
func share(field string, r, limit measure.Ratio) error {
	if r < 0 || r >= limit {
		return bad(field, r, "at least 0% and less than "+limit.String())
	}
	return nil
}

// upTo checks a ratio that must be at least 0 and at most most.
func upTo(field string, r, most measure.Ratio) error {
	if r < 0 || r > most {
		return bad(field, r, "0% to "+most.String())
	}
	return nil
}

// add returns a+b for a, b >= 0.
func add(a, b int64) (int64, bool) {
	if a > math.MaxInt64-b {
		return 0, false
	}
	return a + b, true
}

// mul returns a*b for a, b >= 0.
func mul(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	return int64(lo), hi == 0 && lo <= math.MaxInt64
}

// mulDiv returns a*b/den, rounded half to even.
func mulDiv(a, b, den int64) (int64, bool) {
	q, _, err := measure.Length(a).MulDiv(b, den, measure.RoundHalfEven) // a carrier: exact to 128 bits
	return int64(q), err == nil
}

// cmpProducts compares a*b with c*d, all >= 0.
func cmpProducts(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	if h1 != h2 {
		return cmp.Compare(h1, h2)
	}
	return cmp.Compare(l1, l2)
}
