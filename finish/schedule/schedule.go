package schedule

import (
	"strconv"
	"time"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Calendar says when and by how many people a job is worked on. Only Start must be
// set.
type Calendar struct {
	// Start is the moment from which work may go on. Its location is that of the
	// job: working hours are clock times there. No clock is read. A start that was
	// read from JSON has an offset and no rules for its changes: give it a location
	// with [time.Time.In] where clocks change during the work.
	Start time.Time `json:"start"`

	Open  measure.Duration `json:"open,omitempty"`  // of the day's work, after midnight; Open and Close 0 = 8 h and 16 h
	Close measure.Duration `json:"close,omitempty"` // after Open, to 24 h
	Days  Weekdays         `json:"days,omitempty"`  // worked; 0 = Monday to Friday
	Off   []Date           `json:"off,omitempty"`   // without work besides; days of the calendar

	Crews    int64 `json:"crews,omitempty"`     // at work side by side, one on a step; 0 = 1, to 1000
	CrewSize int64 `json:"crew_size,omitempty"` // of each crew, who share the labor; 0 = 1, to 1000
}

const hour = measure.Duration(time.Hour)

const (
	maxCrews    = 1000
	maxSlots    = 100_000
	scheduleEnd = 10 // years after the start
)

// Activity is a step of a job: so many coats, or one thing done at a stretch.
type Activity struct {
	Job   string           `json:"job"`             // activities of one job follow each other
	Step  string           `json:"step"`            // what is done, for people
	Labor measure.Duration `json:"labor"`           // of all coats together; >= 0
	Coats int64            `json:"coats,omitempty"` // one after another; 0 = 1

	Recoat measure.Duration `json:"recoat,omitempty"` // after each coat, until work goes on over it; >= 0
	Cure   measure.Duration `json:"cure,omitempty"`   // after each coat, until it is in use; 0 = Recoat, else >= Recoat

	Hangs     bool `json:"hangs,omitempty"`      // fastens trim to the wall, against which the next trim is fitted
	WithTrim  bool `json:"with_trim,omitempty"`  // waits with the trim that it is for, as glue does
	Dusty     bool `json:"dusty,omitempty"`      // raises dust, as sanding does
	Wet       bool `json:"wet,omitempty"`        // a coat on which dust must not settle
	Finish    bool `json:"finish,omitempty"`     // of Wet: not a primer, so that all dusty work goes before it
	AfterCure bool `json:"after_cure,omitempty"` // waits until all before it in the job has cured, as a sealer does
}

func (a Activity) check() error {
	switch {
	case a.Labor < 0:
		return fault.Field("labor", a.Labor, "zero or more")
	case a.Coats < 0:
		return fault.Field("coats", a.Coats, "zero or more")
	case a.Recoat < 0:
		return fault.Field("recoat", a.Recoat, "zero or more")
	case a.Dusty && a.Wet:
		return fault.Field("dusty", a.Dusty, "false for what is wet")
	case a.Cure != 0 && a.Cure < a.Recoat:
		return fault.Field("cure", a.Cure, "zero or at least as long as recoat ("+a.Recoat.String()+")")
	}
	return nil
}

// finishes reports whether a lays a coat that goes over primer.
func (a Activity) finishes() bool { return a.Wet && a.Finish }

// primes reports whether a lays a coat under the others.
func (a Activity) primes() bool { return a.Wet && !a.Finish }

// Slot is one coat of an activity, or the whole of one that has no coats.
type Slot struct {
	Activity int       `json:"activity"` // index into the activities
	Job      string    `json:"job"`      // the activity's
	Step     string    `json:"step"`     // the activity's
	Coat     int64     `json:"coat"`     // from 1
	Crew     int64     `json:"crew"`     // from 1
	Start    time.Time `json:"start"`    // within working hours
	End      time.Time `json:"end"`      // nights and days off may lie between
	Dry      time.Time `json:"dry"`      // when work on the job may go on over it
	Cured    time.Time `json:"cured"`    // when it is in use
}

// Schedule is when each activity is done.
type Schedule struct {
	Slots []Slot    `json:"slots"` // by start, then in the order of the jobs
	Done  time.Time `json:"done"`  // when the last work ends; the start where there is none
	Cured time.Time `json:"cured"` // when everything is in use
}

// Build lays activities, such as the steps of finishing, out in time. The steps of one
// job follow each other in their order, and none starts before everything under it is dry;
// a sealer waits until it has cured. Jobs go on side by side as far as there are
// crews, so a job for each room lets one room dry while the next is painted. Of
// the jobs that could start at the same moment the first in the list does, with
// the crew that was on it before, or else the one of the lowest number. This
// keeps crews busy, which need not give the earliest end.
//
// The order of the list is the order of the jobs. No job begins before the one
// before it has begun, and trim is fastened only when the trim of all jobs before
// it is on the wall: casing first, then the base that dies into it, then crown. Glue
// waits with the trim that it is for.
//
// All jobs share one air: no sanding while primer, paint or sealer of any job is wet, and
// no such coat while somebody sands. So the dusty work comes first: nobody primes before
// all jobs are sanded for their first coat, nor paints or seals before all are sanded
// for their paint or sealer. Only a coat with which a job begins, or that goes on
// before the trim is hung, does not wait, since other jobs may wait for it.
//
// Labor is spent in working hours only: a step goes on over nights and days off,
// and a coat starts to dry when all of it is on. Working hours are clock times:
// where clocks change, an hour that is skipped or shown twice makes that day
// shorter or longer, not a coat. A time that the clocks skip counts as the moment
// of the change, one that they show twice as the first. Drying takes the time it
// takes, by day and night, whatever the clocks show.
//
// A step that takes no labor and does not dry is left out. A schedule longer than ten years
// or of more than 100,000 slots is a [*measure.RangeError].
func Build(activities []Activity, cal Calendar) (*Schedule, error) {
	if err := cal.fill(); err != nil {
		return nil, fault.Under("calendar", err)
	}
	lanes, err := lanesOf(activities, cal.CrewSize)
	if err != nil {
		return nil, err
	}
	c := &hours{cal: cal, loc: cal.Start.Location(), day: DateOf(cal.Start), limit: cal.Start.AddDate(scheduleEnd, 0, 0)}
	free := make([]time.Time, cal.Crews)
	for i := range free {
		free[i] = cal.Start
	}
	for i := range lanes {
		lanes[i].dry, lanes[i].cured = cal.Start, cal.Start
	}
	table := &Schedule{Done: cal.Start, Cured: cal.Start}
	air := air{clear: cal.Start, still: cal.Start}
	for {
		k, start, window, err := next(c, lanes, free, air)
		if err != nil {
			return nil, err
		}
		if k < 0 {
			return table, nil
		}
		if len(table.Slots) == maxSlots {
			return nil, tooLarge("the schedule, of more than " + strconv.Itoa(maxSlots) + " slots,")
		}
		l := &lanes[k]
		step := l.steps[0]
		crew := l.crew
		if crew < 0 || free[crew].After(start) {
			for crew = 0; free[crew].After(start); crew++ { // one is free: next found it
			}
		}
		end, ok := c.work(start, window, l.share())
		if !ok {
			return nil, tooLong()
		}
		slot := Slot{Activity: step.at, Job: step.Job, Step: step.Step, Coat: l.coat + 1, Crew: int64(crew) + 1, Start: start, End: end,
			Dry: end.Add(time.Duration(step.Recoat)), Cured: end.Add(time.Duration(max(step.Cure, step.Recoat)))}
		table.Slots = append(table.Slots, slot)
		free[crew], l.crew = end, crew
		if l.begun.IsZero() {
			l.begun = start
		}
		air.take(step.Activity, slot)
		l.dry, l.cured = later(l.dry, slot.Dry), later(l.cured, slot.Cured)
		table.Done, table.Cured = later(table.Done, end), later(table.Cured, slot.Cured)
		if l.coat++; l.coat >= step.Coats {
			l.coat, l.steps = 0, l.steps[1:]
			if step.Hangs {
				l.fasten--
				l.fastened = later(l.fastened, end)
			}
			if step.Dusty {
				l.toCoat, l.toFinish = max(l.toCoat-1, 0), max(l.toFinish-1, 0)
			}
		}
	}
}

// fill puts the usual values where s has none, or reports the first that is
// wrong.
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
	case s.Crews < 0 || s.Crews > maxCrews:
		return fault.Field("crews", s.Crews, "0 to "+strconv.Itoa(maxCrews))
	case s.CrewSize < 0 || s.CrewSize > maxCrews:
		return fault.Field("crew_size", s.CrewSize, "0 to "+strconv.Itoa(maxCrews))
	}
	for i, d := range s.Off {
		if !d.exists() {
			return fault.Field("off["+strconv.Itoa(i)+"]", d, wantDate)
		}
	}
	s.Crews, s.CrewSize = max(s.Crews, 1), max(s.CrewSize, 1)
	s.Start = s.Start.Round(0) // without a reading of the monotonic clock
	return nil
}

// step is an activity and its index.
type step struct {
	Activity
	at int
}

// lane is a job on its way.
type lane struct {
	steps      []step // still to do
	coat       int64  // of steps[0], done
	crew       int    // that was on it last, or -1
	hands      int64
	dry, cured time.Time // when everything done so far is

	begun    time.Time // when its first slot starts; zero before that
	fasten   int       // steps that fasten, still to do
	toCoat   int       // sanding still to do before its first coat
	toFinish int       // sanding still to do before its first coat of paint or sealer
	fastened time.Time // when the last of those that are done ends
}

// air is what the jobs share: dust does not settle on wet coats.
type air struct {
	clear time.Time // from which everything wet so far is dry
	still time.Time // from which nobody sands
}

func (a *air) take(of Activity, s Slot) {
	if of.Dusty {
		a.still = later(a.still, s.End)
	}
	if of.Wet {
		a.clear = later(a.clear, s.Dry)
	}
}

// from returns the moment from which the air allows the activity.
func (a air) from(of Activity) time.Time {
	var t time.Time
	if of.Dusty {
		t = a.clear
	}
	if of.Wet {
		t = later(t, a.still)
	}
	return t
}

// lanesOf groups the activities by job, in the order of first mention.
func lanesOf(activities []Activity, hands int64) ([]lane, error) {
	var lanes []lane
	at := make(map[string]int)
	for i, a := range activities {
		if err := a.check(); err != nil {
			return nil, fault.Under("activities["+strconv.Itoa(i)+"]", err)
		}
		if a.Labor == 0 && a.Recoat == 0 && a.Cure == 0 {
			continue
		}
		k, ok := at[a.Job]
		if !ok {
			k = len(lanes)
			at[a.Job] = k
			lanes = append(lanes, lane{crew: -1, hands: hands})
		}
		lanes[k].steps = append(lanes[k].steps, step{a, i})
		if a.Hangs {
			lanes[k].fasten++
		}
	}
	for i := range lanes {
		lanes[i].toCoat = dustBefore(lanes[i].steps, func(a Activity) bool { return a.Wet })
		lanes[i].toFinish = dustBefore(lanes[i].steps, Activity.finishes)
	}
	return lanes, nil
}

// dustBefore counts the dusty steps before the first that is a coat.
func dustBefore(steps []step, coat func(Activity) bool) int {
	n := 0
	for _, s := range steps {
		switch {
		case coat(s.Activity):
			return n
		case s.Dusty:
			n++
		}
	}
	return n
}

// share returns the working time of the next coat: the labor in equal parts, to
// the nanosecond, by the hands of a crew.
func (l *lane) share() measure.Duration {
	s := l.steps[0]
	coats := max(s.Coats, 1)
	part := func(n int64) measure.Length { // a carrier: exact to 128 bits
		p, _, _ := measure.Length(s.Labor).MulDiv(n, coats, measure.RoundDown)
		return p
	}
	coat := int64(part(l.coat+1) - part(l.coat))
	share := coat / l.hands
	if coat%l.hands > 0 {
		share++
	}
	return measure.Duration(share)
}

// ready returns when the next step of the job may start.
func (l *lane) ready() time.Time {
	if l.steps[0].AfterCure && l.coat == 0 {
		return l.cured
	}
	return l.dry
}

// next returns the job that can start first, or -1 when none is left. Coats wait for
// the dusty work of all jobs. Of jobs that wait there is always one that can go on: one
// that has begun and hangs waits at a coat, so its own sanding for that coat is done.
func next(c *hours, lanes []lane, free []time.Time, air air) (k int, start time.Time, window int, err error) {
	prime, paint := true, true // the dusty work before the coat is done
	for i := range lanes {
		prime = prime && lanes[i].toCoat == 0
		paint = paint && lanes[i].toFinish == 0
	}
	crew := free[0]
	for _, t := range free[1:] {
		if t.Before(crew) {
			crew = t
		}
	}
	k = -1
	hung := true           // the trim of all jobs before is on the wall
	var fastened time.Time // since when
	for i := range lanes {
		l := &lanes[i]
		if i > 0 {
			before := &lanes[i-1]
			if before.begun.IsZero() {
				break // and so have none of those after it
			}
			hung = hung && before.fasten == 0
			fastened = later(fastened, before.fastened)
		}
		if len(l.steps) == 0 {
			continue
		}
		next, at := l.steps[0].Activity, later(crew, l.ready())
		if onWall := !l.begun.IsZero() && l.fasten == 0; onWall && (next.primes() && !prime || next.finishes() && !paint) {
			continue
		}
		if i > 0 {
			at = later(at, lanes[i-1].begun)
		}
		if next.Hangs || l.fasten > 0 && next.WithTrim {
			if !hung {
				continue
			}
			at = later(at, fastened)
		}
		t, w, ok := c.from(later(at, air.from(next)))
		if !ok {
			return 0, time.Time{}, 0, tooLong()
		}
		if k < 0 || t.Before(start) {
			k, start, window = i, t, w
		}
	}
	return k, start, window, nil
}

func tooLong() error {
	return tooLarge("the schedule, of more than " + strconv.Itoa(scheduleEnd) + " years,")
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "schedule.Build", Value: what, Reason: "too large to represent"}
}
