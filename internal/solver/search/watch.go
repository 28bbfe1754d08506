package search

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

// Tick is about the number of steps between two reports: some tenths of a second.
const Tick = 1 << 26

// Event is a report from a running search. If neither NewPlan nor NewBound is set, it is a tick. The
// first event sets NewBound.
type Event struct {
	NewPlan, NewBound bool

	Goal  Goal
	Stage Stage
	Work  int64
	Bound int64 // of the first goal: no plan costs less; never decreases; at most Cost if there is a plan
	Cost  int64 // of the best plan; 0 if there is none; never increases

	// Plan returns the best plan at the time of the event, as in [Result]; it is nil if there is none.
	// The search does not change the plan afterwards.
	Plan func() (patterns []model.PatternCount, assemblies [][]int)
}

// Watch reports the progress of a search to a listener. A nil Watch reports nothing.
//
// What is reported, and when, does not affect the search; only the listener's answer does.
type Watch struct {
	report func(*Event) bool
	mt     *meter.Meter
	now    Event
}

// NewWatch returns a watch that calls report for a search with the given meter; it is nil if report is
// nil.
func NewWatch(mt *meter.Meter, report func(*Event) bool) *Watch {
	if report == nil {
		return nil
	}
	w := &Watch{report: report, mt: mt, now: Event{Stage: Quick, Bound: -1}}
	mt.Tick(Tick, func() bool { return w.say(false, false) })
	return w
}

// Enter sets the current stage.
func (w *Watch) Enter(stage Stage) {
	if w != nil {
		w.now.Stage = stage
	}
}

// BeginGoal sets the goal that is being improved, one after the first.
func (w *Watch) BeginGoal(g Goal) {
	if w != nil {
		w.now.Goal = g
	}
}

// Found reports a better plan.
func (w *Watch) Found(cost int64, plan func() ([]model.PatternCount, [][]int)) {
	if w == nil {
		return
	}
	w.now.Cost, w.now.Plan = cost, plan
	w.tell(true, false)
}

// Bounded reports a bound of the first goal if it is better than the last one. Infeasibility is not
// reported here: it is part of the result.
func (w *Watch) Bounded(bound int64) {
	if w == nil || w.now.Goal != LeastPrice {
		return
	}
	bound = max(bound, 0)
	if w.now.Plan != nil {
		bound = min(bound, w.now.Cost)
	}
	if bound > w.now.Bound && bound < NoPlan {
		w.now.Bound = bound
		w.tell(false, true)
	}
}

// tell reports, and ends the search if the answer is false. After that it reports nothing.
func (w *Watch) tell(plan, bound bool) {
	if !w.mt.Ended() && !w.say(plan, bound) {
		w.mt.End()
	}
}

func (w *Watch) say(plan, bound bool) bool {
	if w.now.Bound < 0 {
		w.now.Bound, bound = 0, true
	}
	e := w.now
	e.NewPlan, e.NewBound, e.Work = plan, bound, w.mt.Used()
	return w.report(&e)
}
