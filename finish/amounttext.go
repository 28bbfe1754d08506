package finish

import (
	"errors"
	"math/big"
	"math/bits"
	"slices"
	"strings"

	"example.com/longpoint/measure"
)

// unit is one name under which an amount is written.
type unit struct {
	name   string
	size   int64 // in small units
	metric bool  // written only where it is exact
}

// ends reports whether n, of either sign, is a whole number of thousandths of the unit.
func (u unit) ends(n int64) bool {
	if n < 0 {
		n = -n // the least int64 stays, and is right as a uint64
	}
	h, l := bits.Mul64(uint64(n), 1000)
	return bits.Rem64(h, l, uint64(u.size)) == 0
}

// append adds the unit's name to a number.
func (u unit) append(b []byte) []byte { return append(append(b, ' '), u.name...) }

// writeUnits lists for each kind the units to write in, biggest of each system
// first, customary before metric.
var writeUnits = [...][]unit{
	byCount:  {{"ct", millionthsPerPiece, false}},
	byLength: {{"ft", int64(measure.Foot), false}, {"in", int64(measure.Inch), false}, {"m", int64(measure.Meter), true}, {"mm", int64(measure.Millimeter), true}},
	byArea:   {{"sq ft", int64(measure.SquareFoot), false}, {"sq in", int64(measure.SquareInch), false}, {"sq m", int64(measure.SquareMeter), true}, {"sq mm", int64(measure.SquareMillimeter), true}},
	byVolume: {{"gal", int64(measure.Gallon), false}, {"qt", int64(measure.Quart), false}, {"fl oz", int64(measure.FluidOunce), false}, {"cu in", int64(measure.CubicInch), false}, {"L", int64(measure.Liter), true}, {"mL", int64(measure.Milliliter), true}},
	byWeight: {{"lb", int64(measure.Pound), false}, {"oz", int64(measure.Ounce), false}, {"kg", int64(measure.Kilogram), true}, {"g", int64(measure.Gram), true}},
}

// countUnits are the units of a count, which measure does not read.
var countUnits = [...]string{"", "ct", "each", "pc", "pcs", "piece", "pieces", "nail", "nails", "sheet", "sheets", "roll", "rolls"}

// ParseAmount reads a number and a unit: "10.1 fl oz", "300 mL", "1 gal",
// "50 lb", "25 kg", "60 yd", "400 sq ft", "1000 ct". Lengths, areas, volumes and
// weights follow [measure.Parse], [measure.ParseArea], [measure.ParseVolume] and
// [measure.ParseWeight]. The number of a count is decimal, a fraction or a mixed
// number; a number alone is a count. A bare "oz" is the ounce of weight; a fluid
// ounce is "fl oz". Text that is not a whole number of the small unit is refused.
// The error is a *[measure.ParseError].
func ParseAmount(s string) (Amount, error) {
	text := strings.TrimSpace(s)
	i := strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789./-+ ", c) })
	if i < 0 {
		i = len(text)
	}
	if slices.Contains(countUnits[:], strings.ToLower(strings.TrimSpace(text[i:]))) {
		r, ok := parseNumber(strings.TrimSpace(text[:i]))
		if !ok {
			return Amount{}, badAmount(s, measure.ErrSyntax, `write a number first, such as "12" or "2 1/2 sheets"`)
		}
		switch r.Mul(r, new(big.Rat).SetInt64(millionthsPerPiece)); {
		case !r.IsInt():
			return Amount{}, badAmount(s, measure.ErrInexact, "a count is a whole number of millionths of a piece")
		case !r.Num().IsInt64():
			return Amount{}, badAmount(s, measure.ErrRange, "a count is at most nine trillion")
		}
		return Amount{byCount, r.Num().Int64()}, nil
	}
	v, errV := measure.ParseVolume(s)
	if errV == nil {
		return AmountOf(v), nil
	}
	a, errA := measure.ParseArea(s)
	if errA == nil {
		return AmountOf(a), nil
	}
	l, errL := measure.Parse(s)
	if errL == nil {
		return AmountOf(l), nil
	}
	w, errW := measure.ParseWeight(strings.TrimSuffix(text, " wt"))
	if errW == nil {
		return AmountOf(w), nil
	}
	for _, err := range [...]error{errV, errA, errL, errW} {
		// What is read as one kind but does not fit it is explained by that kind.
		if p := (*measure.ParseError)(nil); errors.As(err, &p) && p.Err != measure.ErrSyntax && p.Err != measure.ErrUnit {
			e := *p
			e.Kind = "amount"
			return Amount{}, &e
		}
	}
	return Amount{}, badAmount(s, measure.ErrUnit, `write a number and a unit, such as "300 mL", "50 lb", "60 yd" or "1000 ct"`)
}

func badAmount(s string, err error, reason string) error {
	return &measure.ParseError{Kind: "amount", Input: s, Part: s, Err: err, Reason: reason}
}

// parseNumber reads a decimal, a fraction or a mixed number without exponent.
func parseNumber(s string) (*big.Rat, bool) {
	if s == "" || len(s) > 40 || strings.Trim(s, "0123456789./-+ ") != "" {
		return nil, false
	}
	neg := s[0] == '-'
	if neg || s[0] == '+' {
		s = strings.TrimSpace(s[1:])
	}
	r := new(big.Rat)
	if i := strings.IndexByte(s, '/'); i >= 0 {
		whole, frac := "0", s
		if k := strings.LastIndexAny(s[:i], " -"); k >= 0 {
			whole, frac = strings.TrimSpace(s[:k]), s[k+1:]
		}
		f, ok := new(big.Rat).SetString(frac)
		if !ok || strings.Contains(s, ".") || !isDigits(whole) {
			return nil, false
		}
		r.SetString(whole)
		r.Add(r, f)
	} else {
		before, after, dot := strings.Cut(s, ".")
		if !isDigits(before+after) || dot && after == "" {
			return nil, false
		}
		if _, ok := r.SetString(s); !ok {
			return nil, false
		}
	}
	if neg {
		r.Neg(r)
	}
	return r, true
}

func isDigits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// String returns the amount for reading, in the unit a person would use: as it
// is where one of the usual units writes it in three significant digits, else
// rounded in a customary unit. [Amount.MarshalText] is exact.
func (a Amount) String() string {
	if int(a.dim) >= len(writeUnits) {
		return "amount of unknown dimension"
	}
	n, sign := a.n, ""
	if n < 0 {
		n, sign = max(-n, ^n), "-"
	}
	list := writeUnits[a.dim]
	if n == 0 {
		return "0 " + list[0].name
	}
	b := append(make([]byte, 0, 32), sign...)
	for i, u := range list {
		if n >= u.size && (i == 0 || n/u.size < 1000) && u.ends(n) {
			if t := appendFixed(b, n, u.size, 3); significant(t[len(b):]) <= 3 {
				return string(u.append(t))
			}
		}
	}
	// Rounded: the biggest unit that leaves something before the point, except
	// that paint is spoken of in gallons and fluid ounces.
	for _, u := range list {
		if n >= u.size && !u.metric && u.name != "qt" {
			return string(u.append(appendFixed(b, n, u.size, 2)))
		}
	}
	small := list[0]
	switch a.dim {
	case byVolume:
		small = unit{"cu in", int64(measure.CubicInch), false}
	case byLength, byArea, byWeight:
		small = list[1]
	}
	return string(small.append(appendFixed(b, n, small.size, 6)))
}

// significant counts the digits of a decimal without the zeros at its ends.
func significant(s []byte) int {
	first, last, digits := -1, 0, 0
	for _, c := range s {
		if c == '.' {
			continue
		}
		if c != '0' {
			if first < 0 {
				first = digits
			}
			last = digits
		}
		digits++
	}
	if first < 0 {
		return 0
	}
	return last - first + 1
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// MarshalText writes the exact amount, which [ParseAmount] reads back.
func (a Amount) MarshalText() ([]byte, error) {
	switch a.dim {
	case byLength:
		return measure.Length(a.n).MarshalText()
	case byArea:
		return measure.Area(a.n).MarshalText()
	case byVolume:
		return measure.Volume(a.n).MarshalText()
	case byWeight:
		return measure.Weight(a.n).MarshalText()
	case byCount:
		text := strings.TrimSuffix(strings.TrimRight(big.NewRat(a.n, millionthsPerPiece).FloatString(6), "0"), ".")
		return []byte(text + " ct"), nil
	}
	return nil, bad("amount", a.n, "a known dimension")
}

// UnmarshalText reads what [ParseAmount] reads.
func (a *Amount) UnmarshalText(b []byte) error {
	v, err := ParseAmount(string(b))
	if err == nil {
		*a = v
	}
	return err
}
