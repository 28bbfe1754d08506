package measure

import (
	"slices"
	"strconv"
)

// Rounding selects one of the two graduations around a value that lies between
// them.
type Rounding uint8

const (
	// RoundHalfEven goes to the nearer graduation and, exactly midway, to the one
	// that is an even multiple: the odd-and-even rule of NIST Handbook 44,
	// section 10.3, for reading a tape. It is the zero value.
	RoundHalfEven Rounding = iota

	// RoundDown goes to the smaller value (toward minus infinity): a piece that must
	// fit between two fixed faces.
	RoundDown

	// RoundUp goes to the larger value (toward plus infinity): a quantity to buy.
	RoundUp

	// RoundHalfUp goes to the nearer graduation and, exactly midway, to the larger
	// value.
	RoundHalfUp
)

var roundingNames = [...]string{RoundHalfEven: "half-even", RoundDown: "down", RoundUp: "up", RoundHalfUp: "half-up"}

// String returns "half-even", "down", "up" or "half-up".
func (m Rounding) String() string {
	if int(m) < len(roundingNames) {
		return roundingNames[m]
	}
	return "Rounding(" + strconv.Itoa(int(m)) + ")"
}

// MarshalText writes what String returns; an unknown mode is a [*FieldError].
func (m Rounding) MarshalText() ([]byte, error) {
	if int(m) < len(roundingNames) {
		return []byte(roundingNames[m]), nil
	}
	return nil, &FieldError{Value: m.String(), Want: wantRounding}
}

// UnmarshalText reads what MarshalText writes; any other text is a [*FieldError].
func (m *Rounding) UnmarshalText(b []byte) error {
	i := slices.Index(roundingNames[:], string(b))
	if i < 0 {
		return &FieldError{Value: string(b), Want: wantRounding}
	}
	*m = Rounding(i)
	return nil
}

const wantRounding = "half-even, down, up or half-up"

// Round returns the multiple of graduation that mode chooses for l. If that
// multiple is outside the range of Length, Round returns the last one within the
// range. With a graduation of zero or less, l is returned unchanged. A mode that
// is not one of the constants acts as [RoundHalfEven].
//
//	l.Round(measure.Inch/16, measure.RoundHalfEven) // to a sixteenth, as on a tape
func (l Length) Round(graduation Length, mode Rounding) Length {
	return Length(roundTo(int64(l), int64(graduation), mode))
}

// roundTo rounds v to a multiple of graduation.
func roundTo(v, graduation int64, mode Rounding) int64 {
	if graduation <= 0 {
		return v
	}
	mag, neg := magnitude(v)
	mag, _ = roundMagnitude(mag, 0, 1, uint64(graduation), neg, mode)
	r, _ := signed(mag, neg)
	return r
}

// roundMagnitude rounds ±(mag + rem/den), rem < den, to a multiple of graduation.
// If mode selects a multiple outside the range of int64, it returns the last one
// within the range and reports false.
func roundMagnitude(mag, rem, den, graduation uint64, neg bool, mode Rounding) (uint64, bool) {
	q, r := mag/graduation, mag%graduation
	if r == 0 && rem == 0 {
		return mag, true
	}
	base := mag - r
	if !awayFromZero(mode, neg, q&1 == 1, compareHalf(r, rem, den, graduation)) {
		return base, true
	}
	if base+graduation > limit(neg) { // both are at most 2^63
		return base, false
	}
	return base + graduation, true
}

// compareHalf compares r + rem/den with graduation/2, where r < graduation and rem < den.
func compareHalf(r, rem, den, graduation uint64) int {
	switch gap := graduation - r; {
	case r > gap || r == gap && rem != 0:
		return 1
	case r == gap:
		return 0
	case gap-r > 1:
		return -1
	}
	// 2r + 1 == graduation: it remains to compare rem/den with 1/2.
	return compareUint(rem, den-rem)
}

func compareUint(a, b uint64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// awayFromZero reports whether a magnitude that is not a multiple goes to the
// multiple above it. half is the sign of (remainder - half a step); odd reports
// that the multiple below is odd.
func awayFromZero(mode Rounding, neg, odd bool, half int) bool {
	switch mode {
	case RoundDown:
		return neg
	case RoundUp:
		return !neg
	case RoundHalfUp:
		return half > 0 || half == 0 && !neg
	}
	return half > 0 || half == 0 && odd
}
