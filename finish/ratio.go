package finish

import (
	"math/big"
	"strings"
)

// Ratio is a share or a factor in parts per million: a waste, a tax, a margin,
// the solids of a paint. 10*Percent is ten percent. Each use documents its
// range.
type Ratio int64

const (
	PartPerMillion Ratio = 1
	Percent              = 10_000 * PartPerMillion
	Whole                = 100 * Percent // one, 100 %
)

// ParseRatio reads a percentage such as "8.25%", "10 %" or "110%", or a plain
// decimal or fraction such as "0.0825" or "1/8". A plain number above 1 or below
// -1 is refused: who writes 6 means 6 % more often than 600 %. The value must be a
// whole number of parts per million.
func ParseRatio(s string) (Ratio, error) {
	text := strings.TrimSpace(s)
	scale := int64(Whole)
	t, percent := strings.CutSuffix(text, "%")
	if percent {
		text, scale = strings.TrimSpace(t), int64(Percent)
	}
	r, ok := parseNumber(text)
	if !ok {
		return 0, bad("ratio", s, `a percentage such as "10%"`)
	}
	if one := big.NewRat(1, 1); !percent && new(big.Rat).Abs(r).Cmp(one) > 0 {
		return 0, bad("ratio", s, `a percent sign, such as "`+text+`%", since it is above 1`)
	}
	r.Mul(r, new(big.Rat).SetInt64(scale))
	if !r.IsInt() || !r.Num().IsInt64() {
		return 0, bad("ratio", s, "a whole number of parts per million (four decimals of a percent)")
	}
	return Ratio(r.Num().Int64()), nil
}

// String returns the ratio as an exact percentage, such as "8.25%".
func (r Ratio) String() string {
	if r < 0 {
		return "-" + decimal(uint64(-(r+1))+1, 4) + "%"
	}
	return decimal(uint64(r), 4) + "%"
}

// MarshalText writes the exact percentage that [ParseRatio] reads back.
func (r Ratio) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what [ParseRatio] reads.
func (r *Ratio) UnmarshalText(b []byte) error {
	v, err := ParseRatio(string(b))
	if err == nil {
		*r = v
	}
	return err
}

// share checks a ratio that must be at least 0 and below limit.
func share(field string, r, limit Ratio) error {
	if r < 0 || r >= limit {
		return bad(field, r, "at least 0% and less than "+limit.String())
	}
	return nil
}

// upTo checks a ratio that must be at least 0 and at most most.
func upTo(field string, r, most Ratio) error {
	if r < 0 || r > most {
		return bad(field, r, "0% to "+most.String())
	}
	return nil
}
