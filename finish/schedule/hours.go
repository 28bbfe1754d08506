package schedule

import "time"

// Hours returns the working hours of a day at the location of the job; ok is false for a
// day without work, and for a calendar that Build rejects. The first day begins no earlier
// than Start.
func (c Calendar) Hours(d Date) (open, end time.Time, ok bool) {
	if c.fill() != nil || !d.exists() || !c.Days.Has(d.noon().Weekday()) {
		return time.Time{}, time.Time{}, false
	}
	for _, off := range c.Off {
		if off == d {
			return time.Time{}, time.Time{}, false
		}
	}
	loc := c.Start.Location()
	open, end = clock(d, c.Open, loc), clock(d, c.Close, loc)
	if open.Before(c.Start) {
		open = c.Start
	}
	return open, end, open.Before(end)
}
