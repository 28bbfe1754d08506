package paper

import (
	"strconv"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/internal/kind"
)

// DateStyle is the style of dates for people.
type DateStyle uint8

const (
	DateISO      DateStyle = iota // 2026-12-01, as in ISO 8601
	DateWords                     // December 1, 2026
	DateDayFirst                  // 1 December 2026
)

var dateStyleNames = []string{"iso", "words", "day first"}

// String returns the name: iso, words or day first.
func (s DateStyle) String() string { return kind.Text("DateStyle", dateStyleNames, s) }

// MarshalText returns the name. One that has none is a *[measure.FieldError].
func (s DateStyle) MarshalText() ([]byte, error) {
	return kind.Marshal("DateStyle", "a style of dates", dateStyleNames, s)
}

// UnmarshalText reads a name. Any other text is a *[measure.FieldError].
func (s *DateStyle) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a style of dates", dateStyleNames, b, s)
}

// date writes a day.
func (s DateStyle) date(d schedule.Date) string {
	switch s {
	case DateWords:
		return d.Month.String() + " " + strconv.Itoa(d.Day) + ", " + strconv.Itoa(d.Year)
	case DateDayFirst:
		return strconv.Itoa(d.Day) + " " + d.Month.String() + " " + strconv.Itoa(d.Year)
	}
	return d.String()
}

// weekday returns the day of the week.
func weekday(d schedule.Date) time.Weekday {
	return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC).Weekday()
}

// long writes a day with its day of the week in full.
func (s DateStyle) long(d schedule.Date) string {
	day := weekday(d).String()
	if s == DateWords {
		day += ","
	}
	return day + " " + s.date(d)
}

// short writes a day with its day of the week in three letters.
func (s DateStyle) short(d schedule.Date) string {
	day := weekday(d).String()[:3]
	if s == DateWords {
		day += ","
	}
	return day + " " + s.date(d)
}

// clock formats a time of day in 24-hour style.
func clock(t time.Time) string { return t.Format("15:04") }

// quarter rounds t up to a full quarter of an hour on the clock, so that a wait until then
// is long enough.
func quarter(t time.Time) time.Time {
	over := time.Duration(t.Minute()%15)*time.Minute + time.Duration(t.Second())*time.Second + time.Duration(t.Nanosecond())
	if over == 0 {
		return t
	}
	return t.Add(15*time.Minute - over)
}

// until formats the end of a wait for a reader on the day told: within a week, the
// day of the week identifies the day.
func (s DateStyle) until(told schedule.Date, t time.Time) string {
	t = quarter(t)
	d := schedule.DateOf(t)
	from := time.Date(told.Year, told.Month, told.Day, 12, 0, 0, 0, time.UTC)
	days := time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC).Sub(from) / (24 * time.Hour)
	if days < 0 || days > 6 {
		return s.short(d) + ", " + clock(t)
	}
	return weekday(d).String()[:3] + " " + clock(t)
}

// half is a part of a day, in minutes after midnight.
type half struct {
	name     string
	from, to int
}

// halves are the usual parts of a day: common practice, no source.
var halves = [...]half{{"morning", 0, 12 * 60}, {"afternoon", 12 * 60, 18 * 60}, {"evening", 18 * 60, 24 * 60}}

// unsaid is the number of minutes of work in a part of a day that are not mentioned
// if another part has more.
const unsaid = 30

// partOfDay formats the time of a step in parts of the day, by clock time.
func partOfDay(from, to time.Time) string {
	start, end := from.Hour()*60+from.Minute(), to.Hour()*60+to.Minute()
	if schedule.DateOf(to) != schedule.DateOf(from) {
		end = 24 * 60
	}
	var work [len(halves)]int
	most, first, last := 0, -1, -1
	for i, h := range halves {
		work[i] = max(0, min(end, h.to)-max(start, h.from))
		if work[i] > work[most] {
			most = i
		}
	}
	for i, n := range work {
		if n > unsaid {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		first, last = most, most
	}
	if end <= start { // no time at all, or clocks were put back
		first = 0
		for i, h := range halves {
			if start >= h.from {
				first = i
			}
		}
		last = first
	}
	switch {
	case first == last:
		return halves[first].name
	case first == 0 && last == 1:
		return "all day"
	case first == 0:
		return "all day and evening"
	}
	return halves[first].name + " and " + halves[last].name
}
