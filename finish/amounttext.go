package finish

import (
	"errors"
	"math/big"
	"slices"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/suited"
	"example.com/longpoint/measure"
)

// Units of counts and of lengths of material, customary or metric.
var (
	countUnits    = []suited.Unit{{Name: "ct", Size: millionthsPerPiece}}
	materialUnits = []suited.Unit{{Name: "ft", Size: int64(measure.Foot)}, {Name: "in", Size: int64(measure.Inch)}, {Name: "m", Size: int64(measure.Meter), Exact: true}, {Name: "mm", Size: int64(measure.Millimeter), Exact: true}}
	metricUnits   = []suited.Unit{{Name: "m", Size: int64(measure.Meter)}, {Name: "mm", Size: int64(measure.Millimeter)}}
)

// countNames are the units of a count, which package measure does not read.
var countNames = [...]string{"", "ct", "each", "pc", "pcs", "piece", "pieces", "nail", "nails", "sheet", "sheets", "roll", "rolls"}

// ParseAmount reads a number and a unit: "10.1 fl oz", "300 mL", "1 gal", "50
// lb", "25 kg", "60 yd", "400 sq ft", "1000 ct". Lengths, areas, volumes and
// weights follow [measure.Parse], [measure.ParseArea], [measure.ParseVolume] and
// [measure.ParseWeight]. The number of a count is decimal, a fraction or a mixed
// number; a number alone is a count. A bare "oz" is the ounce of weight; a fluid
// ounce is "fl oz". Text that is not a whole number of the small unit is
// rejected. The error is a *[measure.ParseError].
func ParseAmount(s string) (Amount, error) {
	text := strings.TrimSpace(s)
	i := strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789./-+ ", c) })
	if i < 0 {
		i = len(text)
	}
	if slices.Contains(countNames[:], strings.ToLower(strings.TrimSpace(text[i:]))) {
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
		// If the text has the form of one kind but is invalid, return the error of that
		// kind.
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

// String returns the amount for people, in the unit that they would use:
// exactly if one of the usual units takes at most three significant digits,
// else rounded in a customary unit. [Amount.MarshalText] is exact.
func (a Amount) String() string { return words{}.amount(a) }

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
	return nil, fault.Field("amount", a.n, "a known dimension")
}

// UnmarshalText reads what [ParseAmount] reads.
func (a *Amount) UnmarshalText(b []byte) error {
	v, err := ParseAmount(string(b))
	if err == nil {
		*a = v
	}
	return err
}
