package optimize

import (
	"context"
	"fmt"

	bp "example.com/longpoint/internal/branchprice"
	"example.com/longpoint/measure"
)

// solveFree is Solve for problems with rules.
func solveFree(ctx context.Context, p *Problem, o *Options) (*Plan, error) {
	if err := p.inRange(); err != nil {
		return nil, err
	}
	f, err := compileFree(ctx, p)
	if err != nil {
		return nil, err
	}
	if err := f.fits(); err != nil {
		return nil, err
	}
	r, levels := bp.Solve(ctx, &f.model, bp.Options{Work: o.work(ctx), Goals: f.goals, Patterns: p.fewestPatterns(), Brief: len(p.Rules.Goals) == 0})
	if r.Infeasible {
		return nil, &InfeasibleError{Reason: ReasonSupplyDoesNotFit, Piece: -1, Stick: -1}
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
	}
	if r.Fillings == nil {
		return nil, noPlan(ctx, stop, r.Work)
	}
	plan, err := f.decode(&r)
	if err != nil {
		return nil, &InternalError{err}
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
func (f *free) levels(plan *Plan, levels []bp.Level) {
	c := &ruleCheck{p: f.problem, plan: plan}
	if len(f.problem.Rules.Goals) == 0 || c.runs() != nil || c.patterns() != nil {
		return
	}
	for k, g := range f.problem.Rules.Goals {
		l := GoalResult{Goal: g}
		var more bool
		l.Value, more = c.level(g)
		if k < len(levels) {
			l.Bound = levels[k].Bound
		}
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

// lengthLimit keeps sums of a few lengths, doubled, in range.
const lengthLimit = measure.Length(1) << 58

// inRange reports the first length that is beyond what problems with rules can have.
func (p *Problem) inRange() error {
	bad := func(field string, l measure.Length) error {
		return badLength(field, l, fmt.Sprintf("at most %v in a problem with rules", lengthLimit.About()))
	}
	for i := range p.Sticks {
		if l := p.Sticks[i].Length; l > lengthLimit {
			return bad(fmt.Sprintf("Sticks[%d].Length", i), l)
		}
	}
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		if pc.Length > lengthLimit {
			return bad(fmt.Sprintf("Pieces[%d].Length", i), pc.Length)
		}
		if p.Rules.Nest && (pc.Left.Setback > pc.Length || pc.Left.Setback < 0) {
			return badLength(fmt.Sprintf("Pieces[%d].Left.Setback", i), pc.Left.Setback, "zero or more and at most the piece's length")
		}
		if p.Rules.Nest && (pc.Right.Setback > pc.Length || pc.Right.Setback < 0) {
			return badLength(fmt.Sprintf("Pieces[%d].Right.Setback", i), pc.Right.Setback, "zero or more and at most the piece's length")
		}
	}
	for r := range p.Runs {
		run := &p.Runs[r]
		if run.Length > lengthLimit {
			return bad(fmt.Sprintf("Runs[%d].Length", r), run.Length)
		}
		if o := run.Splice.Overlap; o > lengthLimit || o < -lengthLimit {
			return bad(fmt.Sprintf("Runs[%d].Splice.Overlap", r), o)
		}
	}
	for _, x := range []struct {
		field string
		l     measure.Length
	}{{"Kerf", p.Kerf}, {"Rules.MinHold", p.Rules.MinHold}, {"Rules.MaxTransport", p.Rules.MaxTransport}} {
		if x.l > lengthLimit/4 {
			return badLength(x.field, x.l, fmt.Sprintf("at most %v in a problem with rules", (lengthLimit/4).About()))
		}
	}
	for i := range p.Rules.OffcutValues {
		if l := p.Rules.OffcutValues[i].Length; l > lengthLimit {
			return bad(fmt.Sprintf("Rules.OffcutValues[%d].Length", i), l)
		}
	}
	return nil
}
