package labor

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// manDay is 8 labor hours, by definition.
const manDay = 8 * hour

// A Crew turns labor into days. The zero value is one person who works 8 hours a day on the job without delay.
//
// Days are man-days times Delay, divided by people, Availability and Productive, as in
// NAVEDTRA 14045 (Builder Advanced, 1997, chapter 2). Availability and a Delay derived from
// production efficiency both account for lost time: do not count the same loss twice.
type Crew struct {
	People       int64         `json:"people,omitempty"`       // 0 = 1
	Delay        measure.Ratio `json:"delay,omitempty"`        // factor on labor, see DelayFactor; 0 = 100 %
	Availability measure.Ratio `json:"availability,omitempty"` // share of the people who are present; 0 = 100 %; at most 100 %
	Productive   measure.Ratio `json:"productive,omitempty"`   // productive hours of a day divided by 8; 0 = 100 %; 9 h are 112.5 %
}

// CrewTime is the time that a crew takes for some labor.
type CrewTime struct {
	Labor   measure.Duration `json:"labor"`   // with delays, 8 hours per man-day; rounded up to a nanosecond
	Working measure.Duration `json:"working"` // of the crew, 8 hours per day; rounded up to a nanosecond
	Days    int64            `json:"days"`    // whole days, rounded up once
}

// Time returns the time that the crew takes for labor. The error is a *[measure.FieldError] or a
// *[measure.RangeError].
func (c Crew) Time(labor measure.Duration) (CrewTime, error) {
	if c.People == 0 {
		c.People = 1
	}
	var f fault.List
	if labor < 0 {
		f.Add("labor", labor, "zero or more")
	}
	if c.People < 0 {
		f.Add("people", c.People, "zero or more")
	}
	for _, x := range [...]struct {
		name string
		r    *measure.Ratio
		most measure.Ratio
		want string
	}{
		{"delay", &c.Delay, math.MaxInt64, "zero or more"},
		{"availability", &c.Availability, whole, "0% to 100%"},
		{"productive", &c.Productive, 3 * whole, "0% to 300%"},
	} {
		if *x.r < 0 || *x.r > x.most {
			f.Add(x.name, *x.r, x.want)
		}
		if *x.r == 0 {
			*x.r = whole
		}
	}
	if err := f.Err(); err != nil {
		return CrewTime{}, err
	}
	num := []int64{int64(labor), int64(c.Delay), int64(whole), int64(whole)}
	d, ok1 := natural.Quotient(natural.Up, []int64{int64(labor), int64(c.Delay)}, []int64{int64(whole)})
	people := int64(c.People)
	// Delay, Availability and Productive are parts per million: one factor of a million
	// remains.
	w, ok2 := natural.Quotient(natural.Up, num, []int64{people, int64(c.Availability), int64(c.Productive), int64(whole)})
	n, ok3 := daysOf(num, people, c)
	if !ok1 || !ok2 || !ok3 {
		return CrewTime{}, tooLarge("the days of " + labor.String())
	}
	return CrewTime{measure.Duration(d), measure.Duration(w), n}, nil
}

// daysOf rounds up once, from the exact time and not from the time rounded up to a
// nanosecond.
func daysOf(num []int64, people int64, c Crew) (int64, bool) {
	hours, ok := natural.Mul(people, int64(manDay))
	if !ok { // more people than nanoseconds in the labor: less than a day
		return min(1, num[0]), true
	}
	return natural.Quotient(natural.Up, num, []int64{hours, int64(c.Availability), int64(c.Productive), int64(whole)})
}

// usualEfficiency is the mean efficiency for which production rates are made.
const usualEfficiency = 67 * measure.Percent

// DelayFactor returns the factor by which labor grows if the production efficiency is the
// mean of the ratings, of workload, site, labor, supervision, working conditions, weather,
// equipment and tactics, each 25 % to 100 % (NAVEDTRA 14045, 1997, chapter 2). The manual
// reads it from a graph; 67 % divided by the mean reproduces its example (derived). The
// result is rounded to the nearest part per million, half up. The error is a
// *[measure.FieldError].
func DelayFactor(ratings ...measure.Ratio) (measure.Ratio, error) {
	var f fault.List
	if len(ratings) == 0 {
		f.Add("ratings", "none", "at least one rating")
	}
	var sum int64
	for i, r := range ratings {
		if r < 25*measure.Percent || r > whole {
			f.Add(fault.At("ratings", i), r, "25% to 100%")
			continue
		}
		sum += int64(r) // no overflow for any number that fits in memory
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	d, ok := natural.Quotient(natural.HalfUp, []int64{int64(usualEfficiency), int64(len(ratings)), int64(whole)}, []int64{sum})
	if !ok {
		return 0, tooLarge("the delay factor")
	}
	return measure.Ratio(d), nil
}

// PreliminaryLimit is the largest acceptable deviation of a preliminary estimate of labor
// from the detailed one (NAVEDTRA 14045, 1997, chapter 2).
const PreliminaryLimit = 15 * measure.Percent

// Deviation returns the deviation of a preliminary estimate of labor from the detailed one,
// as a share of the latter, to the nearest part per million: compare it with
// [PreliminaryLimit]. Both must be more than zero, else the error is a
// *[measure.FieldError]; a share out of range is a *[measure.RangeError].
func Deviation(preliminary, detailed measure.Duration) (measure.Ratio, error) {
	var f fault.List
	if preliminary <= 0 {
		f.Add("preliminary", preliminary, "more than zero")
	}
	if detailed <= 0 {
		f.Add("detailed", detailed, "more than zero")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	off := max(preliminary-detailed, detailed-preliminary)
	d, ok := natural.Quotient(natural.HalfUp, []int64{int64(off), int64(whole)}, []int64{int64(detailed)})
	if !ok {
		return 0, tooLarge("the deviation of " + preliminary.String())
	}
	return measure.Ratio(d), nil
}
