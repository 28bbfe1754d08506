package optimize

import (
	"context"

	bp "example.com/longpoint/internal/solver/branchprice"
)

// solveFree is Solve for problems with rules.
func solveFree(ctx context.Context, p *Problem, o *Options) (*Plan, error) {
	f, err := compileFree(ctx, p)
	if err != nil {
		return nil, err
	}
	if err := f.fits(); err != nil {
		return nil, err
	}
	var given *bp.Start
	if o != nil {
		if given, err = f.start(o.Start); err != nil {
			return nil, err
		}
	}
	r, levels := bp.Solve(ctx, &f.model, bp.Options{Work: o.work(ctx), Goals: f.goals, Patterns: p.fewestPatterns(), Brief: len(p.Rules.Goals) == 0,
		Start: given, Report: f.report(o)})
	if r.Infeasible {
		return nil, infeasible(ReasonSupplyDoesNotFit)
	}
	stop := StopUnknown
	switch r.Stop {
	case bp.Proven:
		stop = StopProven
	case bp.WorkLimit:
		stop = StopWork
	case bp.Stuck:
		stop = StopExhausted
	case bp.Interrupted:
		stop = interrupted(ctx)
	case bp.Ended:
		stop = StopCaller
	}
	if r.Patterns == nil {
		return nil, noPlan(ctx, stop, r.Work)
	}
	plan, err := f.decode(&r)
	if err != nil {
		return nil, undecoded(err)
	}
	plan.Stop = stop
	if err := f.prove(ctx, plan, &r); err != nil {
		return nil, &InternalError{err}
	}
	f.levels(plan, levels)
	// prove has worked out with Check's own means what the leaves show; a second time
	// would show the same.
	if err := verify(p, plan, nil); err != nil {
		return nil, &InternalError{err}
	}
	return plan, nil
}

// levels writes down what the plan reaches of each goal.
func (f *free) levels(plan *Plan, levels []bp.GoalResult) {
	c := &ruleCheck{p: f.problem, plan: plan}
	if len(f.problem.Rules.Goals) == 0 || c.runs() != nil || c.patterns() != nil {
		return
	}
	for k, g := range f.problem.Rules.Goals {
		l := GoalResult{Goal: g}
		var more bool
		l.Value, more = c.level(g)
		if k >= len(levels) { // the search is not over
			l.Bound, _ = glance(f.problem, g)
			if g == GoalCost {
				l.Bound = plan.Bound
			}
			if more {
				l.Bound = max(l.Bound, l.Value)
			} else {
				l.Bound = min(l.Bound, l.Value)
			}
			plan.Goals = append(plan.Goals, l)
			continue
		}
		l.Bound = levels[k].Bound
		switch g {
		case GoalCost:
			l.Bound *= f.costUnit
		case GoalLongestOffcut:
			l.Bound = l.Bound * f.unit / f.double
			for i := range f.classes {
				if len(f.classes[i].clear) > 1 {
					// A stretch that is left idle may be longer than any offcut
					// that the engine weighed.
					l.Bound = max(l.Bound, int64(f.classes[i].usable))
				}
			}
		case GoalPatterns:
			// The engine tells more patterns apart than people do.
			l.Bound = f.problem.fewestPatterns()
		}
		if more {
			l.Bound = max(l.Bound, l.Value)
		} else {
			l.Bound = min(l.Bound, l.Value)
		}
		l.Proven = l.Bound == l.Value && (k == 0 || plan.Goals[k-1].Proven)
		plan.Goals = append(plan.Goals, l)
	}
}
