package measure

import "strconv"

// Area is a signed area, an exact count of 1/33,032,192,000 square inch. The
// range is about ±1.9 million square feet (±180,000 square meters).
//
// Every 0.001 square inch, square foot and square millimeter is a whole number
// of them, and so is every product of two multiples of 1/128 inch. A square
// inch is 645.16 mm² exactly.
//
// The zero value is no area. Areas compare with ==, < and >. The operators +,
// - and * do not check for overflow; [Area.Add], [Area.Sub] and
// [Area.Mul] do.
type Area int64

// Areas to multiply by.
const (
	SquareInch       Area = 128 * 128 * 127 * 127 * 125
	SquareFoot       Area = 144 * SquareInch
	SquareYard       Area = 9 * SquareFoot
	SquareMillimeter Area = 51_200_000 // SquareInch / 645.16
	SquareMeter      Area = 1_000_000 * SquareMillimeter
)

// SquareFeet returns a in square feet as the nearest float64, for display.
func (a Area) SquareFeet() float64 { return float64(a) / float64(SquareFoot) }

// SquareInches returns a in square inches as the nearest float64, for display.
func (a Area) SquareInches() float64 { return float64(a) / float64(SquareInch) }

// SquareMeters returns a in square meters as the nearest float64, for display.
func (a Area) SquareMeters() float64 { return float64(a) / float64(SquareMeter) }

// Add returns a+c. A sum outside the range of Area gives a *[RangeError].
func (a Area) Add(c Area) (Area, error) {
	if s, ok := add(int64(a), int64(c)); ok {
		return Area(s), nil
	}
	return 0, &RangeError{Op: "Area.Add", Value: a.String() + ", " + c.String(), Reason: areaRange}
}

// Sub returns a-c. A difference outside the range of Area gives a *[RangeError].
func (a Area) Sub(c Area) (Area, error) {
	if d, ok := sub(int64(a), int64(c)); ok {
		return Area(d), nil
	}
	return 0, &RangeError{Op: "Area.Sub", Value: a.String() + ", " + c.String(), Reason: areaRange}
}

// Mul returns n times a. A product outside the range of Area gives a
// *[RangeError].
func (a Area) Mul(n int64) (Area, error) {
	if p, _, ok := mulDiv(int64(a), n, 1, RoundDown); ok {
		return Area(p), nil
	}
	return 0, &RangeError{Op: "Area.Mul", Value: a.String() + ", " + strconv.FormatInt(n, 10), Reason: areaRange}
}

const areaRange = "the area is more than 1.9 million square feet"

// MulDiv returns a*num/den, rounded by mode, and whether that is exact; see
// [Length.MulDiv].
func (a Area) MulDiv(num, den int64, mode Rounding) (q Area, exact bool, err error) {
	v, exact, ok := mulDiv(int64(a), num, den, mode)
	if ok {
		return Area(v), exact, nil
	}
	reason := areaRange
	if den == 0 {
		reason = "the divisor is zero"
	}
	return 0, false, &RangeError{Op: "Area.MulDiv", Reason: reason,
		Value: a.String() + ", " + strconv.FormatInt(num, 10) + ", " + strconv.FormatInt(den, 10)}
}

// Round returns the multiple of step that mode chooses, by the rules of
// [Length.Round].
func (a Area) Round(step Area, mode Rounding) Area {
	return Area(roundTo(int64(a), int64(step), mode))
}

// Volume returns the volume of a prism of base a and height l, rounded to the
// unit of [Volume] by mode. It is within one unit, 8e-12 cubic inch. A volume
// outside the range of Volume gives a *[RangeError].
func (a Area) Volume(l Length, mode Rounding) (Volume, error) {
	// In cubic inches this is a/(128²*127²*125) * l/(128*127*125), and a cubic
	// inch is 512*127³*125 units of Volume.
	q, _, ok := mulDiv(int64(a), int64(l), 4096*125, mode)
	if !ok {
		return 0, &RangeError{Op: "Area.Volume", Value: a.String() + " by " + l.String(), Reason: volumeRange}
	}
	return Volume(q), nil
}

// ParseArea reads an area: 12.5 sq ft, 12 1/2 ft², 48 square inches, 2.5 sq m,
// 600 mm2. The words sq and square, the exponent 2 and the raised ² are all
// understood; so are sf and sqft. The number follows the rules of [Parse], and
// so do the errors.
func ParseArea(s string) (Area, error) {
	var t text
	v, ok := read(&t, s, areas, Parser{})
	if !ok {
		return 0, t.err(areas, s, Parser{})
	}
	return Area(v), nil
}

// String returns a in the form that [ParseArea] reads back to the same value,
// in the unit that suits its size: sq ft, sq in, sq m, or sq mm if the others
// do not terminate.
func (a Area) String() string {
	var buf [48]byte
	return string(appendScaled(buf[:0], int64(a), areaForms[:]))
}

// AppendText appends what String returns to b. It never fails.
func (a Area) AppendText(b []byte) ([]byte, error) {
	return appendScaled(b, int64(a), areaForms[:]), nil
}

// MarshalText returns what String returns. It never fails.
func (a Area) MarshalText() ([]byte, error) {
	return a.AppendText(make([]byte, 0, 24))
}

// UnmarshalText reads what [ParseArea] reads.
func (a *Area) UnmarshalText(b []byte) error {
	var t text
	v, ok := read(&t, b, areas, Parser{})
	if !ok {
		return t.err(areas, string(b), Parser{})
	}
	*a = Area(v)
	return nil
}

var areaForms = [...]form{
	{" sq ft", uint64(SquareFoot), 3, false},
	{" sq in", uint64(SquareInch), 6, true},
	{" sq m", uint64(SquareMeter), 3, false},
	{" sq mm", uint64(SquareMillimeter), 14, true}, // 51,200,000 is 2^14 * 5^5
}

// areaUnit reads the unit of area at i.
func (t *text) areaUnit(i int) (unit, int) {
	if !isLetter(t.b[i]) {
		return unit{}, noUnit
	}
	const (
		imperial = 1
		metric   = 2
	)
	j := t.word(i)
	w := string(t.b[i:j])
	square := false
	switch w {
	case "sf", "sqft":
		return unit{uint64(SquareFoot), imperial, 2}, t.abbreviation(j)
	case "sqin":
		return unit{uint64(SquareInch), imperial, 1}, t.abbreviation(j)
	case "sq", "square":
		square = true
		i = t.spaces(t.abbreviation(j))
		j = t.word(i)
		w = string(t.b[i:j])
	}
	var u unit
	switch w {
	case "in", "inch", "inches":
		u = unit{uint64(SquareInch), imperial, 1}
	case "ft", "foot", "feet":
		u = unit{uint64(SquareFoot), imperial, 2}
	case "yd", "yds", "yard", "yards":
		u = unit{uint64(SquareYard), imperial, 3}
	case "mm", "millimeter", "millimeters", "millimetre", "millimetres":
		u = unit{uint64(SquareMillimeter), metric, 1}
	case "cm", "centimeter", "centimeters", "centimetre", "centimetres":
		u = unit{100 * uint64(SquareMillimeter), metric, 2}
	case "m", "meter", "meters", "metre", "metres":
		u = unit{uint64(SquareMeter), metric, 3}
	default:
		return unit{}, unknownUnit
	}
	if !square {
		if j = t.exponent(j, 2); j < 0 {
			return unit{}, unknownUnit // a unit of length
		}
		return u, j
	}
	return u, t.abbreviation(j)
}

// exponent reads n at i, raised or not; it returns -1 if n is not there.
func (t *text) exponent(i int, n byte) int {
	if t.b[i] == '^' {
		i++
	}
	if c := t.b[i]; (c == '0'+n || c == foldRaised+n) && !isDigit(t.b[i+1]) {
		return i + 1
	}
	return -1
}
