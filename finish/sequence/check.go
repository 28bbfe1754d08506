package sequence

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// The code of Check states the firm rules a second time, for events instead of edges. It
// uses nothing that Network builds, so each can find a mistake in the other.

// Event is a work, or one coat of it, as done or planned.
type Event struct {
	Work     int       `json:"work"`               // index into Job.Work, or into Job.Deliveries
	Delivery bool      `json:"delivery,omitempty"` // Work is a delivery
	Coat     int64     `json:"coat,omitempty"`     // of the work, from 1; 0 = 1
	Start    time.Time `json:"start"`              // of the work
	End      time.Time `json:"end"`                // not before Start
}

// Violation is the violation of a firm rule by events.
type Violation struct {
	Rule   RuleCode `json:"rule"`   // a firm one
	Early  int      `json:"early"`  // index of the event that is too early
	Late   int      `json:"late"`   // index of the event for which it has to wait; -1 if there is none
	Reason string   `json:"reason"` // in one sentence
}

// deed is an event with its properties.
type deed struct {
	at         int // index of the event
	stage      Stage
	task       finish.Task // where bare
	bare       bool        // the stage is that of the task
	w          *Work
	work       int // its index
	start, end time.Time
	dry        time.Time // when work over it may continue
	cured      time.Time
	number     int64
	racks      bool // done before its trim is installed
	last       bool // the last coat of its trim
	filler     bool // the sanding of trim on the wall before anything else is done to it
}

type checker struct {
	opt   Options
	job   *Job
	deeds []deed
	hang  map[[2]string]time.Time // when the hanging of a trim starts
	found []Violation
}

// maxViolations is the maximum number of violations reported.
const maxViolations = 1000

// Check returns the violations of firm rules by the events of a job, at most 1000, in the
// order of the events that are too early. It ignores choices, except that with
// FloorAfterPaint floor and shoe may follow the last coat. Work without an event counts as
// not done; a delivery without one arrives on its day. A sequence from Network, scheduled
// by schedule.Build, has no violations: see [Order.Events]. A nil o means the zero Options.
//
// The error joins a [*measure.FieldError] for each event without a valid work and each that
// ends before it starts.
func Check(job Job, events []Event, o *Options) ([]Violation, error) {
	c := &checker{opt: o.or(), job: &job, hang: map[[2]string]time.Time{}}
	if err := c.read(events); err != nil {
		return nil, err
	}
	c.trim()
	c.rooms()
	c.air()
	c.material(events)
	c.found = c.found[:min(len(c.found), maxViolations)]
	slices.SortStableFunc(c.found, func(a, b Violation) int { return cmp.Compare(a.Early, b.Early) })
	return c.found, nil
}

// read converts the events to deeds.
func (c *checker) read(events []Event) error {
	var bad fault.List
	c.opt.check(&bad)
	for i := range events {
		e, at := &events[i], "events["+strconv.Itoa(i)+"]"
		n := len(c.job.Work)
		if e.Delivery {
			n = len(c.job.Deliveries)
		}
		if e.Work < 0 || e.Work >= n {
			bad.Add(at+".work", e.Work, "an index below "+strconv.Itoa(n))
			continue
		}
		if e.End.Before(e.Start) {
			bad.Add(at+".end", e.End.Format(time.RFC3339), "not before its start")
		}
		if e.Delivery {
			continue
		}
		w := &c.job.Work[e.Work]
		d := deed{at: i, stage: w.stage(), task: w.Task, bare: w.Stage == "", w: w, work: e.Work, start: e.Start, end: e.End, number: max(e.Coat, 1)}
		d.dry = e.End.Add(time.Duration(max(w.Dry.Recoat, 0)))
		d.cured = e.End.Add(time.Duration(max(w.Dry.Recoat, w.Dry.Cure, 0)))
		c.deeds = append(c.deeds, d)
		if key := [2]string{w.Room, w.Profile}; d.stage == StageInstall {
			if t, ok := c.hang[key]; !ok || e.Start.Before(t) {
				c.hang[key] = e.Start
			}
		}
	}
	for i := range c.deeds {
		d := &c.deeds[i]
		up, ok := c.hang[[2]string{d.w.Room, d.w.Profile}]
		d.racks = ok && d.w.Profile != "" && d.stage != StageInstall && d.start.Before(up)
	}
	c.surfaces()
	return bad.Err()
}

// surfaces finds the last coat of each trim, and the sanding of trim that is bare except
// for filler.
func (c *checker) surfaces() {
	type surface struct{ last, touched time.Time }
	of := map[[2]string]*surface{}
	for i := range c.deeds {
		d := &c.deeds[i]
		if !d.isTrim() {
			continue
		}
		key := [2]string{d.w.Room, d.w.Profile}
		s := of[key]
		if s == nil {
			s = &surface{}
			of[key] = s
		}
		if d.stage == StageCoat && d.start.After(s.last) {
			s.last = d.start
		}
		bare := d.racks || d.stage == StageInstall || d.stage == StageFill || d.stage == StageSand
		if !bare && (s.touched.IsZero() || d.start.Before(s.touched)) {
			s.touched = d.start
		}
	}
	for i := range c.deeds {
		d := &c.deeds[i]
		s := of[[2]string{d.w.Room, d.w.Profile}]
		if s == nil {
			continue
		}
		d.last = d.stage == StageCoat && d.start.Equal(s.last)
		d.filler = d.stage == StageSand && !d.racks && (s.touched.IsZero() || !s.touched.Before(d.start))
	}
}

// broken records a violation: early must wait for late.
func (c *checker) broken(rule RuleCode, early, late *deed, said string) {
	if len(c.found) >= maxViolations {
		return
	}
	v := Violation{Rule: rule, Early: early.at, Late: -1, Reason: early.name() + " at " + early.start.Format("2006-01-02 15:04") + ": " + said}
	if late != nil {
		v.Late = late.at
	}
	c.found = append(c.found, v)
}

func (d *deed) name() string {
	s := d.w.step()
	if d.w.Profile != "" {
		s += ", " + d.w.Profile
	}
	if d.w.Room != "" {
		s += ", " + d.w.Room
	}
	return s
}

// isCaulk reports whether the deed lays a bead.
func (d *deed) isCaulk() bool {
	return d.stage == StageCaulk && (!d.bare || d.task == finish.TaskCaulk)
}

// isWet reports whether the deed lays a coat on which dust must not settle.
func (d *deed) isWet() bool {
	switch d.stage {
	case StagePrime, StageBackPrime, StageCoat, StageSeal, StageWallPaint, StageFloorCoat:
		return true
	}
	return false
}

// settled returns when cleaning or painting next to it may start: mortar under trim need
// not be hard.
func (d *deed) settled() time.Time {
	if d.isTrim() {
		return d.end
	}
	return d.dry
}

// isDusty reports whether it raises dust.
func (d *deed) isDusty() bool { return d.stage == StageSand || d.isTrade() }

// isTrade reports whether it is work with saws and tools in the room.
func (d *deed) isTrade() bool {
	switch d.stage {
	case StageInstall, StageJambs, StageFloor, StageTearOut, StageWalls:
		return true
	}
	return false
}

// together reports whether two deeds are in one room, or one of them in all.
func together(a, b *deed) bool {
	return a.w.Room == b.w.Room || a.w.Room == "" || b.w.Room == ""
}

// isTrim reports whether the deed is work on trim.
func (d *deed) isTrim() bool { return d.w.Profile != "" }

// late reports whether it may be done after the room was painted.
func (c *checker) late(d *deed) bool {
	return c.opt.Floor == FloorAfterPaint && (d.stage == StageFloor || d.isTrim() && d.w.Role == stock.RoleShoe && c.isHung(d))
}

// material checks that trim and material are on site, and trim has settled, before they are
// used.
func (c *checker) material(events []Event) {
	for i := range c.job.Deliveries {
		d := &c.job.Deliveries[i]
		came, late := d.On(), -1
		for k := range events {
			if e := &events[k]; e.Delivery && e.Work == i {
				came, late = e.End, k
			}
		}
		ready := came.Add(time.Duration(c.settle(d)))
		for k := range c.deeds {
			x := &c.deeds[k]
			uses := x.bare && slices.Contains(d.Tasks, x.task) && (d.Profile == "" || d.Profile == x.w.Profile)
			_, hung := c.hang[[2]string{x.w.Room, x.w.Profile}]
			ofTrim := len(d.Tasks) == 0 && x.isTrim() && hung && (d.Profile == "" || d.Profile == x.w.Profile)
			v := Violation{Early: x.at, Late: late, Reason: x.name() + " at " + x.start.Format("2006-01-02 15:04") + ": "}
			switch {
			case (uses || ofTrim) && x.start.Before(came):
				v.Rule, v.Reason = RuleOnSite, v.Reason+"its material comes at "+came.Format("2006-01-02 15:04")
			case ofTrim && x.start.Before(ready):
				v.Rule, v.Reason = RuleSettled, v.Reason+"its trim has settled at "+ready.Format("2006-01-02 15:04")
			default:
				continue
			}
			c.found = append(c.found, v)
		}
		rooms := c.comesTo(d)
		for k := range c.deeds {
			x := &c.deeds[k]
			if late < 0 || len(d.Tasks) > 0 || x.stage != StageWalls && x.stage != StageClimate || !rooms[x.w.Room] {
				continue
			}
			rule := RuleClimate
			if x.stage == StageWalls {
				rule = RuleWallsDry
			}
			if came.Before(x.dry) {
				c.found = append(c.found, Violation{Rule: rule, Early: late, Late: x.at, Reason: "trim comes into a house that is wet or without heat"})
			}
		}
	}
}

// comesTo returns the rooms in which trim of a delivery is hung, plus "" if there are
// any.
func (c *checker) comesTo(d *Delivery) map[string]bool {
	rooms := map[string]bool{}
	for i := range c.deeds {
		if x := &c.deeds[i]; x.stage == StageInstall && (d.Profile == "" || d.Profile == x.w.Profile) {
			rooms[x.w.Room], rooms[""] = true, true
		}
	}
	return rooms
}

// settle returns the settling time of the trim of a delivery.
func (c *checker) settle(d *Delivery) measure.Duration {
	if len(d.Tasks) > 0 || d.Settle < 0 {
		return 0
	}
	if wood := d.Class == stock.ClassWood || d.Class == stock.ClassComposite; wood && d.Moisture > 0 && c.opt.Site != (finish.Climate{}) {
		m, err := stock.EquilibriumMoisture(c.opt.Site.Temperature, c.opt.Site.Humidity)
		if err == nil && m > 0 && d.Moisture >= m-2*measure.Percent && d.Moisture <= m+2*measure.Percent {
			return 0
		}
	}
	if d.Settle > 0 {
		return d.Settle
	}
	for _, a := range c.opt.Acclimation {
		if a.Class == d.Class && a.StainGrade == d.StainGrade {
			return a.Lag
		}
	}
	return 0
}
