package schedule

import (
	"time"

	"example.com/longpoint/internal/rcpsp"
	"example.com/longpoint/measure"
)

// site counts minutes from the first whole minute of a calendar. Everything in a schedule
// begins and ends on a minute; other times are rounded so that nothing is promised too
// early.
type site struct {
	Calendar
	zero  time.Time // minute 0
	limit int64     // first minute that is too late
}

func newSite(cal Calendar) *site {
	zero := cal.Start.Truncate(time.Minute)
	if zero.Before(cal.Start) {
		zero = zero.Add(time.Minute)
	}
	s := &site{Calendar: cal, zero: zero}
	s.limit = s.floor(zero.AddDate(scheduleEnd, 0, 0))
	return s
}

// floor and ceil return the minute at or before, at or after a moment.
func (s *site) floor(t time.Time) int64 {
	d := t.Sub(s.zero)
	if d < 0 {
		return -minutes(measure.Duration(-d))
	}
	return int64(d / time.Minute)
}

func (s *site) ceil(t time.Time) int64 {
	d := t.Sub(s.zero)
	if d < 0 {
		return 0
	}
	return minutes(measure.Duration(d))
}

// at returns the moment of a minute.
func (s *site) at(m int64) time.Time { return s.zero.Add(time.Duration(m) * time.Minute) }

// minutes rounds a span up to whole minutes.
func minutes(d measure.Duration) int64 {
	m := int64(d / minute)
	if d > 0 && d%minute > 0 {
		m++
	}
	return m
}

const minute = measure.Duration(time.Minute)

// windows returns the working hours, in minutes.
func (s *site) windows() *rcpsp.Calendar {
	day, loc := DateOf(s.zero), s.zero.Location()
	off := make(map[Date]bool, len(s.Off))
	for _, d := range s.Off {
		off[d] = true
	}
	return rcpsp.NewCalendar(func() (open, end int64, ok bool) {
		for {
			noon := day.noon()
			worked := s.Days.Has(noon.Weekday()) && !off[day]
			if worked {
				open, end = max(0, s.ceil(clock(day, s.Open, loc))), s.floor(clock(day, s.Close, loc))
			}
			day = DateOf(noon.AddDate(0, 0, 1))
			switch {
			case worked && open >= s.limit, !noon.Before(s.zero.AddDate(scheduleEnd, 0, 2)):
				return 0, 0, false
			case worked && open < end:
				return open, end, true
			}
		}
	})
}

// clock returns the moment at which clocks in loc show the given time after
// midnight. For a time that is skipped when clocks are put forward it returns
// the moment of the change, and for a time that occurs twice when they are put
// back the first one.
func clock(d Date, after measure.Duration, loc *time.Location) time.Time {
	// Compute the time as if loc were UTC, then correct it by the offsets in force
	// around that day.
	plain := time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Add(time.Duration(after))
	var offsets [2]time.Duration
	for i, near := range [...]time.Time{plain.Add(-36 * time.Hour), plain.Add(36 * time.Hour)} {
		_, s := near.In(loc).Zone()
		offsets[i] = time.Duration(s) * time.Second
	}
	// When clocks are put back, the greater offset comes first and gives the earlier
	// moment.
	early, late := plain.Add(-max(offsets[0], offsets[1])), plain.Add(-min(offsets[0], offsets[1]))
	for _, t := range [...]time.Time{early, late} {
		if _, s := t.In(loc).Zone(); plain.Equal(t.Add(time.Duration(s) * time.Second)) {
			return t.In(loc)
		}
	}
	change, _ := late.In(loc).ZoneBounds()
	if change.IsZero() {
		return late.In(loc)
	}
	return change.In(loc)
}
