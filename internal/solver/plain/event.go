package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/model"
)

// Tick is about how many steps pass between two reports: some tenths of a second.
const Tick = 1 << 26

// Event is what a run tells of itself while it goes on. If neither NewPlan nor NewBound
// is set, it is a tick. The first event of a run with a plan sets both.
type Event struct {
	NewPlan, NewBound bool

	Stage   Stage
	Work    int64
	Bound   int64                // no plan costs less; never falls, at most Cost if there is a plan
	Cost    int64                // of the best plan; 0 without one; never rises
	Columns []model.PatternCount // the best plan, nil without one; the run does not change it any more
}

// watch has the run report, if anybody listens.
//
// Nothing of the run depends on what is told or when, only on whether the answer is true.
func (r *solver) watch(report func(*Event) bool) {
	if r.report = report; report != nil {
		r.told = -1
		r.mt.Tick(Tick, func() bool { return r.say(Event{}) })
	}
}

// pause lets the caller look: at a better bound, or because it is time. A run within
// another has nothing to tell, but time passes there, too.
func (r *solver) pause() {
	if r.report != nil && r.shown() > r.told {
		r.tell(Event{})
	}
	r.mt.Pause()
}

// shown is the bound as events tell it.
func (r *solver) shown() int64 {
	if r.plan == nil {
		return r.bound
	}
	return min(r.bound, r.cost)
}

// tell reports an event and ends the run if the answer is false. After that nobody
// is told anything.
func (r *solver) tell(e Event) {
	if !r.mt.Ended() && !r.say(e) {
		r.mt.End()
	}
}

func (r *solver) say(e Event) bool {
	if r.plan == nil && r.bound >= noPlan {
		return true // there is no plan, which the result says
	}
	e.Stage, e.Work, e.Bound = r.stage, r.mt.Used(), r.shown()
	if r.plan != nil {
		e.Cost, e.Columns = r.cost, slices.Clone(r.plan)
	}
	e.NewBound = e.Bound > r.told
	r.told = max(r.told, e.Bound)
	return r.report(&e)
}
