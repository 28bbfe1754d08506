package estimate

import (
	"math"
	"slices"
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Rate is how fast a task goes.
type Rate struct {
	Task    finish.Task      `json:"task"`             // what is done
	PerHour finish.Amount    `json:"per_hour"`         // length, area or count done in an hour, see DefaultRates; zero = no time in proportion
	Joint   measure.Duration `json:"joint,omitempty"`  // more for each joint and corner at which the task has work; >= 0
	Source  string           `json:"source,omitempty"` // publication, or "common practice, no source"
}

func (r Rate) check() error {
	_, known := r.Task.MarshalText()
	_, isVolume := r.PerHour.Volume()
	_, isWeight := r.PerHour.Weight()
	switch {
	case known != nil:
		return fault.Field("task", uint8(r.Task), "a known task")
	case r.PerHour.Sign() < 0:
		return fault.Field("per_hour", r.PerHour, "zero or more")
	case r.PerHour.Sign() > 0 && (isVolume || isWeight):
		return fault.Field("per_hour", r.PerHour, "a length, an area or a count")
	case r.Joint < 0:
		return fault.Field("joint", r.Joint, "zero or more")
	}
	return nil
}

// time returns the labor for work (of the kind of PerHour) and joints, rounded
// up to a second.
func (r Rate) time(work finish.Amount, joints int64) (measure.Duration, error) {
	var secs int64
	if r.PerHour.Sign() > 0 {
		// so many seconds for what is done in an hour
		all, err := finish.Yield{Covers: r.PerHour, Of: finish.Count(3600)}.Material(work)
		if err != nil {
			return 0, r.tooLong()
		}
		secs, _ = all.Pieces()
	}
	extra, ok := natural.Mul(joints, int64(r.Joint))
	if !ok || secs > math.MaxInt64/int64(second) {
		return 0, r.tooLong()
	}
	sum, ok := natural.Add(secs*int64(second), extra)
	if !ok {
		return 0, r.tooLong()
	}
	return measure.Duration(sum), nil
}

func (r Rate) tooLong() error { return tooLarge("the labor of " + r.Task.String()) }

// work returns the work of a step in the kind that the rate counts.
func (r Rate) work(s finish.StepResult) (finish.Amount, error) {
	if _, ok := r.PerHour.Length(); ok {
		return finish.AmountOf(s.Length), nil
	}
	if _, ok := r.PerHour.Area(); ok {
		return finish.AmountOf(s.Area), nil
	}
	work := finish.Count(s.Count)
	if n, _ := work.Pieces(); n != s.Count {
		return work, r.tooLong()
	}
	return work, nil
}

// checkStep reports what no list of package finish has.
func checkStep(s finish.StepResult) error {
	switch {
	case s.Length < 0:
		return fault.Field("length", s.Length.About(), "zero or more")
	case s.Area < 0:
		return fault.Field("area", s.Area, "zero or more")
	case s.Count < 0:
		return fault.Field("count", s.Count, "zero or more")
	case s.Joints < 0:
		return fault.Field("joints", s.Joints, "zero or more")
	}
	return nil
}

// Labor returns how long the steps of a [finish.List] take, each for itself and all
// together. Nil rates stand for [DefaultRates]; a task without a rate takes no time. Each
// step is rounded up to a second. The error is a *[measure.FieldError] for a rate that
// cannot be or that stands twice, or a *[measure.RangeError].
func Labor(steps []finish.StepResult, rates []Rate) ([]measure.Duration, measure.Duration, error) {
	if rates == nil {
		rates = DefaultRates()
	}
	for i, r := range rates {
		at := "rates[" + strconv.Itoa(i) + "]"
		if err := r.check(); err != nil {
			return nil, 0, fault.Under(at, err)
		}
		if slices.ContainsFunc(rates[:i], func(o Rate) bool { return o.Task == r.Task }) {
			return nil, 0, fault.Field(at+".task", r.Task, "a task that no other has")
		}
	}
	all := make([]measure.Duration, len(steps))
	var total int64
	for i, s := range steps {
		if err := checkStep(s); err != nil {
			return nil, 0, fault.Under("steps["+strconv.Itoa(i)+"]", err)
		}
		if k := slices.IndexFunc(rates, func(r Rate) bool { return r.Task == s.Task }); k >= 0 {
			work, err := rates[k].work(s)
			if err == nil {
				all[i], err = rates[k].time(work, s.Joints)
			}
			if err != nil {
				return nil, 0, err
			}
		}
		var ok bool
		if total, ok = natural.Add(total, int64(all[i])); !ok {
			return nil, 0, tooLarge("the labor")
		}
	}
	return all, measure.Duration(total), nil
}

// DefaultRates returns rates to start from, as a fresh slice. There is no public
// handbook value for most of this: all are common practice without a source
// unless the rate says otherwise. Replace them with your own as soon as you have
// timed a job. Brads are driven along with the nails of Install, which includes
// their time; strips of a course are set by the foot, joints between them included.
// Caulk, tape and backer rod count each edge by itself, all else the foot of trim.
func DefaultRates() []Rate {
	ft := func(n int64) finish.Amount { return finish.AmountOf(measure.Length(n) * measure.Foot) }
	const commonPractice = "common practice, no source"
	return []Rate{
		{finish.TaskInstall, ft(25), 3 * minute, commonPractice},
		{finish.TaskGlue, ft(120), 0, commonPractice},
		{finish.TaskFill, finish.Count(200), 0, commonPractice},
		{finish.TaskSand, ft(150), 0, commonPractice},
		{finish.TaskCaulk, ft(150), minute, commonPractice},
		{finish.TaskMask, ft(300), 0, commonPractice},
		{finish.TaskPrime, ft(100), 0, commonPractice},
		{finish.TaskPaint, ft(80), 0, commonPractice},
		{finish.TaskSet, ft(8), 5 * minute, commonPractice},
		{finish.TaskGrout, ft(40), 0, commonPractice},
		{finish.TaskSeal, ft(120), 0, commonPractice},
		{finish.TaskClean, ft(200), 0, commonPractice},
		{finish.TaskBackerRod, ft(120), 0, commonPractice},
		{finish.TaskGlueJoints, finish.Count(60), 0, commonPractice},
	}
}
