package measure

import "strconv"

// Volume is a signed volume, an exact count of 1/131,096,512,000 cubic inch.
// The range is about ±300,000 gallons (±1,150 cubic meters).
//
// A gallon is 231 cubic inches exactly (definition; a quart is a fourth and a
// fluid ounce 1/128 of it), and a cubic inch is 16.387064 mL exactly. Every
// 0.001 gallon, quart, cubic inch and milliliter and every 0.01 fluid ounce is
// a whole number of units.
//
// The zero value is no volume. Volumes compare with ==, < and >. The operators +, -
// and * do not check for overflow; [Volume.Add], [Volume.Sub] and [Volume.Mul] do.
type Volume int64

// Volumes to multiply by. Gallon, Quart, Pint and FluidOunce are the US liquid
// measures; BoardFoot is 1 in by 12 in by 12 in.
const (
	CubicInch  Volume = 512 * 127 * 127 * 127 * 125
	CubicFoot  Volume = 1728 * CubicInch
	BoardFoot  Volume = 144 * CubicInch
	Gallon     Volume = 231 * CubicInch
	Quart      Volume = Gallon / 4
	Pint       Volume = Gallon / 8
	FluidOunce Volume = Gallon / 128
	Milliliter Volume = 8_000_000_000 // CubicInch / 16.387064
	Liter      Volume = 1000 * Milliliter
)

// CubicInches returns v in cubic inches as the nearest float64, for display.
func (v Volume) CubicInches() float64 { return float64(v) / float64(CubicInch) }

// Gallons returns v in US gallons as the nearest float64, for display.
func (v Volume) Gallons() float64 { return float64(v) / float64(Gallon) }

// FluidOunces returns v in US fluid ounces as the nearest float64, for display.
func (v Volume) FluidOunces() float64 { return float64(v) / float64(FluidOunce) }

// Milliliters returns v in milliliters as the nearest float64, for display.
func (v Volume) Milliliters() float64 { return float64(v) / float64(Milliliter) }

// BoardFeet returns v in board feet as the nearest float64, for display. A
// board foot is counted on nominal sizes.
func (v Volume) BoardFeet() float64 { return float64(v) / float64(BoardFoot) }

const volumeRange = "the volume is more than 300,000 gallons"

// Add returns v+w. A sum outside the range of Volume gives a *[RangeError].
func (v Volume) Add(w Volume) (Volume, error) {
	if s, ok := add(int64(v), int64(w)); ok {
		return Volume(s), nil
	}
	return 0, &RangeError{Op: "Volume.Add", Value: v.String() + ", " + w.String(), Reason: volumeRange}
}

// Sub returns v-w. A difference outside the range of Volume gives a
// *[RangeError].
func (v Volume) Sub(w Volume) (Volume, error) {
	if d, ok := sub(int64(v), int64(w)); ok {
		return Volume(d), nil
	}
	return 0, &RangeError{Op: "Volume.Sub", Value: v.String() + ", " + w.String(), Reason: volumeRange}
}

// Mul returns n times v. A product outside the range of Volume gives a
// *[RangeError].
func (v Volume) Mul(n int64) (Volume, error) {
	if p, _, ok := mulDiv(int64(v), n, 1, RoundDown); ok {
		return Volume(p), nil
	}
	return 0, &RangeError{Op: "Volume.Mul", Value: v.String() + ", " + strconv.FormatInt(n, 10), Reason: volumeRange}
}

// MulDiv returns v*num/den, rounded by mode, and whether that is exact; see
// [Length.MulDiv].
func (v Volume) MulDiv(num, den int64, mode Rounding) (q Volume, exact bool, err error) {
	p, exact, ok := mulDiv(int64(v), num, den, mode)
	if ok {
		return Volume(p), exact, nil
	}
	reason := volumeRange
	if den == 0 {
		reason = "the divisor is zero"
	}
	return 0, false, &RangeError{Op: "Volume.MulDiv", Reason: reason,
		Value: v.String() + ", " + strconv.FormatInt(num, 10) + ", " + strconv.FormatInt(den, 10)}
}

// Round returns the multiple of step that mode chooses, by the rules of
// [Length.Round]: Quart and RoundUp for a quantity to buy.
func (v Volume) Round(step Volume, mode Rounding) Volume {
	return Volume(roundTo(int64(v), int64(step), mode))
}

// ParseVolume reads a volume: 3 gal, 1 qt, 1 gal 1 qt, 10.1 fl oz, 300 mL, 2 L,
// 7 1/2 cu in, 12 bd ft. Gallon, quart, pint and fluid ounce are the US liquid
// measures; a bare oz is rejected, since it may be a weight. The number follows
// the rules of [Parse], and so do the errors.
func ParseVolume(s string) (Volume, error) {
	var t text
	v, ok := read(&t, s, volumes, Parser{})
	if !ok {
		return 0, t.err(volumes, s, Parser{})
	}
	return Volume(v), nil
}

// String returns v in the form that [ParseVolume] reads back to the same value,
// in the unit that suits it: gal, qt, fl oz, cu in, L, or mL if the others do
// not terminate.
func (v Volume) String() string {
	var buf [48]byte
	return string(appendScaled(buf[:0], int64(v), volumeForms[:]))
}

// AppendText appends what String returns to b. It never fails.
func (v Volume) AppendText(b []byte) ([]byte, error) {
	return appendScaled(b, int64(v), volumeForms[:]), nil
}

// MarshalText returns what String returns. It never fails.
func (v Volume) MarshalText() ([]byte, error) {
	return v.AppendText(make([]byte, 0, 24))
}

// UnmarshalText reads what [ParseVolume] reads.
func (v *Volume) UnmarshalText(b []byte) error {
	var t text
	n, ok := read(&t, b, volumes, Parser{})
	if !ok {
		return t.err(volumes, string(b), Parser{})
	}
	*v = Volume(n)
	return nil
}

var volumeForms = [...]form{
	{" gal", uint64(Gallon), 3, false},
	{" qt", uint64(Quart), 0, false},
	{" fl oz", uint64(FluidOunce), 2, true},
	{" cu in", uint64(CubicInch), 6, true},
	{" L", uint64(Liter), 3, false},
	{" mL", uint64(Milliliter), 12, true}, // 8e9 is 2^12 * 5^9
}

// volumeUnit reads the unit of volume at i.
func (t *text) volumeUnit(i int) (unit, int) {
	if !isLetter(t.b[i]) {
		return unit{}, noUnit
	}
	const (
		liquid = 1
		metric = 2
		cubic  = 3
		lumber = 4
	)
	j := t.word(i)
	var u unit
	switch string(t.b[i:j]) {
	case "gal", "gals", "gallon", "gallons":
		u = unit{uint64(Gallon), liquid, 4}
	case "qt", "qts", "quart", "quarts":
		u = unit{uint64(Quart), liquid, 3}
	case "pt", "pts", "pint", "pints":
		u = unit{uint64(Pint), liquid, 2}
	case "floz":
		u = unit{uint64(FluidOunce), liquid, 1}
	case "l", "liter", "liters", "litre", "litres":
		u = unit{uint64(Liter), metric, 2}
	case "ml", "milliliter", "milliliters", "millilitre", "millilitres", "cc":
		u = unit{uint64(Milliliter), metric, 1}
	case "bf":
		u = unit{uint64(BoardFoot), lumber, 1}
	case "fl", "fluid":
		return t.secondWord(j, unit{uint64(FluidOunce), liquid, 1}, "oz", "ounce", "ounces")
	case "bd", "board":
		return t.secondWord(j, unit{uint64(BoardFoot), lumber, 1}, "ft", "foot", "feet")
	case "cu", "cubic":
		if u, k := t.secondWord(j, unit{uint64(CubicInch), cubic, 1}, "in", "inch", "inches"); k >= 0 {
			return u, k
		}
		return t.secondWord(j, unit{uint64(CubicFoot), cubic, 2}, "ft", "foot", "feet")
	case "in":
		if k := t.exponent(j, 3); k >= 0 {
			return unit{uint64(CubicInch), cubic, 1}, k
		}
		return unit{}, unknownUnit
	case "ft":
		if k := t.exponent(j, 3); k >= 0 {
			return unit{uint64(CubicFoot), cubic, 2}, k
		}
		return unit{}, unknownUnit
	default:
		return unit{}, unknownUnit
	}
	return u, t.abbreviation(j)
}

// secondWord reads the second word of a unit after the first, which ends at i.
func (t *text) secondWord(i int, u unit, words ...string) (unit, int) {
	i = t.spaces(t.abbreviation(i))
	j := t.word(i)
	for _, w := range words {
		if w == string(t.b[i:j]) {
			return u, t.abbreviation(j)
		}
	}
	return unit{}, unknownUnit
}
