package schedule

import "time"

// HalfDays returns the time of the slot in half days, for people: "Mon 7 Jun
// am", or "Mon 7 Jun pm - Wed 9 Jun am". The afternoon begins at noon by the
// clock.
func (s Slot) HalfDays() string {
	from, to := half(s.Start), half(s.Start)
	if s.End.After(s.Start) {
		to = half(s.End.Add(-time.Nanosecond)) // work that ends at noon is done in the morning
	}
	if from == to {
		return from
	}
	return from + " - " + to
}

func half(t time.Time) string {
	name := " am"
	if t.Hour() >= 12 {
		name = " pm"
	}
	return t.Format("Mon 2 Jan") + name
}
