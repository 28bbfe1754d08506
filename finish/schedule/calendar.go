package schedule

import (
	"strconv"
	"time"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Calendar holds the working hours and the crews of a job. Only Start must be set.
type Calendar struct {
	// Start is the earliest moment of work. Its location is that of the job:
	// working hours are clock times there. The package reads no clock. A start read
	// from JSON has a fixed offset: give it a location with [time.Time.In] if
	// clocks change during the work.
	Start time.Time `json:"start"`

	Open  measure.Duration `json:"open,omitempty"`  // start of the working day, after midnight; Open and Close 0 = 8 h and 16 h
	Close measure.Duration `json:"close,omitempty"` // after Open, to 24 h
	Days  Weekdays         `json:"days,omitempty"`  // working days; 0 = Monday to Friday
	Off   []Date           `json:"off,omitempty"`   // further days without work

	Crews []Crew `json:"crews,omitempty"` // crews working in parallel, one per activity; nil = one of one person, at most 1000
}

const hour = measure.Duration(time.Hour)

const (
	maxCrews    = 1000    // and people in one
	maxSlots    = 100_000 // activities
	scheduleEnd = 10      // years after the start
)

// fill sets defaults for zero fields, or reports the first invalid field.
func (s *Calendar) fill() error {
	if s.Open == 0 && s.Close == 0 {
		s.Open, s.Close = 8*hour, 16*hour
	}
	if s.Days == 0 {
		s.Days = WeekdaysOf(time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday)
	}
	switch {
	case s.Start.IsZero():
		return fault.Field("start", "", "a time")
	case s.Start.Year() < 1 || s.Start.Year() > 9999-scheduleEnd-1:
		return fault.Field("start", s.Start.Year(), "a year from 1 to "+strconv.Itoa(9999-scheduleEnd-1))
	case s.Open < 0 || s.Open >= 24*hour:
		return fault.Field("open", s.Open, "at least 0 h and less than 24 h")
	case s.Close <= s.Open || s.Close > 24*hour:
		return fault.Field("close", s.Close, "after open ("+s.Open.String()+") and at most 24 h")
	case s.Days >= 1<<len(weekdayNames):
		return fault.Field("days", uint8(s.Days), "days of the week")
	case len(s.Crews) > maxCrews:
		return fault.Field("crews", len(s.Crews), "at most "+strconv.Itoa(maxCrews)+" crews")
	}
	for i, c := range s.Crews {
		if c.People < 0 || c.People > maxCrews {
			return fault.Field("crews["+strconv.Itoa(i)+"].people", c.People, "0 to "+strconv.Itoa(maxCrews))
		}
	}
	for i, d := range s.Off {
		if !d.exists() {
			return fault.Field("off["+strconv.Itoa(i)+"]", d, wantDate)
		}
	}
	if len(s.Crews) == 0 {
		s.Crews = []Crew{{}}
	}
	s.Start = s.Start.Round(0) // without a reading of the monotonic clock
	return nil
}
