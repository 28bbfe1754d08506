package finish

import (
	"errors"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Yield is the coverage of a material: an amount of work per amount of
// material. A spreading rate is an area per volume, a bag's coverage an area
// per weight, a nail chart a count per weight, a density a weight for a volume.
// Its text is "400 sq ft per gal", "90 sq ft per 50 lb", "189 ct per lb". The
// zero Yield means not stated.
type Yield struct {
	Covers Amount // the work done; > 0
	Of     Amount // by this much material; > 0
}

// ParseYield reads two amounts with "per" between them; the second may omit its
// number if it is one. The error is a *[measure.ParseError].
func ParseYield(s string) (Yield, error) {
	const per = " per "
	bad := func(part string, err error, reason string) (Yield, error) {
		return Yield{}, &measure.ParseError{Kind: "yield", Input: s, Offset: strings.LastIndex(s, part), Part: part, Err: err, Reason: reason}
	}
	left, right, ok := strings.Cut(s, per)
	if !ok {
		return bad(s, measure.ErrSyntax, `write two amounts, such as "400 sq ft per gal"`)
	}
	covers, err := ParseAmount(left)
	if err != nil {
		return bad(left, errors.Unwrap(err), `write an amount first, such as "400 sq ft"`)
	}
	of, err := ParseAmount(right)
	if err != nil {
		of, err = ParseAmount("1 " + strings.TrimSpace(right))
	}
	if err != nil {
		return bad(right, errors.Unwrap(err), `write an amount or a unit last, such as "gal"`)
	}
	y := Yield{Covers: covers, Of: of}
	if y.check("") != nil {
		return bad(s, measure.ErrRange, "both amounts must be greater than zero")
	}
	return y, nil
}

func (y Yield) check(field string) error {
	if y.Covers.n <= 0 || y.Of.n <= 0 {
		return fault.Field(field, y, "two amounts greater than zero")
	}
	return nil
}

// Material returns the amount of material for work, rounded up. The work must
// be of the kind of y.Covers.
func (y Yield) Material(work Amount) (Amount, error) {
	if err := y.check("yield"); err != nil {
		return Amount{}, err
	}
	if work.n < 0 {
		return Amount{}, fault.Field("work", work, "zero or more")
	}
	if work.dim != y.Covers.dim {
		return Amount{}, wrongKind("work", work, y.Covers.dim)
	}
	n, ok := natural.Quotient(natural.Up, []int64{work.n, y.Of.n}, []int64{y.Covers.n})
	if !ok {
		return Amount{}, tooLarge("the material for " + work.String())
	}
	return Amount{y.Of.dim, n}, nil
}

// Work returns the amount of work that a quantity of material covers, rounded
// down. The material must be of the kind of y.Of.
func (y Yield) Work(material Amount) (Amount, error) {
	if err := y.check("yield"); err != nil {
		return Amount{}, err
	}
	if material.n < 0 {
		return Amount{}, fault.Field("material", material, "zero or more")
	}
	if material.dim != y.Of.dim {
		return Amount{}, wrongKind("material", material, y.Of.dim)
	}
	n, ok := natural.Quotient(natural.Down, []int64{material.n, y.Covers.n}, []int64{y.Of.n})
	if !ok {
		return Amount{}, tooLarge("the work of " + material.String())
	}
	return Amount{y.Covers.dim, n}, nil
}

// IsZero reports whether the yield is not stated.
func (y Yield) IsZero() bool { return y == Yield{} }

// String returns the yield for people, such as "400 sq ft per gal".
func (y Yield) String() string { return words{}.yield(y) }

// MarshalText writes the exact yield that [ParseYield] reads back; the zero
// Yield is empty text.
func (y Yield) MarshalText() ([]byte, error) {
	if y.IsZero() {
		return nil, nil
	}
	covers, err := y.Covers.MarshalText()
	if err != nil {
		return nil, err
	}
	of, err := y.Of.MarshalText()
	if err != nil {
		return nil, err
	}
	return append(append(covers, " per "...), of...), nil
}

// UnmarshalText reads what [ParseYield] reads; empty text is the zero Yield.
func (y *Yield) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*y = Yield{}
		return nil
	}
	v, err := ParseYield(string(b))
	if err == nil {
		*y = v
	}
	return err
}
