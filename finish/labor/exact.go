package labor

import (
	"math"
	"math/big"
	"math/bits"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// Units of time for rates.
const (
	second measure.Duration = 1_000_000_000
	minute                  = 60 * second
	hour                    = 60 * minute
)

// whole is one, 100 %.
const whole = 100 * measure.Percent

// squareTicks is the number of square ticks in a unit of area.
const squareTicks = int64(measure.Inch) * int64(measure.Inch) / int64(measure.SquareInch)

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "labor", Value: what, Reason: "too large to represent"}
}

// units returns a quantity and its unit of comparison as counts of the same small unit; ok
// is false if they are of different kinds, or of a kind that no event has.
func units(q, unit finish.Amount) (n, d int64, ok bool) {
	if l, is := q.Length(); is {
		u, same := unit.Length()
		return int64(l), int64(u), same
	}
	if a, is := q.Area(); is {
		u, same := unit.Area()
		return int64(a), int64(u), same
	}
	if n, is := q.Pieces(); is {
		u, same := unit.Pieces()
		return n, u, same
	}
	return 0, 0, false
}

// ratio is a fraction of products; results are exact until they are rounded once.
type ratio struct {
	num [4]int64 // all >= 0; 0 counts as it is
	den [4]int64 // all > 0
}

// ceil returns the least integer not less than the ratio; ok is false if it overflows
// int64.
func (r ratio) ceil() (int64, bool) {
	n, d, ok := r.small()
	if !ok {
		return r.big(false)
	}
	q := n / d
	if n%d != 0 {
		q++ // n%d != 0 means d > 1
	}
	return int64(q), q <= math.MaxInt64
}

// round returns the nearest integer, half up; ok is false if it overflows int64.
func (r ratio) round() (int64, bool) {
	n, d, ok := r.small()
	if !ok {
		return r.big(true)
	}
	q, rest := n/d, n%d
	if rest >= d-rest {
		q++
	}
	return int64(q), q <= math.MaxInt64
}

// small returns the fraction in lowest terms across factors, if both fit in 64 bits.
func (r *ratio) small() (n, d uint64, ok bool) {
	for i := range r.num {
		for k := range r.den {
			if r.num[i] > 1 && r.den[k] > 1 {
				g := gcd(r.num[i], r.den[k])
				r.num[i] /= g
				r.den[k] /= g
			}
		}
	}
	n, d = 1, 1
	for i := range r.num {
		var over, more uint64
		over, n = bits.Mul64(n, uint64(r.num[i]))
		more, d = bits.Mul64(d, uint64(r.den[i]))
		if over|more != 0 {
			return 0, 0, false
		}
	}
	return n, d, true
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (r *ratio) big(nearest bool) (int64, bool) {
	n, d := big.NewInt(1), big.NewInt(1)
	var x big.Int
	for i := range r.num {
		n.Mul(n, x.SetInt64(r.num[i]))
		d.Mul(d, x.SetInt64(r.den[i]))
	}
	if nearest { // a half up: floor((2n+d)/2d)
		n.Lsh(n, 1).Add(n, d)
		d.Lsh(d, 1)
	} else { // floor((n+d-1)/d)
		n.Add(n, d).Sub(n, big.NewInt(1))
	}
	n.Quo(n, d)
	return n.Int64(), n.IsInt64()
}

// surface returns the area of a rectangle, to the nearest unit; ok is false if it overflows
// int64.
func surface(long, wide measure.Length) (measure.Area, bool) {
	if long < 0 || wide < 0 {
		return 0, false
	}
	a, ok := ratio{num: [4]int64{int64(long), int64(wide), 1, 1}, den: [4]int64{squareTicks, 1, 1, 1}}.round()
	return measure.Area(a), ok
}
