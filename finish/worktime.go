package finish

import (
	"math"

	"example.com/longpoint/measure"
)

// The spans of time that rates and drying are made of.
const (
	second measure.Duration = 1_000_000_000
	minute                  = 60 * second
	hour                    = 60 * minute
)

// whole is one, 100 %.
const whole = 100 * measure.Percent

// LaborRate is how fast a task goes.
type LaborRate struct {
	Task    Task             `json:"task"`             // what is done
	PerHour Amount           `json:"per_hour"`         // length, area or count done in an hour, see CommonRates; zero = no time in proportion
	Joint   measure.Duration `json:"joint,omitempty"`  // more for each joint and corner at which the task has work; >= 0
	Source  string           `json:"source,omitempty"` // publication, or "common practice, no source"
}

func (r LaborRate) check() error {
	switch {
	case int(r.Task) >= len(taskNames):
		return bad("task", uint8(r.Task), "a known task")
	case r.PerHour.n < 0:
		return bad("per_hour", r.PerHour, "zero or more")
	case r.PerHour.n > 0 && r.PerHour.dim > ByArea:
		return bad("per_hour", r.PerHour, "a length, an area or a count")
	case r.Joint < 0:
		return bad("joint", r.Joint, "zero or more")
	}
	return nil
}

// time returns the labor for work (of the kind of PerHour) and joints, rounded
// up to a second.
func (r LaborRate) time(work Amount, joints int64) (measure.Duration, error) {
	var secs int64
	ok := true
	if r.PerHour.n > 0 {
		secs, ok = quotient(up, []int64{work.n, 3600}, []int64{r.PerHour.n})
	}
	each := int64(r.Joint)
	extra, ok2 := mul(joints, each)
	if !ok || !ok2 || secs > math.MaxInt64/int64(second) {
		return 0, &OverflowError{What: "the labor of " + r.Task.String()}
	}
	sum, ok := add(secs*int64(second), extra)
	if !ok {
		return 0, &OverflowError{What: "the labor of " + r.Task.String()}
	}
	return measure.Duration(sum), nil
}

// CommonRates returns rates to start from, as a fresh slice. There is no public
// handbook value for most of this: all are common practice without a source
// unless the rate says otherwise. Replace them with your own as soon as you have
// timed a job. Brads are driven along with the nails of Install, which includes
// their time; strips of a course are set by the foot, joints between them included.
// Caulk, tape and backer rod count each edge by itself, all else the foot of trim.
func CommonRates() []LaborRate {
	ft := func(n int64) Amount { return Amount{ByLength, n * ticksPerInch * 12} }
	return []LaborRate{
		{Install, ft(25), 3 * minute, commonPractice},
		{Glue, ft(120), 0, commonPractice},
		{Fill, Count(200), 0, commonPractice},
		{Sand, ft(150), 0, commonPractice},
		{Caulk, ft(150), minute, commonPractice},
		{Mask, ft(300), 0, commonPractice},
		{Prime, ft(100), 0, commonPractice},
		{Paint, ft(80), 0, commonPractice},
		{Set, ft(8), 5 * minute, commonPractice},
		{GroutJoints, ft(40), 0, commonPractice},
		{Seal, ft(120), 0, commonPractice},
		{Clean, ft(200), 0, commonPractice},
		{BackJoints, ft(120), 0, commonPractice},
		{GlueJoints, Count(60), 0, commonPractice},
	}
}
