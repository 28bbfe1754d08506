package finish

import (
	"errors"
	"math/big"
	"math/bits"
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
	ByCount:  {{"ct", millionthsPerPiece, false}},
	ByLength: {{"ft", int64(measure.Foot), false}, {"in", int64(measure.Inch), false}, {"m", int64(measure.Meter), true}, {"mm", int64(measure.Millimeter), true}},
	ByArea:   {{"sq ft", int64(measure.SquareFoot), false}, {"sq in", int64(measure.SquareInch), false}, {"sq m", int64(measure.SquareMeter), true}, {"sq mm", int64(measure.SquareMillimeter), true}},
	ByVolume: {{"gal", int64(measure.Gallon), false}, {"qt", int64(measure.Quart), false}, {"fl oz", int64(measure.FluidOunce), false}, {"cu in", int64(measure.CubicInch), false}, {"L", int64(measure.Liter), true}, {"mL", int64(measure.Milliliter), true}},
	ByWeight: {{"lb", int64(Pound), false}, {"oz", int64(Ounce), false}, {"kg", int64(Kilogram), true}, {"g", int64(Gram), true}},
}

// readUnits are the units that measure does not read: counts and weights.
var readUnits = map[string]struct {
	dim  Dimension
	size int64
}{
	"":      {ByCount, millionthsPerPiece},
	"ct":    {ByCount, millionthsPerPiece},
	"each":  {ByCount, millionthsPerPiece},
	"pc":    {ByCount, millionthsPerPiece},
	"pcs":   {ByCount, millionthsPerPiece},
	"piece": {ByCount, millionthsPerPiece}, "pieces": {ByCount, millionthsPerPiece},
	"nail": {ByCount, millionthsPerPiece}, "nails": {ByCount, millionthsPerPiece},
	"sheet": {ByCount, millionthsPerPiece}, "sheets": {ByCount, millionthsPerPiece},
	"roll": {ByCount, millionthsPerPiece}, "rolls": {ByCount, millionthsPerPiece},
	"lb": {ByWeight, int64(Pound)}, "lbs": {ByWeight, int64(Pound)},
	"oz": {ByWeight, int64(Ounce)}, "oz wt": {ByWeight, int64(Ounce)},
	"kg": {ByWeight, int64(Kilogram)},
	"g":  {ByWeight, int64(Gram)},
	"mg": {ByWeight, int64(Gram) / 1000},
}

// ParseAmount reads a number and a unit: "10.1 fl oz", "300 mL", "1 gal",
// "50 lb", "25 kg", "60 yd", "400 sq ft", "1000 ct". Lengths, areas and volumes
// follow [measure.Parse], [measure.ParseArea] and [measure.ParseVolume]. The
// number of a count or a weight is decimal, a fraction or a mixed number ("2 1/2
// lb"); a number alone is a count. A bare "oz" is the ounce of weight; a fluid
// ounce is "fl oz". Text that is not a whole number of the small unit is
// refused.
func ParseAmount(s string) (Amount, error) {
	text := strings.TrimSpace(s)
	i := strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789./-+ ", c) })
	if i < 0 {
		i = len(text)
	}
	if u, ok := readUnits[strings.ToLower(strings.TrimSpace(text[i:]))]; ok {
		r, ok := parseNumber(strings.TrimSpace(text[:i]))
		if !ok {
			return Amount{}, bad("amount", s, `a number first, such as "2 1/2 lb"`)
		}
		switch r.Mul(r, new(big.Rat).SetInt64(u.size)); {
		case !r.IsInt():
			return Amount{}, bad("amount", s, "a whole number of millionths of a piece, or of 1/16 or 0.001 of an ounce")
		case !r.Num().IsInt64():
			return Amount{}, bad("amount", s, "less: it does not fit")
		}
		return Amount{u.dim, r.Num().Int64()}, nil
	}
	v, errV := measure.ParseVolume(text)
	if errV == nil {
		return OfVolume(v), nil
	}
	a, errA := measure.ParseArea(text)
	if errA == nil {
		return OfArea(a), nil
	}
	l, errL := measure.Parse(text)
	if errL == nil {
		return OfLength(l), nil
	}
	for _, err := range [...]error{errV, errA, errL} {
		// What is read as one kind but does not fit it is explained by that kind.
		if p := (*measure.ParseError)(nil); errors.As(err, &p) && !errors.Is(err, measure.ErrSyntax) {
			return Amount{}, bad("amount", s, "what fits its unit: "+err.Error())
		}
	}
	return Amount{}, bad("amount", s, `a number and a unit, such as "300 mL", "50 lb", "60 yd" or "1000 ct"`)
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
	case ByVolume:
		small = unit{"cu in", int64(measure.CubicInch), false}
	case ByLength, ByArea, ByWeight:
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
	case ByLength:
		return measure.Length(a.n).MarshalText()
	case ByArea:
		return measure.Area(a.n).MarshalText()
	case ByVolume:
		return measure.Volume(a.n).MarshalText()
	case ByCount:
		return []byte(exact(a.n, writeUnits[ByCount])), nil
	case ByWeight:
		return []byte(exact(a.n, writeUnits[ByWeight])), nil
	}
	return nil, bad("amount", a.n, "a known dimension")
}

// exact writes n in the first unit that takes no more than three decimals, or
// else in the last, whose decimals end.
func exact(n int64, list []unit) string {
	const places = 13
	last := list[len(list)-1]
	for _, u := range list {
		if u.ends(n) {
			last = u
			break
		}
	}
	r := big.NewRat(n, last.size)
	s := r.FloatString(places)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + " " + last.name
}

// UnmarshalText reads what [ParseAmount] reads.
func (a *Amount) UnmarshalText(b []byte) error {
	v, err := ParseAmount(string(b))
	if err == nil {
		*a = v
	}
	return err
}
