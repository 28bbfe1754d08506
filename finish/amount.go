package finish

import (
	"math/big"
	"strings"

	"example.com/longpoint/measure"
)

// Dimension is the kind of an [Amount].
type Dimension uint8

const (
	ByCount  Dimension = iota // nails, sheets, rolls
	ByLength                  // tape, backer rod
	ByArea                    // a surface to cover
	ByVolume                  // caulk, paint
	ByWeight                  // mortar, grout, nails by the pound
)

var dimensionNames = [...]string{"count", "length", "area", "volume", "weight"}

func (d Dimension) String() string {
	if int(d) < len(dimensionNames) {
		return dimensionNames[d]
	}
	return "unknown dimension"
}

// Amount is a quantity of one kind: so many pieces, feet, square feet, gallons
// or pounds. It is a comparable value that holds a whole number of the small
// unit of its dimension: a tick of [measure.Length], the units of
// [measure.Area], [measure.Volume] and [Weight], or a millionth of a piece.
// The zero Amount is no pieces.
type Amount struct {
	dim Dimension
	n   int64
}

const millionthsPerPiece = 1_000_000

// Count returns n pieces. A count beyond the range, nine trillion, saturates.
func Count(n int64) Amount {
	m, ok := quotient(down, []int64{max(n, -n), millionthsPerPiece}, nil)
	if !ok {
		m = int64(^uint64(0) >> 1)
	}
	if n < 0 {
		m = -m
	}
	return Amount{ByCount, m}
}

// OfLength returns l as an Amount.
func OfLength(l measure.Length) Amount { return Amount{ByLength, int64(l)} }

// OfArea returns a as an Amount.
func OfArea(a measure.Area) Amount { return Amount{ByArea, int64(a)} }

// OfVolume returns v as an Amount.
func OfVolume(v measure.Volume) Amount { return Amount{ByVolume, int64(v)} }

// OfWeight returns w as an Amount.
func OfWeight(w Weight) Amount { return Amount{ByWeight, int64(w)} }

// Dimension returns the kind of a.
func (a Amount) Dimension() Dimension { return a.dim }

// IsZero reports whether a is nothing, of any kind.
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
	if a.dim != ByCount {
		return 0, false
	}
	n = a.n / millionthsPerPiece
	if a.n%millionthsPerPiece > 0 {
		n++
	}
	return n, true
}

// Length returns the amount as a length; ok is false for any other kind.
func (a Amount) Length() (l measure.Length, ok bool) { return measure.Length(a.n), a.dim == ByLength }

// Area returns the amount as an area; ok is false for any other kind.
func (a Amount) Area() (s measure.Area, ok bool) { return measure.Area(a.n), a.dim == ByArea }

// Volume returns the amount as a volume; ok is false for any other kind.
func (a Amount) Volume() (v measure.Volume, ok bool) { return measure.Volume(a.n), a.dim == ByVolume }

// Weight returns the amount as a weight; ok is false for any other kind.
func (a Amount) Weight() (w Weight, ok bool) { return Weight(a.n), a.dim == ByWeight }

// Cmp compares two amounts of the same kind; ok is false when they are not.
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

// Add returns a+b. Two kinds are a [*DimensionError] unless one of them is
// zero, a sum beyond the range an [*OverflowError].
func (a Amount) Add(b Amount) (Amount, error) {
	switch {
	case b.n == 0:
		return a, nil
	case a.n == 0:
		return b, nil
	case a.dim != b.dim:
		return Amount{}, &DimensionError{Field: "amount", Value: b, Want: a.dim}
	}
	sum := a.n + b.n
	if (sum > a.n) != (b.n > 0) {
		return Amount{}, &OverflowError{What: "the sum of " + a.String() + " and " + b.String()}
	}
	return Amount{a.dim, sum}, nil
}

// unit is one name under which amounts are written and read.
type unit struct {
	name string
	dim  Dimension
	num  int64 // size in small units
	den  int64 // where one such unit is not a whole number of them
}

// units lists first, for each kind, the name that is written, in the order in
// which they are tried; what follows is only read.
var units = [...]unit{
	{"ct", ByCount, millionthsPerPiece, 1},
	{"ft", ByLength, int64(measure.Foot), 1},
	{"in", ByLength, int64(measure.Inch), 1},
	{"m", ByLength, int64(measure.Meter), 1},
	{"mm", ByLength, int64(measure.Millimeter), 1},
	{"ft2", ByArea, int64(measure.SquareFoot), 1},
	{"in2", ByArea, int64(measure.SquareInch), 1},
	{"m2", ByArea, int64(measure.SquareMeter), 1},
	{"mm2", ByArea, int64(measure.SquareMillimeter), 1},
	{"gal", ByVolume, int64(measure.Gallon), 1},
	{"qt", ByVolume, int64(measure.Quart), 1},
	{"fl oz", ByVolume, int64(measure.FluidOunce), 1},
	{"in3", ByVolume, int64(measure.CubicInch), 1},
	{"L", ByVolume, int64(measure.Liter), 1},
	{"mL", ByVolume, int64(measure.Milliliter), 1},
	{"lb", ByWeight, int64(Pound), 1},
	{"oz", ByWeight, int64(Ounce), 1},
	{"kg", ByWeight, int64(Kilogram), 1},
	{"g", ByWeight, int64(Gram), 1},
}

var readUnits = [...]unit{
	{"", ByCount, millionthsPerPiece, 1},
	{"each", ByCount, millionthsPerPiece, 1},
	{"pc", ByCount, millionthsPerPiece, 1},
	{"pcs", ByCount, millionthsPerPiece, 1},
	{"piece", ByCount, millionthsPerPiece, 1},
	{"pieces", ByCount, millionthsPerPiece, 1},
	{"sheet", ByCount, millionthsPerPiece, 1},
	{"sheets", ByCount, millionthsPerPiece, 1},
	{"'", ByLength, int64(measure.Foot), 1},
	{`"`, ByLength, int64(measure.Inch), 1},
	{"yd", ByLength, int64(measure.Yard), 1},
	{"cm", ByLength, int64(measure.Centimeter), 1},
	{"sq ft", ByArea, int64(measure.SquareFoot), 1},
	{"ft²", ByArea, int64(measure.SquareFoot), 1},
	{"sq in", ByArea, int64(measure.SquareInch), 1},
	{"in²", ByArea, int64(measure.SquareInch), 1},
	{"m²", ByArea, int64(measure.SquareMeter), 1},
	{"pt", ByVolume, int64(measure.Quart), 2},
	{"in³", ByVolume, int64(measure.CubicInch), 1},
	{"ft3", ByVolume, int64(1728 * measure.CubicInch), 1},
	{"ft³", ByVolume, int64(1728 * measure.CubicInch), 1},
	{"l", ByVolume, int64(measure.Liter), 1},
	{"ml", ByVolume, int64(measure.Milliliter), 1},
	{"lbs", ByWeight, int64(Pound), 1},
	{"floz", ByVolume, int64(measure.FluidOunce), 1},
}

// ParseAmount reads a number and a unit: "10.1 fl oz", "300 mL", "1 gal",
// "50 lb", "25 kg", "60 yd", "400 ft2", "1000 ct". The number is decimal, a
// fraction or a mixed number ("2 1/2 gal"); a number alone is a count. "oz" is
// the ounce of weight, "fl oz" the US fluid ounce. What is not a whole number
// of the small unit is rounded down to it.
func ParseAmount(s string) (Amount, error) {
	text := strings.TrimSpace(s)
	i := len(text)
	for j, c := range text {
		if !(c >= '0' && c <= '9' || strings.ContainsRune("./-+ ", c)) {
			i = j
			break
		}
	}
	name := strings.TrimSpace(text[i:])
	r, ok := parseNumber(strings.TrimSpace(text[:i]))
	if !ok {
		return Amount{}, bad("amount", s, `must be a number and a unit, such as "300 mL"`)
	}
	for _, list := range [2][]unit{units[:], readUnits[:]} {
		for _, u := range list {
			if u.name != name {
				continue
			}
			r.Mul(r, big.NewRat(u.num, u.den))
			neg := r.Sign() < 0
			n, ok := roundRat(down, new(big.Int).Abs(r.Num()), r.Denom())
			if !ok {
				return Amount{}, bad("amount", s, "must be smaller: it does not fit")
			}
			if neg {
				n = -n
			}
			return Amount{u.dim, n}, nil
		}
	}
	return Amount{}, bad("amount", s, "must end in a known unit: ct, in, ft, yd, mm, m, in2, ft2, m2, fl oz, pt, qt, gal, mL, L, in3, oz, lb, g or kg")
}

// MustParseAmount is ParseAmount for constants; it panics on bad text.
func MustParseAmount(s string) Amount {
	a, err := ParseAmount(s)
	if err != nil {
		panic(err)
	}
	return a
}

// parseNumber reads a decimal, a fraction or a mixed number without exponent.
func parseNumber(s string) (*big.Rat, bool) {
	if len(s) == 0 || len(s) > 40 {
		return nil, false
	}
	neg := false
	if s[0] == '-' || s[0] == '+' {
		neg, s = s[0] == '-', strings.TrimSpace(s[1:])
	}
	whole, frac, mixed := strings.Cut(s, " ")
	if !mixed {
		whole, frac, mixed = strings.Cut(s, "-")
	}
	if !mixed && strings.Contains(s, "/") {
		whole, frac, mixed = "0", s, true
	}
	for _, c := range whole + frac {
		if !(c >= '0' && c <= '9' || c == '.' || c == '/') {
			return nil, false
		}
	}
	r, ok := new(big.Rat).SetString(whole)
	if !ok || strings.Contains(whole, "/") {
		return nil, false
	}
	if mixed {
		f, ok := new(big.Rat).SetString(strings.TrimSpace(frac))
		if !ok || !strings.Contains(frac, "/") || strings.Contains(frac+whole, ".") {
			return nil, false
		}
		r.Add(r, f)
	}
	if neg {
		r.Neg(r)
	}
	return r, true
}

// String returns the amount for reading, in the unit a person would use,
// rounded to three decimals where it is not short.
func (a Amount) String() string {
	if s, ok := a.short(3); ok {
		return s
	}
	n, sign := a.n, ""
	if n < 0 {
		sign, n = "-", max(-n, ^n)
	}
	last := unit{}
	for _, u := range units {
		if u.dim != a.dim {
			continue
		}
		last = u
		if n >= u.num/2 && u.name != "qt" {
			break
		}
	}
	if last.num == 0 {
		return "unknown amount"
	}
	places := 2
	if n < last.num {
		places = 4
	}
	return sign + fixed(n, last.num, places) + " " + last.name
}

// short writes a when one of its units does so exactly within places decimals.
func (a Amount) short(places int) (string, bool) {
	scale := big.NewInt(1)
	for range places {
		scale.Mul(scale, big.NewInt(10))
	}
	var n, q, r big.Int
	for _, u := range units {
		if u.dim != a.dim {
			continue
		}
		n.Mul(n.SetInt64(a.n), scale)
		n.Abs(&n)
		if q.QuoRem(&n, big.NewInt(u.num), &r); r.Sign() != 0 {
			continue
		}
		s := decimalBig(&q, places) + " " + u.name
		if a.n < 0 {
			s = "-" + s
		}
		return s, true
	}
	return "", false
}

// decimalBig writes q / 10^places without trailing zeros.
func decimalBig(q *big.Int, places int) string {
	s := q.String()
	for len(s) <= places {
		s = "0" + s
	}
	whole, frac := s[:len(s)-places], strings.TrimRight(s[len(s)-places:], "0")
	if frac == "" {
		return whole
	}
	return whole + "." + frac
}

// MarshalText writes the exact amount, which [ParseAmount] reads back.
func (a Amount) MarshalText() ([]byte, error) {
	for _, places := range [...]int{3, 6, 12, 18} {
		if s, ok := a.short(places); ok {
			return []byte(s), nil
		}
	}
	return nil, bad("amount", a.n, "must have a known dimension")
}

// UnmarshalText reads what [ParseAmount] reads.
func (a *Amount) UnmarshalText(b []byte) error {
	v, err := ParseAmount(string(b))
	if err == nil {
		*a = v
	}
	return err
}
