package cutsheet

import (
	"strconv"
	"strings"
)

// places returns how many digits stand behind the point for so many minor
// units in a major one.
func places(minor int64) (int, bool) {
	if minor == 0 {
		return 2, true
	}
	n := 0
	for m := minor; m > 1; m /= 10 {
		if m%10 != 0 {
			return 0, false
		}
		n++
	}
	return n, minor >= 1 && n <= 9
}

// amount returns n minor units with grouped digits and the symbol.
func (m Money) amount(n int64) string {
	s := m.plain(n)
	whole, fraction, _ := strings.Cut(s, ".")
	s = grouped(whole)
	if fraction != "" {
		s += "." + fraction
	}
	switch {
	case m.Symbol == "":
		return s
	case m.After:
		return s + " " + m.Symbol
	}
	if negative, ok := strings.CutPrefix(s, "-"); ok {
		return "-" + m.Symbol + negative
	}
	return m.Symbol + s
}

// plain returns n minor units as a number that a program reads.
func (m Money) plain(n int64) string {
	digits, sign := strconv.FormatInt(n, 10), ""
	if digits[0] == '-' {
		digits, sign = digits[1:], "-"
	}
	p, _ := places(m.Minor)
	if p == 0 {
		return sign + digits
	}
	if short := p + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	return sign + digits[:len(digits)-p] + "." + digits[len(digits)-p:]
}

// count returns n with grouped digits.
func count(n int64) string { return grouped(strconv.FormatInt(n, 10)) }

func grouped(digits string) string {
	sign := ""
	if strings.HasPrefix(digits, "-") {
		sign, digits = "-", digits[1:]
	}
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return sign + digits
}
