package cutsheet

import (
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// money writes an amount for people.
func (s *Sheet) money(n int64) string { return s.options.Locale.FormatMoney(n) }

// plain writes an amount as a number that a program reads.
func (s *Sheet) plain(n int64) string {
	bare := measure.Locale{Currency: measure.Currency{Minor: s.options.Locale.Currency.Minor}}
	return strings.ReplaceAll(bare.FormatMoney(n), ",", "")
}

// count writes a number with its digits grouped as those of money are.
func (s *Sheet) count(n int64) string {
	whole := measure.Locale{DecimalComma: s.options.Locale.DecimalComma, Currency: measure.Currency{Minor: 1}}
	return whole.FormatMoney(n)
}

// percent writes thousandths.
func (s *Sheet) percent(thousandths uint64) string {
	mark := "."
	if s.options.Locale.DecimalComma {
		mark = ","
	}
	return strconv.FormatUint(thousandths/10, 10) + mark + strconv.FormatUint(thousandths%10, 10) + "%"
}

// plural returns the count with its noun.
func (s *Sheet) plural(n int64, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return s.count(n) + " " + noun + "s"
}
