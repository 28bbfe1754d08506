package measure

// Ratio is a share or a factor, an exact count of parts per million: a waste, a
// tax, the solids of a paint, a moisture content. 10*Percent is ten percent.
//
// The zero value is nothing. Ratios compare with ==, < and >. The operators do not
// check for overflow; the range is about ±900 billion percent.
type Ratio int64

// Ratios to multiply by. One, the whole, is 100*Percent.
const (
	PartPerMillion Ratio = 1
	Percent        Ratio = 10_000 * PartPerMillion
)

// ParseRatio reads a percentage such as 8.25%, 10 % or 110%, or a plain number
// such as 0.0825 or 1/8. A plain number above 1 or below -1 is rejected as
// ambiguous: people who write 6 more often mean 6 % than 600 %. A value between
// two parts per million, which are four decimals of a percent, is also rejected.
// The error is a *[ParseError].
func ParseRatio(s string) (Ratio, error) {
	var t text
	v, ok := read(&t, s, ratios, Parser{})
	if !ok {
		return 0, t.err(ratios, s, Parser{})
	}
	return Ratio(v), nil
}

// String returns r as an exact percentage that [ParseRatio] reads back, such as
// 8.25%.
func (r Ratio) String() string {
	var buf [48]byte
	return string(appendScaled(buf[:0], int64(r), ratioForms[:]))
}

// AppendText appends what String returns to b. It never fails.
func (r Ratio) AppendText(b []byte) ([]byte, error) {
	return appendScaled(b, int64(r), ratioForms[:]), nil
}

// MarshalText returns what String returns. It never fails.
func (r Ratio) MarshalText() ([]byte, error) { return r.AppendText(make([]byte, 0, 16)) }

// UnmarshalText reads what [ParseRatio] reads.
func (r *Ratio) UnmarshalText(b []byte) error {
	v, err := ParseRatio(string(b))
	if err == nil {
		*r = v
	}
	return err
}

var ratioForms = [...]form{{"%", uint64(Percent), 4, true}}

// readRatio reads one number, with a percent sign or without.
func readRatio[S string | []byte](t *text, s S) (int64, bool) {
	var x number
	start, i, neg, ok := loadNumber(t, s, &x)
	if !ok {
		return 0, false
	}
	const one = 100 * uint64(Percent)
	size := one
	if t.b[i] == '%' {
		size, i = uint64(Percent), t.spaces(i+1)
	}
	if i < t.n {
		t.unexpected(i)
		return 0, false
	}
	total, rem, den, ok := x.times(size)
	switch {
	case !ok:
		t.fail(faultRange, 0, t.n)
		return 0, false
	case size == one && (total > one || total == one && rem != 0):
		t.fail(faultPercent, start, t.n)
		return 0, false
	}
	return t.settle(total, rem, den, neg, 0, RoundDown)
}

// loadNumber folds s into t and reads the sign and the number at its beginning.
// The number starts at start; the rest begins at at.
func loadNumber[S string | []byte](t *text, s S, x *number) (start, at int, neg, ok bool) {
	i, ok := load(t, s)
	if !ok {
		return 0, 0, false, false
	}
	if c := t.b[i]; c == '-' || c == '+' {
		neg = c == '-'
		i = t.spaces(i + 1)
	}
	if i >= t.n {
		t.fail(faultEmpty, i, i)
		return 0, 0, false, false
	}
	if at = t.number(i, x); at < 0 {
		return 0, 0, false, false
	}
	return i, t.spaces(at), neg, true
}
