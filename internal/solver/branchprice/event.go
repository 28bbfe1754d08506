package branchprice

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// Tick is about how many steps pass between two reports: some tenths of a second.
const Tick = 1 << 26

// Event is what a solve tells of itself while it goes on. If neither NewPlan nor NewBound
// is set, it is a tick.
type Event struct {
	NewPlan, NewBound bool

	Goal  Goal
	Stage string
	Work  int64
	Bound int64 // of the first goal: no plan costs less; never falls, at most Cost if there is a plan
	Cost  int64 // of the best plan; never rises
	Found bool  // there is a plan

	p    *rules.Problem
	plan []rules.ColumnCount
}

// Plan returns the best plan at the time of the event, as [Result] has it; nothing
// without one.
func (e *Event) Plan() (patterns []rules.PatternCount, ways [][]int) {
	if !e.Found {
		return nil, nil
	}
	return e.p.Trim(e.plan)
}

// watch is who listens to a solve, with what they know. A nil watch is nobody.
//
// Nothing of a run depends on what is told or when, only on whether the answer is true.
type watch struct {
	report func(*Event) bool
	mt     *meter.Meter
	now    Event
	main   int   // the criterion that is improved
	best   int64 // known in it
}

func newWatch(p *rules.Problem, mt *meter.Meter, report func(*Event) bool) *watch {
	if report == nil {
		return nil
	}
	w := &watch{report: report, mt: mt, now: Event{Stage: "quick", Bound: -1, p: p}, main: rules.Price, best: rules.NoCost}
	mt.Tick(Tick, func() bool { return w.say(false, false) })
	return w
}

// enter takes down what a run does now.
func (w *watch) enter(stage string) {
	if w != nil {
		w.now.Stage = stage
	}
}

// beginGoal begins a goal after the first. What counts as better from here on is what comes
// nearer to it.
func (w *watch) beginGoal(l *goals, g Goal) {
	if w == nil {
		return
	}
	w.now.Goal, w.now.p, w.main, w.best = g, l.p, -1, 0
	switch g {
	case FewestSticks:
		w.main = rules.Sticks
	case MostSalvage:
		w.main = rules.Salvage
	case FewestCuts:
		w.main = rules.Cuts
	case FewestSplices:
		w.main = rules.Splices
	}
	if w.main >= 0 {
		crit, _ := rules.Evaluate(l.p, l.plan)
		w.best = crit[w.main]
	}
}

// found tells of a plan if it is better than what is known.
func (w *watch) found(plan []rules.ColumnCount, crit [rules.Criteria]int64) {
	if w == nil || w.main < 0 || crit[w.main] >= w.best {
		return
	}
	w.best = crit[w.main]
	w.take(plan, crit[rules.Price])
}

// better tells of a plan that is better by a goal that is no criterion.
func (w *watch) better(plan []rules.ColumnCount) {
	if w == nil {
		return
	}
	crit, _ := rules.Evaluate(w.now.p, plan)
	w.take(plan, crit[rules.Price])
}

func (w *watch) take(plan []rules.ColumnCount, cost int64) {
	w.now.plan, w.now.Cost, w.now.Found = append([]rules.ColumnCount(nil), plan...), cost, true
	w.tell(true, false)
}

// bounded tells of a bound of the first goal if it is better than what is known.
func (w *watch) bounded(bound int64) {
	if w == nil || w.now.Goal != LeastPrice {
		return
	}
	bound = max(bound, 0)
	if w.now.Found {
		bound = min(bound, w.now.Cost)
	}
	if bound > w.now.Bound && bound < rules.NoCost {
		w.now.Bound = bound
		w.tell(false, true)
	}
}

// tell reports and ends the work if the answer is false. After that nobody is told
// anything.
func (w *watch) tell(plan, bound bool) {
	if !w.mt.Ended() && !w.say(plan, bound) {
		w.mt.End()
	}
}

func (w *watch) say(plan, bound bool) bool {
	if w.now.Bound < 0 {
		w.now.Bound, bound = 0, true
	}
	e := w.now
	e.NewPlan, e.NewBound, e.Work = plan, bound, w.mt.Used()
	return w.report(&e)
}
