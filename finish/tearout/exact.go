package tearout

import (
	"strconv"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Units of time for rates.
const (
	second measure.Duration = 1_000_000_000
	minute                  = 60 * second
	hour                    = 60 * minute
)

// whole is one, 100 %.
const whole = 100 * measure.Percent

func itoa(n int64) string { return strconv.FormatInt(n, 10) }

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "tearout", Value: what, Reason: "too large to represent"}
}

// A tally sums numbers that are zero or more; it records the first sum that overflows
// int64.
type tally struct{ bad string }

func (t *tally) add(sum *int64, n int64, what string) {
	s, ok := natural.Add(*sum, n)
	if !ok && t.bad == "" {
		t.bad = what
	}
	*sum = s
}

func (t *tally) product(num, den []int64, what string) int64 {
	q, ok := natural.Quotient(natural.Up, num, den)
	if !ok && t.bad == "" {
		t.bad = what
	}
	return q
}

func (t *tally) err() error {
	if t.bad == "" {
		return nil
	}
	return tooLarge(t.bad)
}
