package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// watch reports progress to the caller, with the best value reported so far. A nil watch reports nothing.
type watch struct {
	to   *search.Watch
	p    *rules.Problem
	main int   // the criterion that is improved, -1 if it is none
	best int64 // reported so far
}

// watchPrice reports better prices and bounds on the price.
func watchPrice(p *rules.Problem, to *search.Watch) *watch {
	if to == nil {
		return nil
	}
	return &watch{to: to, p: p, main: rules.Price, best: search.NoPlan}
}

// enter records the present stage of a search.
func (w *watch) enter(stage search.Stage) {
	if w != nil {
		w.to.Enter(stage)
	}
}

// beginGoal begins a goal after the first: from here on, plans are compared by it.
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

// found reports a plan if it is better than the last one.
func (w *watch) found(plan []rules.ColumnCount, crit [rules.Criteria]int64) {
	if w == nil || w.main < 0 || crit[w.main] >= w.best {
		return
	}
	w.best = crit[w.main]
	w.take(plan, crit[rules.Price])
}

// better reports a plan that is better by a goal without a criterion.
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

// bounded reports a bound of the first goal if it is better than the last one.
func (w *watch) bounded(bound int64) {
	if w != nil {
		w.to.Bounded(bound)
	}
}
