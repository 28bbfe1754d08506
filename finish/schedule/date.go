package schedule

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"
	"time"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Date is a calendar day without a location. Its text is "2026-07-03". The zero Date is not a
// day: optional fields omit it, and it has no text.
type Date struct {
	Year  int        // 0 to 9999
	Month time.Month // January to December
	Day   int        // of the month, from 1
}

// DateOf returns the day of t in t's own location.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// String returns the day as "2026-07-03".
func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, int(d.Month), d.Day) }

// MarshalText writes "2026-07-03"; a date that is not a day of the calendar is a
// [*measure.FieldError].
func (d Date) MarshalText() ([]byte, error) {
	if !d.exists() {
		return nil, fault.Field("", d, wantDate)
	}
	return []byte(d.String()), nil
}

const wantDate = "a day of the calendar, in the years 0 to 9999"

// exists reports whether the calendar has the day.
func (d Date) exists() bool { return d.Year >= 0 && d.Year <= 9999 && d == DateOf(d.noon()) }

// UnmarshalText reads "2026-07-03". The error is a *[measure.ParseError].
func (d *Date) UnmarshalText(b []byte) error {
	t, err := time.Parse(time.DateOnly, string(b))
	if err != nil {
		return &measure.ParseError{Kind: "date", Input: string(b), Part: string(b), Err: measure.ErrSyntax, Reason: "write a day of the calendar such as 2026-07-03"}
	}
	*d = DateOf(t)
	return nil
}

// noon returns a moment that represents the day, away from any change of clocks.
func (d Date) noon() time.Time { return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC) }

// Weekdays is a set of days of the week. The zero Weekdays is empty; if a field
// says so, it means Monday to Friday. Its text is "Mon Tue Wed Thu Fri".
type Weekdays uint8

// WeekdaysOf returns the set of the given days.
func WeekdaysOf(days ...time.Weekday) Weekdays {
	var w Weekdays
	for _, d := range days {
		if d >= time.Sunday && d <= time.Saturday {
			w |= 1 << d
		}
	}
	return w
}

// Has reports whether d is in the set.
func (w Weekdays) Has(d time.Weekday) bool {
	return d >= time.Sunday && d <= time.Saturday && w>>d&1 == 1
}

var weekdayNames = [...]string{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"}

// String returns the days in the order of a week from Monday, such as "Mon Wed".
func (w Weekdays) String() string {
	var out []string
	for i := range 7 {
		if d := (i + 1) % 7; w.Has(time.Weekday(d)) {
			out = append(out, weekdayNames[d])
		}
	}
	return strings.Join(out, " ")
}

// MarshalText writes the days as String does; any other value is a [*measure.FieldError].
func (w Weekdays) MarshalText() ([]byte, error) {
	if bits.Len8(uint8(w)) > len(weekdayNames) {
		return nil, fault.Field("", uint8(w), "days of the week")
	}
	return []byte(w.String()), nil
}

// UnmarshalText reads names of days with spaces between them, such as "Mon Wed"; any other text
// is a [*measure.FieldError].
func (w *Weekdays) UnmarshalText(b []byte) error {
	var set Weekdays
	for _, f := range strings.Fields(string(b)) {
		d := slices.Index(weekdayNames[:], f)
		if d < 0 {
			return fault.Field("", string(b), `names such as "Mon Tue Wed Thu Fri"`)
		}
		set |= 1 << d
	}
	*w = set
	return nil
}
