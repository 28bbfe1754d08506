package schedule

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"time"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/rcpsp"
	"example.com/longpoint/measure"
)

// Slot is the time and the crew of an activity.
type Slot struct {
	Activity int    `json:"activity"`            // index into the activities
	ID       string `json:"id"`                  // the activity's
	Name     string `json:"name"`                // the activity's, or its ID
	Job      string `json:"job,omitempty"`       // the activity's
	Room     string `json:"room,omitempty"`      // the activity's
	Crew     int64  `json:"crew,omitempty"`      // from 1; 0: none, since it takes no labor
	CrewName string `json:"crew_name,omitempty"` // the crew's, or its number

	Start time.Time `json:"start"` // within working hours, if it takes labor
	End   time.Time `json:"end"`   // nights and days off may intervene
	Dry   time.Time `json:"dry"`   // when work over it may continue
	Cured time.Time `json:"cured"` // when it may be used

	// TotalFloat is the working time by which the activity could start after its earliest start
	// without delaying the end, if a crew were always available. FreeFloat is the delay
	// that delays no other start. Both are properties of the network and its calendar, not
	// of this schedule, in which the crews may leave less.
	TotalFloat measure.Duration `json:"total_float"`
	FreeFloat  measure.Duration `json:"free_float"`
	Critical   bool             `json:"critical,omitempty"` // TotalFloat is 0
}

// Schedule holds the slot of each activity.
type Schedule struct {
	Slots  []Slot    `json:"slots"`  // by start, then in the order of the activities
	Done   time.Time `json:"done"`   // when the last work ends; the start if there is none
	Cured  time.Time `json:"cured"`  // when everything may be used
	Bound  time.Time `json:"bound"`  // no schedule for these activities completes earlier
	Proven bool      `json:"proven"` // Done equals Bound
	Work   int64     `json:"work"`   // steps of the search
}

// Options holds the options of Build. A nil *Options means the zero value.
type Options struct {
	Work int64 // limit on the steps of the search; 0 = 5 million, a few tenths of a second
}

// Build schedules activities: none starts before its links and NotBefore allow, each is
// done without interruption by one crew that is large and skilled enough and shares the
// labor, and no dusty work is done in a zone with a wet coat. It searches for the
// schedule with the earliest completion. No schedule completes before Bound, and Proven
// reports that this one is optimal.
//
// Labor is spent only in working hours: an activity may extend over nights and days off,
// and a coat starts to dry when it is complete. Working hours are clock times: if clocks
// change, a skipped or repeated hour makes that day shorter or longer, not the coat. A
// skipped time counts as the moment of the change, a repeated one as its first occurrence.
// Drying and other clock lags are elapsed time, by day and night, whatever the clocks show.
// An activity without labor needs no crew and no working hours.
//
// If ctx ends during the search, Build returns the best schedule so far, with its bound; if it has
// ended before, Build returns its cause. A nil context never ends.
//
// Everything begins and ends on a whole minute, with spans rounded up. A schedule longer
// than ten years or of more than 100,000 activities is a [*measure.RangeError]; any other
// fault is a [*measure.FieldError], which for a cycle of links names its activities.
func Build(ctx context.Context, activities []Activity, cal Calendar, o *Options) (*Schedule, error) {
	if ctx == nil {
		ctx = context.Background()
	}
	if err := meter.Ended(ctx); err != nil {
		return nil, cmp.Or(context.Cause(ctx), err)
	}
	if err := cal.fill(); err != nil {
		return nil, fault.Under("calendar", err)
	}
	if o == nil {
		o = new(Options)
	}
	if o.Work < 0 {
		return nil, fault.Field("work", o.Work, "zero or more")
	}
	if len(activities) > maxSlots {
		return nil, tooLarge("the schedule, of more than " + strconv.Itoa(maxSlots) + " activities,")
	}
	n, err := networkOf(activities)
	if err != nil {
		return nil, err
	}
	teams := teamsOf(cal.Crews)
	if err := checkTeams(activities, teams); err != nil {
		return nil, err
	}
	s := newSite(cal)
	if len(teams)*len(activities) > maxModes {
		return nil, tooLarge("the choice between so many different crews for so many activities")
	}
	p := n.problem(s, teams)
	r := rcpsp.Solve(p, cmp.Or(o.Work, usualWork), func() bool { return meter.Ended(ctx) != nil })
	if r == nil {
		return nil, tooLong()
	}
	return n.schedule(s, p, teams, r)
}

const usualWork = 5_000_000

const maxModes = 10_000_000

// problem converts the activities to tasks in minutes. The modes of a task are the teams
// that can do it, in their order.
func (n *network) problem(s *site, teams []team) *rcpsp.Problem {
	p := &rcpsp.Problem{Calendar: s.windows(), Tasks: make([]rcpsp.Task, len(n.all))}
	needs := make([][]rcpsp.Need, len(teams))
	for k, t := range teams {
		p.Capacity, p.Weight = append(p.Capacity, int64(len(t.crews))), append(p.Weight, t.people)
		needs[k] = []rcpsp.Need{{Resource: k, Units: 1}}
	}
	zones := map[string]int{}
	for i := range n.all {
		a := &n.all[i]
		zone, ok := zones[a.Zone]
		if !ok {
			zone = len(zones)
			zones[a.Zone] = zone
		}
		t := rcpsp.Task{Zone: zone, Dusty: a.Dusty, Wet: a.Wet, Dry: minutes(a.Dry)}
		if !a.NotBefore.IsZero() {
			t.Release = s.ceil(a.NotBefore)
		}
		for k := range a.After {
			l := &a.After[k]
			t.Links = append(t.Links, rcpsp.Link{Task: n.waits[i][k], Kind: rcpsp.LinkKind(l.Type), Lag: rcpsp.Lag{Time: minutes(l.Lag), Working: l.Working}})
		}
		if a.Labor == 0 {
			t.Modes = []rcpsp.Mode{{}}
		} else {
			for k := range teams {
				if teams[k].does(a) {
					t.Modes = append(t.Modes, rcpsp.Mode{Time: minutes(share(a.Labor, teams[k].people)), Need: needs[k]})
				}
			}
		}
		p.Tasks[i] = t
	}
	p.Zones = len(zones)
	return p
}

// schedule converts a plan to a schedule.
func (n *network) schedule(s *site, p *rcpsp.Problem, teams []team, r *rcpsp.Result) (*Schedule, error) {
	out := &Schedule{Done: s.Start, Cured: s.Start, Bound: s.Start, Proven: r.Proven, Work: r.Steps}
	if len(n.all) == 0 {
		return out, nil
	}
	crews := n.assign(p, teams, r.Plan)
	out.Slots = make([]Slot, len(n.all))
	for i, a := range n.all {
		x := r.Plan[i]
		slot := Slot{Activity: i, ID: a.ID, Name: a.Name, Job: a.Job, Room: a.Room, Start: s.at(x.Start), End: s.at(x.End),
			TotalFloat: measure.Duration(r.Float[i].Total) * minute, FreeFloat: measure.Duration(r.Float[i].Free) * minute}
		slot.Critical = slot.TotalFloat == 0
		if a.Name == "" {
			slot.Name = a.ID
		}
		if c := crews[i]; c >= 0 {
			slot.Crew, slot.CrewName = int64(c)+1, s.Crews[c].Name
			if slot.CrewName == "" {
				slot.CrewName = strconv.Itoa(c + 1)
			}
		}
		cure := max(a.Cure, a.Dry)
		if x.End >= s.limit || minutes(cure) > s.limit-x.End {
			return nil, tooLong()
		}
		slot.Dry, slot.Cured = slot.End.Add(time.Duration(a.Dry)), slot.End.Add(time.Duration(cure))
		out.Slots[i] = slot
		out.Done, out.Cured = later(out.Done, slot.End), later(out.Cured, slot.Cured)
	}
	slices.SortStableFunc(out.Slots, func(a, b Slot) int { return a.Start.Compare(b.Start) })
	out.Bound = later(out.Bound, s.at(r.Bound))
	return out, nil
}

// assign returns the crew of each activity, or -1: from its team, the free crew
// that last worked on the same trim in the same room, or else the first free one.
func (n *network) assign(p *rcpsp.Problem, teams []team, plan []rcpsp.Start) []int {
	crew := make([]int, len(plan))
	order := make([]int, len(plan))
	for i := range plan {
		order[i], crew[i] = i, -1
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if plan[i].Start != plan[j].Start {
			return int(max(-1, min(1, plan[i].Start-plan[j].Start)))
		}
		return 0
	})
	free := map[int]int64{}
	at := map[int]int{} // last activity of a crew
	for _, i := range order {
		mode := p.Tasks[i].Modes[plan[i].Mode]
		if len(mode.Need) == 0 {
			continue
		}
		best, worth := -1, -1
		for _, c := range teams[mode.Need[0].Resource].crews {
			if free[c] > plan[i].Start {
				continue
			}
			w := 0
			if last, ok := at[c]; ok {
				if n.all[last].Room == n.all[i].Room {
					w++
				}
				if n.all[last].Job == n.all[i].Job {
					w++
				}
			}
			if w > worth {
				best, worth = c, w
			}
		}
		crew[i], free[best], at[best] = best, plan[i].End, i
	}
	return crew
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
