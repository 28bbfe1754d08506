package estimate

import (
	"cmp"
	"math/big"
	"slices"
	"strconv"

	"example.com/longpoint/finish/labor"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// RateUpdate is the result of updating rates with a job. The caller decides whether to replace
// the old rates by Rates.
type RateUpdate struct {
	Rates    labor.Rates  `json:"rates"`              // as given, with the times of Changes
	Changes  []RateChange `json:"changes,omitempty"`  // in the order of the table
	Findings []Finding    `json:"findings,omitempty"` // hours that may be mistakes in the log
}

// RateChange is a rate before and after a job.
type RateChange struct {
	Rate      int              `json:"rate"`      // index into Rates.Table
	Was       measure.Duration `json:"was"`       // its time before
	Now       measure.Duration `json:"now"`       // and now
	Jobs      int64            `json:"jobs"`      // number of own jobs behind it now
	Estimated measure.Duration `json:"estimated"` // labor by this rate in the lines with hours in the log
	Actual    measure.Duration `json:"actual"`    // its part of those hours
}

// workKey identifies the line of labor of a log entry.
type workKey struct{ room, profile, step string }

// UpdateRates averages the rates used by the labor lines of a job with the hours in its log.
// Hours belong to the line of their room, profile and step, and are divided among its rates in
// proportion to the estimate, since logs do not separate, say, the copes. A rate based on n
// jobs has the weight n, the job has the weight 1:
//
//	new time = time × (n + actual/estimated) / (n + 1)
//
// rounded to the nearest nanosecond, a half up. A rate without own jobs, such as a default, has
// the weight 1. Lines without hours in the log change nothing.
//
// Lines are those of [labor.Lines] with the same rates. All faults of rates, lines and log are
// reported together; a time out of range is a [*measure.RangeError].
func UpdateRates(r labor.Rates, lines []labor.Line, log JobLog) (*RateUpdate, error) {
	if r.Table == nil {
		r.Table = labor.DefaultRates().Table
	}
	var bad fault.List
	bad.Under("rates", r.Validate())
	hours, err := log.hours()
	bad.Under("log", err)
	estimated := map[workKey]int64{}
	for i, l := range lines {
		at := "lines[" + strconv.Itoa(i) + "]"
		if l.Labor < 0 {
			bad.Add(at+".labor", l.Labor, "zero or more")
		}
		for k, p := range l.Parts {
			part := at + ".parts[" + strconv.Itoa(k) + "]"
			if p.Rate < 0 || p.Rate >= len(r.Table) {
				bad.Add(part+".rate", p.Rate, "an index into the table of rates")
			}
			if p.Time < 0 {
				bad.Add(part+".time", p.Time, "zero or more")
			}
		}
		k := workKey{l.Room, l.Profile, l.Step}
		sum, ok := natural.Add(estimated[k], max(0, int64(l.Labor)))
		if !ok {
			bad.Under(at, tooLarge("the labor of "+l.Step))
		}
		estimated[k] = sum
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	u := &RateUpdate{Rates: r}
	u.Rates.Table = slices.Clone(r.Table)
	for i, use := range rateUses(len(r.Table), lines, estimated, hours) {
		if use.estimated.Sign() == 0 {
			continue
		}
		c, ok := use.average(r.Table[i])
		if !ok {
			return nil, tooLarge("the time of rates.table[" + strconv.Itoa(i) + "]")
		}
		c.Rate = i
		u.Changes = append(u.Changes, c)
		rate := &u.Rates.Table[i]
		if rate.Jobs == 0 {
			rate.Source = "own jobs, averaged with: " + rate.Source
		}
		rate.Time, rate.Jobs, rate.Date = c.Now, c.Jobs, cmp.Or(log.Date, rate.Date)
		if f, odd := c.odd(); odd {
			u.Findings = append(u.Findings, f)
		}
	}
	return u, nil
}

// rateUse is the estimated and actual time of a rate on a job, in nanoseconds.
type rateUse struct{ estimated, actual *big.Rat }

// rateUses divides the hours of the log among the rates.
func rateUses(rates int, lines []labor.Line, estimated, hours map[workKey]int64) []rateUse {
	uses := make([]rateUse, rates)
	for i := range uses {
		uses[i] = rateUse{new(big.Rat), new(big.Rat)}
	}
	for _, l := range lines {
		k := workKey{l.Room, l.Profile, l.Step}
		if hours[k] == 0 || estimated[k] == 0 {
			continue
		}
		for _, p := range l.Parts {
			u, x := &uses[p.Rate], new(big.Rat).SetInt64(int64(p.Time))
			u.estimated.Add(u.estimated, x)
			u.actual.Add(u.actual, x.Mul(x, big.NewRat(hours[k], estimated[k])))
		}
	}
	return uses
}

// average returns the rate's time averaged with the job.
func (u rateUse) average(r labor.Rate) (c RateChange, ok bool) {
	n := max(1, r.Jobs)
	x := new(big.Rat).Quo(u.actual, u.estimated)
	x.Add(x, new(big.Rat).SetInt64(n))
	x.Mul(x, new(big.Rat).SetFrac(big.NewInt(int64(r.Time)), new(big.Int).Add(big.NewInt(n), big.NewInt(1))))
	now, ok1 := roundRat(x, true)
	estimated, ok2 := roundRat(u.estimated, true)
	actual, ok3 := roundRat(u.actual, true)
	jobs, ok4 := natural.Add(r.Jobs, 1)
	return RateChange{Was: r.Time, Now: measure.Duration(now), Jobs: jobs, Estimated: measure.Duration(estimated), Actual: measure.Duration(actual)}, ok1 && ok2 && ok3 && ok4
}

// odd reports hours that are three times the estimate or a third of it.
func (c RateChange) odd() (Finding, bool) {
	if natural.CompareProducts(int64(c.Actual), 1, int64(c.Estimated), 3) < 0 && natural.CompareProducts(int64(c.Actual), 3, int64(c.Estimated), 1) > 0 {
		return Finding{}, false
	}
	return Finding{FindingLoggedHours, "rates.table[" + strconv.Itoa(c.Rate) + "].time", c.Now.String(), "the log has " + c.Actual.String() + " for it where " + c.Estimated.String() + " was estimated; look for a slip before you take it over"}, true
}

// hours returns the hours of a log by line of labor.
func (l JobLog) hours() (map[workKey]int64, error) {
	var bad fault.List
	hours := map[workKey]int64{}
	for i, e := range l.Entries {
		path := "entries[" + strconv.Itoa(i) + "]"
		bad.Under(path, e.cost().check())
		if e.Kind != CostLabor || e.Labor < 0 {
			continue
		}
		k := workKey{e.Room, e.Profile, e.Step}
		sum, ok := natural.Add(hours[k], int64(e.Labor))
		if !ok {
			bad.Under(path, tooLarge("the hours of "+e.Label))
		}
		hours[k] = sum
	}
	return hours, bad.Err()
}
