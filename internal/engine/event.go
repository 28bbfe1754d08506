package engine

import (
	"slices"
)

// Tick is how many steps pass at most between two reports, some tenths of a second.
const Tick = 1 << 26

// Event is what a run tells of itself while it goes on. Neither NewPlan nor NewBound
// is a tick.
type Event struct {
	NewPlan, NewBound bool

	Stage Stage
	Work  int64
	Bound int64 // no plan costs less; at most Cost where there is a plan
	Cost  int64 // of the best plan; 0 without one

	r *run
}

// Found reports whether there is a plan.
func (e *Event) Found() bool { return e.r.plan != nil }

// Result returns the best plan at the time of the event, with its bound and what shows
// it, as a run that ended there would. It counts during the report only.
func (e *Event) Result() Result {
	return Result{
		Columns: slices.Clone(e.r.plan), Cost: e.Cost, Bound: e.Bound,
		Leaves: slices.Clone(e.r.leaves), LeafBound: min(e.r.leafBound, e.Bound), Work: e.Work,
	}
}

// watch has the run report, if anybody listens.
func (r *run) watch(report func(*Event) bool) {
	if r.report = report; report == nil {
		return
	}
	r.mt.Report(Tick, func() bool { return r.say(Event{}) })
}

// tell reports an event and ends the run where the answer is false.
func (r *run) tell(e Event) {
	if !r.mt.Ended() && !r.say(e) {
		r.mt.End()
	}
}

func (r *run) say(e Event) bool {
	if r.plan == nil && r.bound >= noPlan {
		return true // there is none
	}
	e.r, e.Stage, e.Work, e.Bound = r, r.stage, r.mt.Used(), r.bound
	if r.plan != nil {
		e.Cost, e.Bound = r.cost, min(r.bound, r.cost)
	}
	e.NewBound = r.bound > r.told
	r.told = max(r.told, r.bound)
	return r.report(&e)
}
