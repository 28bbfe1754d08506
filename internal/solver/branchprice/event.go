package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// watch is who listens to a solve, with what counts as news to them. A nil watch is nobody.
type watch struct {
	to   *search.Watch
	p    *rules.Problem
	main int   // the criterion that is improved, -1 if it is none
	best int64 // known in it
}

// watchPrice has somebody listen to what comes nearer to the least price.
func watchPrice(p *rules.Problem, to *search.Watch) *watch {
	if to == nil {
		return nil
	}
	return &watch{to: to, p: p, main: rules.Price, best: search.NoPlan}
}

// enter takes down what a run does now.
func (w *watch) enter(stage search.Stage) {
	if w != nil {
		w.to.Enter(stage)
	}
}

// beginGoal begins a goal after the first. What counts as better from here on is what comes
// nearer to it.
func (w *watch) beginGoal(l *goals, g search.Goal) {
	if w == nil {
		return
	}
	w.to.BeginGoal(g)
	w.p, w.main, w.best = l.p, criterionOf(g), 0
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
	crit, _ := rules.Evaluate(w.p, plan)
	w.take(plan, crit[rules.Price])
}

func (w *watch) take(plan []rules.ColumnCount, cost int64) {
	p, plan := w.p, slices.Clone(plan)
	w.to.Found(cost, func() ([]rules.PatternCount, [][]int) { return p.Trim(plan) })
}

// bounded tells of a bound of the first goal if it is better than what is known.
func (w *watch) bounded(bound int64) {
	if w != nil {
		w.to.Bounded(bound)
	}
}
