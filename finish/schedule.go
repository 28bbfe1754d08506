package finish

import (
	"strconv"
	"time"

	"example.com/longpoint/measure"
)

// Site says when and by how many people a job is worked on. Only Start must be
// set.
type Site struct {
	// Start is the moment from which work may go on. Its location is that of the
	// job: working hours are clock times there. No clock is read. A start that was
	// read from JSON has an offset and no rules for its changes: give it a location
	// with [time.Time.In] where clocks change during the work.
	Start time.Time `json:"start"`

	Open  measure.Duration `json:"open,omitempty"`  // of the day's work, after midnight; Open and Close 0 = 8 h and 16 h
	Close measure.Duration `json:"close,omitempty"` // after Open, to 24 h
	Days  Weekdays         `json:"days,omitempty"`  // worked; 0 = Monday to Friday
	Off   []Date           `json:"off,omitempty"`   // without work besides; days of the calendar

	Crews int64 `json:"crews,omitempty"` // at work side by side, one on a step; 0 = 1, to 1000
	Hands int64 `json:"hands,omitempty"` // of each crew, who share the labor; 0 = 1, to 1000
}

const (
	maxCrews    = 1000
	maxSlots    = 100_000
	scheduleEnd = 10 // years after the start
)

// Slot is one coat, or the whole of a step that has no coats.
type Slot struct {
	Job   string    `json:"job"`   // label of the job
	Step  string    `json:"step"`  // label of the step
	Task  Task      `json:"task"`  // what is done
	Coat  int64     `json:"coat"`  // from 1
	Crew  int64     `json:"crew"`  // from 1
	Start time.Time `json:"start"` // within working hours
	End   time.Time `json:"end"`   // nights and days off may lie between
	Dry   time.Time `json:"dry"`   // when work on the job may go on over it
	Cured time.Time `json:"cured"` // when it is in use
}

// Timetable is the clock times of a finishing list.
type Timetable struct {
	Slots []Slot    `json:"slots"` // by start, then in the order of the jobs
	Done  time.Time `json:"done"`  // when the last work ends; the start where there is none
	Cured time.Time `json:"cured"` // when everything is in use
}

// Schedule lays the steps of a [List] out in time. The steps of one job follow
// each other in their order, and none starts before everything under it is dry;
// sealing waits until it has cured. Jobs go on side by side as far as there are
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
// or of more than 100,000 slots is an [*OverflowError].
func Schedule(steps []StepResult, s Site) (*Timetable, error) {
	if err := s.fill(); err != nil {
		return nil, within("site", err)
	}
	lanes, err := lanesOf(steps, s.Hands)
	if err != nil {
		return nil, err
	}
	c := &calendar{site: s, loc: s.Start.Location(), day: DateOf(s.Start), limit: s.Start.AddDate(scheduleEnd, 0, 0)}
	free := make([]time.Time, s.Crews)
	for i := range free {
		free[i] = s.Start
	}
	for i := range lanes {
		lanes[i].dry, lanes[i].cured = s.Start, s.Start
	}
	table := &Timetable{Done: s.Start, Cured: s.Start}
	air := air{clear: s.Start, still: s.Start}
	for {
		k, start, window, err := next(c, lanes, free, air)
		if err != nil {
			return nil, err
		}
		if k < 0 {
			return table, nil
		}
		if len(table.Slots) == maxSlots {
			return nil, &OverflowError{What: "the schedule, of more than " + strconv.Itoa(maxSlots) + " slots,"}
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
		slot := Slot{Job: step.Job, Step: step.Step, Task: step.Task, Coat: l.coat + 1, Crew: int64(crew) + 1, Start: start, End: end,
			Dry: end.Add(time.Duration(step.Dry.Recoat)), Cured: end.Add(time.Duration(step.Dry.cure()))}
		table.Slots = append(table.Slots, slot)
		free[crew], l.crew = end, crew
		if l.begun.IsZero() {
			l.begun = start
		}
		air.take(slot)
		l.dry, l.cured = later(l.dry, slot.Dry), later(l.cured, slot.Cured)
		table.Done, table.Cured = later(table.Done, end), later(table.Cured, slot.Cured)
		if l.coat++; l.coat >= step.Coats {
			l.coat, l.steps = 0, l.steps[1:]
			switch {
			case step.Task.fastens():
				l.fasten--
				l.fastened = later(l.fastened, end)
			case step.Task == Sand:
				l.toCoat, l.toFinish = max(l.toCoat-1, 0), max(l.toFinish-1, 0)
			}
		}
	}
}

// fill puts the usual values where s has none, or reports the first that is
// wrong.
func (s *Site) fill() error {
	if s.Open == 0 && s.Close == 0 {
		s.Open, s.Close = 8*hour, 16*hour
	}
	if s.Days == 0 {
		s.Days = WeekdaysOf(time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday)
	}
	switch {
	case s.Start.IsZero():
		return bad("start", "", "a time")
	case s.Start.Year() < 1 || s.Start.Year() > 9999-scheduleEnd-1:
		return bad("start", s.Start.Year(), "a year from 1 to "+strconv.Itoa(9999-scheduleEnd-1))
	case s.Open < 0 || s.Open >= 24*hour:
		return bad("open", s.Open, "at least 0 h and less than 24 h")
	case s.Close <= s.Open || s.Close > 24*hour:
		return bad("close", s.Close, "after open ("+s.Open.String()+") and at most 24 h")
	case s.Days >= 1<<len(weekdayNames):
		return bad("days", uint8(s.Days), "days of the week")
	case s.Crews < 0 || s.Crews > maxCrews:
		return bad("crews", s.Crews, "0 to "+strconv.Itoa(maxCrews))
	case s.Hands < 0 || s.Hands > maxCrews:
		return bad("hands", s.Hands, "0 to "+strconv.Itoa(maxCrews))
	}
	for i, d := range s.Off {
		if !d.exists() {
			return bad("off["+strconv.Itoa(i)+"]", d, wantDate)
		}
	}
	s.Crews, s.Hands = max(s.Crews, 1), max(s.Hands, 1)
	s.Start = s.Start.Round(0) // without a reading of the monotonic clock
	return nil
}

// lane is a job on its way.
type lane struct {
	steps      []StepResult // still to do
	coat       int64        // of steps[0], done
	crew       int          // that was on it last, or -1
	hands      int64
	dry, cured time.Time // when everything done so far is

	begun    time.Time // when its first slot starts; zero before that
	fasten   int       // steps that fasten, still to do
	toCoat   int       // sanding still to do before its first coat
	toFinish int       // sanding still to do before its first coat of paint or sealer
	fastened time.Time // when the last of those that are done ends
}

// fastens reports whether a task puts trim on the wall, against which the next
// trim is fitted.
func (t Task) fastens() bool { return t == Install || t == Set }

// finishes reports whether a task lays a coat that goes over primer.
func (t Task) finishes() bool { return t.coats() && t != Prime }

// air is what the jobs share: dust does not settle on wet coats.
type air struct {
	clear time.Time // from which everything wet so far is dry
	still time.Time // from which nobody sands
}

func (a *air) take(s Slot) {
	switch {
	case s.Task == Sand:
		a.still = later(a.still, s.End)
	case s.Task.coats():
		a.clear = later(a.clear, s.Dry)
	}
}

// from returns the moment from which the air allows the task.
func (a air) from(t Task) time.Time {
	switch {
	case t == Sand:
		return a.clear
	case t.coats():
		return a.still
	}
	return time.Time{}
}

// lanesOf groups the steps by job, in the order of first mention.
func lanesOf(steps []StepResult, hands int64) ([]lane, error) {
	var lanes []lane
	at := make(map[string]int)
	for i, s := range steps {
		path := "steps[" + strconv.Itoa(i) + "]"
		switch {
		case s.Labor < 0:
			return nil, bad(path+".labor", s.Labor, "zero or more")
		case s.Coats < 0:
			return nil, bad(path+".coats", s.Coats, "zero or more")
		}
		if err := s.Dry.check(); err != nil {
			return nil, within(path+".dry", err)
		}
		if s.Labor == 0 && s.Dry == (Drying{}) {
			continue
		}
		k, ok := at[s.Job]
		if !ok {
			k = len(lanes)
			at[s.Job] = k
			lanes = append(lanes, lane{crew: -1, hands: hands})
		}
		lanes[k].steps = append(lanes[k].steps, s)
		if s.Task.fastens() {
			lanes[k].fasten++
		}
	}
	for i := range lanes {
		lanes[i].toCoat = sandsBefore(lanes[i].steps, Task.coats)
		lanes[i].toFinish = sandsBefore(lanes[i].steps, Task.finishes)
	}
	return lanes, nil
}

// sandsBefore counts the steps that sand before the first that is a coat.
func sandsBefore(steps []StepResult, coat func(Task) bool) int {
	n := 0
	for _, s := range steps {
		switch {
		case coat(s.Task):
			return n
		case s.Task == Sand:
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
	upTo, _ := quotient(down, []int64{int64(s.Labor), l.coat + 1}, []int64{coats})
	before, _ := quotient(down, []int64{int64(s.Labor), l.coat}, []int64{coats})
	return measure.Duration(ceilDiv(upTo-before, l.hands))
}

// ready returns when the next step of the job may start.
func (l *lane) ready() time.Time {
	if l.steps[0].Task == Seal && l.coat == 0 {
		return l.cured
	}
	return l.dry
}

// next returns the job that can start first, or -1 when none is left. Coats wait for
// the dusty work of all jobs. Of jobs that wait there is always one that can go on: one
// that has begun and hangs waits at a coat, so its own sanding for that coat is done.
func next(c *calendar, lanes []lane, free []time.Time, air air) (k int, start time.Time, window int, err error) {
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
		task, at := l.steps[0].Task, later(crew, l.ready())
		if onWall := !l.begun.IsZero() && l.fasten == 0; onWall && (task == Prime && !prime || task.finishes() && !paint) {
			continue
		}
		if i > 0 {
			at = later(at, lanes[i-1].begun)
		}
		if task.fastens() || l.fasten > 0 && (task == Glue || task == GlueJoints) {
			if !hung {
				continue
			}
			at = later(at, fastened)
		}
		t, w, ok := c.from(later(at, air.from(task)))
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
	return &OverflowError{What: "the schedule, of more than " + strconv.Itoa(scheduleEnd) + " years,"}
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
