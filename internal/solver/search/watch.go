package search

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

// Tick is about how many steps pass between two reports: some tenths of a second.
const Tick = 1 << 26

// Event is what a search tells of itself while it goes on. If neither NewPlan nor NewBound
// is set, it is a tick. The first event sets NewBound.
type Event struct {
	NewPlan, NewBound bool

	Goal  Goal
	Stage Stage
	Work  int64
	Bound int64 // of the first goal: no plan costs less; never falls, at most Cost if there is a plan
	Cost  int64 // of the best plan; 0 without one; never rises

	// Plan returns the best plan at the time of the event, as [Result] has it; it is nil without
	// one. The search does not change it any more.
	Plan func() (patterns []model.PatternCount, assemblies [][]int)
}

// Watch is who listens to a search, with what they know. A nil Watch is nobody.
//
// Nothing of a search depends on what is told or when, only on whether the answer is true.
type Watch struct {
	report func(*Event) bool
	mt     *meter.Meter
	now    Event
}

// NewWatch has a search that spends from the meter report, nil if nobody listens.
func NewWatch(mt *meter.Meter, report func(*Event) bool) *Watch {
	if report == nil {
		return nil
	}
	w := &Watch{report: report, mt: mt, now: Event{Stage: Quick, Bound: -1}}
	mt.Tick(Tick, func() bool { return w.say(false, false) })
	return w
}

// Enter takes down what a search does now.
func (w *Watch) Enter(stage Stage) {
	if w != nil {
		w.now.Stage = stage
	}
}

// BeginGoal takes down that a goal after the first is improved now.
func (w *Watch) BeginGoal(g Goal) {
	if w != nil {
		w.now.Goal = g
	}
}

// Found tells of a better plan.
func (w *Watch) Found(cost int64, plan func() ([]model.PatternCount, [][]int)) {
	if w == nil {
		return
	}
	w.now.Cost, w.now.Plan = cost, plan
	w.tell(true, false)
}

// Bounded tells of a bound of the first goal if it is better than what is known. That there is no
// plan says the result.
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

// tell reports and ends the work if the answer is false. After that nobody is told
// anything.
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
