package finish

import (
	"math"

	"example.com/longpoint/measure"
)

// dimension is the kind of an [Amount].
type dimension uint8

const (
	byCount  dimension = iota // nails, sheets, rolls
	byLength                  // tape, backer rod
	byArea                    // a surface to cover
	byVolume                  // caulk, paint
	byWeight                  // mortar, grout, nails by the pound
)

// Amount is a quantity of one kind: pieces, feet, square feet, gallons or pounds.
// It is a comparable value that holds a whole number of the small unit of its
// dimension: a tick of [measure.Length], the units of [measure.Area],
// [measure.Volume] and [measure.Weight], or a millionth of a piece. The zero Amount
// is zero pieces.
type Amount struct {
	dim dimension
	n   int64
}

const millionthsPerPiece = 1_000_000

// Count returns n pieces. A count beyond the range, nine trillion, saturates.
func Count(n int64) Amount {
	const most = math.MaxInt64 / millionthsPerPiece
	return Amount{byCount, max(-most, min(n, most)) * millionthsPerPiece}
}

// AmountOf returns a length, an area, a volume or a weight as an Amount.
func AmountOf[Q measure.Length | measure.Area | measure.Volume | measure.Weight](q Q) Amount {
	switch any(q).(type) {
	case measure.Length:
		return Amount{byLength, int64(q)}
	case measure.Area:
		return Amount{byArea, int64(q)}
	case measure.Volume:
		return Amount{byVolume, int64(q)}
	}
	return Amount{byWeight, int64(q)}
}

// IsZero reports whether a is zero, of any kind.
func (a Amount) IsZero() bool { return a.n == 0 }

// Sign returns -1, 0 or 1.
func (a Amount) Sign() int {
	switch {
	case a.n < 0:
		return -1
	case a.n > 0:
		return 1
	}
	return 0
}

// Pieces returns the number of whole pieces that cover a counted amount; ok is
// false for any other kind.
func (a Amount) Pieces() (n int64, ok bool) {
	if a.dim != byCount {
		return 0, false
	}
	n = a.n / millionthsPerPiece
	if a.n%millionthsPerPiece > 0 {
		n++
	}
	return n, true
}

// Length returns the amount as a length; ok is false for any other kind.
func (a Amount) Length() (l measure.Length, ok bool) { return measure.Length(a.n), a.dim == byLength }

// Area returns the amount as an area; ok is false for any other kind.
func (a Amount) Area() (s measure.Area, ok bool) { return measure.Area(a.n), a.dim == byArea }

// Volume returns the amount as a volume; ok is false for any other kind.
func (a Amount) Volume() (v measure.Volume, ok bool) { return measure.Volume(a.n), a.dim == byVolume }

// Weight returns the amount as a weight; ok is false for any other kind.
func (a Amount) Weight() (w measure.Weight, ok bool) { return measure.Weight(a.n), a.dim == byWeight }

// Cmp compares two amounts; ok is false if they are not of the same kind.
func (a Amount) Cmp(b Amount) (c int, ok bool) {
	if a.dim != b.dim {
		return 0, false
	}
	switch {
	case a.n < b.n:
		return -1, true
	case a.n > b.n:
		return 1, true
	}
	return 0, true
}

// Add returns a+b. Amounts of two kinds give a [*measure.FieldError] unless one
// of them is zero, and a sum out of range a [*measure.RangeError].
func (a Amount) Add(b Amount) (Amount, error) {
	switch {
	case b.n == 0:
		return a, nil
	case a.n == 0:
		return b, nil
	case a.dim != b.dim:
		return Amount{}, wrongKind("amount", b, a.dim)
	}
	sum := a.n + b.n
	if (sum > a.n) != (b.n > 0) {
		return Amount{}, tooLarge("the sum of " + a.String() + " and " + b.String())
	}
	return Amount{a.dim, sum}, nil
}
