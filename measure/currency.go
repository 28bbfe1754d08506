package measure

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/longpoint/internal/explicit"
)

// A Currency describes how a number of minor units, such as cents, is written as an
// amount of money. The zero value writes 1234567 as 12,345.67, without a symbol;
// Currency{Symbol: "$"} writes $12,345.67.
type Currency struct {
	Symbol string `json:"symbol,omitempty"` // a sign, or a code with its blank, such as $ or "EUR "; may be empty, in UTF-8
	After  bool   `json:"after,omitempty"`  // the symbol follows the amount, after a separate space

	// Minor is the number of minor units in a major unit: a power of ten up to
	// 1,000,000,000. It is 1 for a currency without a minor unit, such as the yen,
	// and 1000 for the dinars that have three places. Zero means 100; in JSON, an
	// explicit zero is an error.
	Minor int64 `json:"minor,omitempty" zero:"1 for a currency without a minor unit, or nothing for 100"`
}

// UnmarshalJSON rejects a minor of 0, which may mean 1 or 100, with a [*FieldError].
func (c *Currency) UnmarshalJSON(data []byte) error {
	type plain Currency
	fault, err := explicit.Unmarshal(data, (*plain)(c))
	if fault != nil {
		return &FieldError{Field: fault.Name, Value: fault.Value, Want: fault.Want}
	}
	return err
}

// places returns the number of digits after the decimal mark; a Minor that is not a
// power of ten counts as 100.
func (c Currency) places() int {
	n, ok := 0, c.Minor >= 1 && c.Minor <= 1_000_000_000
	for m := c.Minor; ok && m > 1; m /= 10 {
		ok = m%10 == 0
		n++
	}
	if !ok {
		return 2
	}
	return n
}

// faults lists the invalid fields of the currency.
func (c Currency) faults() (bad []error) {
	if !utf8.ValidString(c.Symbol) {
		bad = append(bad, &FieldError{Field: "currency.symbol", Value: strings.Trim(strconv.QuoteToASCII(c.Symbol), `"`), Want: "text in UTF-8"})
	}
	if c.Minor != 0 && c.places() == 2 && c.Minor != 100 {
		bad = append(bad, &FieldError{Field: "currency.minor", Value: strconv.FormatInt(c.Minor, 10),
			Want: "a power of ten from 1 to 1000000000, or zero for 100"})
	}
	return bad
}

// format writes n minor units; comma says which mark is the decimal one, and the other
// groups the digits.
func (c Currency) format(n int64, comma bool) string {
	digits, sign := strconv.FormatInt(n, 10), ""
	if digits[0] == '-' {
		digits, sign = digits[1:], "-"
	}
	group, point := ",", "."
	if comma {
		group, point = point, group
	}
	places := c.places()
	if short := places + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	whole, fraction := digits[:len(digits)-places], digits[len(digits)-places:]
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + group + whole[i:]
	}
	if fraction != "" {
		whole += point + fraction
	}
	if c.After && c.Symbol != "" {
		return sign + whole + " " + c.Symbol
	}
	return sign + c.Symbol + whole
}
