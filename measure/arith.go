package measure

import (
	"math"
	"math/bits"
	"strconv"
)

// Add returns l+m. A sum outside the range of Length gives a *[RangeError].
func (l Length) Add(m Length) (Length, error) {
	if s, ok := add(int64(l), int64(m)); ok {
		return Length(s), nil
	}
	return 0, &RangeError{Op: "Length.Add", Value: l.String() + ", " + m.String(), Reason: "the sum is beyond 70 million miles"}
}

// Sub returns l-m. A difference outside the range of Length gives a
// *[RangeError].
func (l Length) Sub(m Length) (Length, error) {
	if d, ok := sub(int64(l), int64(m)); ok {
		return Length(d), nil
	}
	return 0, &RangeError{Op: "Length.Sub", Value: l.String() + ", " + m.String(), Reason: "the difference is beyond 70 million miles"}
}

// Mul returns n times l. A product outside the range of Length gives a
// *[RangeError].
func (l Length) Mul(n int64) (Length, error) {
	if p, _, ok := mulDiv(int64(l), n, 1, RoundDown); ok {
		return Length(p), nil
	}
	return 0, &RangeError{Op: "Length.Mul", Value: l.String() + ", " + strconv.FormatInt(n, 10), Reason: "the product is beyond 70 million miles"}
}

// MulDiv returns l*num/den, rounded to a tick by mode, and whether that is
// exact. The product is formed in 128 bits, so only the result has to be
// within the range. A den of zero, and a result outside the range of Length,
// give a *[RangeError].
func (l Length) MulDiv(num, den int64, mode Rounding) (q Length, exact bool, err error) {
	v, exact, ok := mulDiv(int64(l), num, den, mode)
	if ok {
		return Length(v), exact, nil
	}
	reason := "the quotient is beyond 70 million miles"
	if den == 0 {
		reason = "the divisor is zero"
	}
	return 0, false, &RangeError{Op: "Length.MulDiv", Reason: reason,
		Value: l.String() + ", " + strconv.FormatInt(num, 10) + ", " + strconv.FormatInt(den, 10)}
}

// Div returns the number of times that m goes into l, and the remainder: l is n*m +
// rem, and rem has the sign of l and is shorter than m. n is how many pieces a
// stick yields, ignoring the kerf. An m of zero gives a *[RangeError], and so does
// the one quotient that does not fit an int64, [math.MinInt64] by minus one tick.
func (l Length) Div(m Length) (n int64, rem Length, err error) {
	if m == 0 {
		return 0, 0, &RangeError{Op: "Length.Div", Value: l.String() + ", " + m.String(), Reason: "the divisor is zero"}
	}
	if l == math.MinInt64 && m == -1 {
		return 0, 0, &RangeError{Op: "Length.Div", Value: l.String() + ", " + m.String(), Reason: "the quotient is above the range of int64"}
	}
	return int64(l / m), l % m, nil
}

// Fraction returns l:m in lowest terms, with den above zero, for [Length.MulDiv]:
// the factor that scales one length to another scales a third one exactly. An m of
// zero gives a *[RangeError], and so does a term that does not fit an int64, which
// happens only with [math.MinInt64].
func (l Length) Fraction(m Length) (num, den int64, err error) {
	fail := func(reason string) (int64, int64, error) {
		return 0, 0, &RangeError{Op: "Length.Fraction", Value: l.String() + ", " + m.String(), Reason: reason}
	}
	if m == 0 {
		return fail("the divisor is zero")
	}
	x, xn := magnitude(int64(l))
	y, yn := magnitude(int64(m))
	g := gcd(x, y)
	num, ok := signed(x/g, xn != yn)
	den, fits := signed(y/g, false)
	if !ok || !fits {
		return fail("a term of the ratio is beyond the range of int64")
	}
	return num, den, nil
}

// gcd returns the greatest common divisor of a and b, not both zero.
func gcd(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Sum returns the sum of ls, zero for none. Only the sum itself has to be
// within the range of Length, so the order of ls does not matter; a sum outside
// it gives a *[RangeError].
func Sum(ls ...Length) (Length, error) {
	// A 128-bit two's-complement accumulator: fewer than 2^63 terms cannot
	// leave it, and no slice is that long.
	var hi int64
	var lo uint64
	for _, l := range ls {
		var carry uint64
		lo, carry = bits.Add64(lo, uint64(l), 0)
		hi += int64(l)>>63 + int64(carry)
	}
	if s := int64(lo); hi == s>>63 {
		return Length(s), nil
	}
	return 0, &RangeError{Op: "Sum", Value: strconv.Itoa(len(ls)) + " lengths", Reason: "the sum is beyond 70 million miles"}
}

// Abs returns the magnitude of l. Only [math.MinInt64] has none; it gives a
// *[RangeError].
func (l Length) Abs() (Length, error) {
	if l == math.MinInt64 {
		return 0, &RangeError{Op: "Length.Abs", Value: l.String(), Reason: "the magnitude is one tick above the range"}
	}
	return max(l, -l), nil
}

// The rest of this file is the integer arithmetic that all quantities share.

func add(a, b int64) (int64, bool) {
	s := a + b
	return s, (a^s)&(b^s) >= 0 // overflow: both operands differ in sign from the sum
}

func sub(a, b int64) (int64, bool) {
	d := a - b
	return d, (a^b)&(a^d) >= 0
}

// mulDiv returns a*b/den rounded by mode; exact reports that nothing was
// rounded, ok that den is not zero and the result fits.
func mulDiv(a, b, den int64, mode Rounding) (q int64, exact, ok bool) {
	x, xn := magnitude(a)
	y, yn := magnitude(b)
	d, dn := magnitude(den)
	neg := xn != yn != dn
	hi, lo := bits.Mul64(x, y)
	if hi >= d { // the quotient has more than 64 bits; also den == 0
		return 0, false, false
	}
	u, r := bits.Div64(hi, lo, d)
	exact = r == 0
	if !exact && awayFromZero(mode, neg, u&1 == 1, compareUint(r, d-r)) {
		if u == math.MaxUint64 {
			return 0, false, false
		}
		u++
	}
	q, ok = signed(u, neg)
	return q, exact && ok, ok
}

// magnitude splits v into magnitude and sign.
func magnitude(v int64) (mag uint64, neg bool) {
	if v < 0 {
		return -uint64(v), true
	}
	return uint64(v), false
}

// limit returns the largest magnitude of an int64 with the given sign.
func limit(neg bool) uint64 {
	if neg {
		return 1 << 63
	}
	return 1<<63 - 1
}

// signed is the inverse of magnitude; ok reports whether the value fits an int64.
func signed(mag uint64, neg bool) (v int64, ok bool) {
	if mag > limit(neg) {
		return 0, false
	}
	if neg {
		return int64(-mag), true
	}
	return int64(mag), true
}

// scaleFloat returns the integer nearest to x*unit as magnitude and sign, ties
// to even, computed exactly from the bits of x so that the result is the same
// on every processor. ok is false when x is not finite or the result has more
// than 64 bits. unit must be below 2^64/2^11.
func scaleFloat(x float64, unit uint64) (mag uint64, neg, ok bool) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, false, false
	}
	frac, exp := math.Frexp(math.Abs(x))
	m := uint64(math.Ldexp(frac, 53)) // |x| == m * 2^(exp-53)
	exp -= 53
	hi, lo := bits.Mul64(m, unit)
	neg = math.Signbit(x)
	if exp >= 0 {
		if hi != 0 || bits.LeadingZeros64(lo) < exp {
			return 0, neg, lo == 0 && hi == 0
		}
		return lo << exp, neg, true
	}
	shift := uint(-exp)
	if shift >= 128 {
		return 0, neg, true
	}
	half, rest := shift-1, false
	up := bit(hi, lo, half)
	rest = anyBelow(hi, lo, half)
	if shift >= 64 {
		mag = hi >> (shift - 64)
	} else {
		if hi>>shift != 0 {
			return 0, neg, false
		}
		mag = hi<<(64-shift) | lo>>shift
	}
	if up && (rest || mag&1 == 1) {
		mag++
		if mag == 0 {
			return 0, neg, false
		}
	}
	return mag, neg, true
}

// bit reports bit n of hi:lo.
func bit(hi, lo uint64, n uint) bool {
	if n >= 64 {
		return hi>>(n-64)&1 == 1
	}
	return lo>>n&1 == 1
}

// anyBelow reports whether hi:lo has a bit set below bit n.
func anyBelow(hi, lo uint64, n uint) bool {
	if n > 64 {
		return lo != 0 || hi&(1<<(n-64)-1) != 0
	}
	if n == 64 {
		return lo != 0
	}
	return lo&(1<<n-1) != 0
}

func formatFloat(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// notFinite describes a float64 that is not finite or does not fit the quantity.
func notFinite(x float64, what string) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return what + " must be a finite number"
	}
	return "beyond the range of " + what
}
