package optimize

import (
	"context"
	"iter"
	"slices"

	bp "example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/plain"
)

// Progress reports the state of a search: see Options.Progress. The value does not change and
// may be kept.
type Progress struct {
	Work int64 `json:"work"` // deterministic steps so far, in the unit of Options.Work

	// Cost is the cost of the best plan so far, in the unit of Plan.Cost; it is valid only if
	// Found is set. It never rises from one report to the next.
	Cost int64 `json:"cost"`

	// Bound is a lower bound: no plan costs less. It is zero or more and, if Found is set, at
	// most Cost. It never falls from one report to the next.
	Bound int64 `json:"bound"`

	Found bool `json:"found"` // there is a plan

	// Goal is the goal being improved: GoalCost, and with Rules.Goals each later goal once the
	// earlier ones are done. Cost and Bound are always those of GoalCost.
	Goal Goal `json:"goal"`

	Stage string `json:"stage"` // the current stage of the search, for people; the words may change

	// NewPlan means that there is a better plan than at the last report: one of lower Cost or,
	// if Goal is a later goal, one with a better value of it at no higher Cost. NewBound means
	// that Bound is greater than at the last report, or that this is the first one. A report
	// with neither is a tick: Work has passed a multiple of 1<<26.
	NewPlan  bool `json:"new_plan"`
	NewBound bool `json:"new_bound"`

	at *moment
}

// moment is the state of a search at a report, from which its plan can be decoded.
type moment struct {
	in   *instance // of a problem without rules, otherwise nil
	cols []model.PatternCount

	f *free
	e *bp.Event

	cost, bound, work int64
}

// Plan returns the best plan so far, or nil if Found is not set. Each call decodes it, in
// milliseconds, from the Problem that was passed to Solve, which must not have been changed
// since.
//
// The plan is complete: [Check] accepts it. It has all that Solve fills in, with the Bound of
// the report, except what is known only at the end of the search: Stop is StopUnknown, and the
// proof is omitted (ProofOmitted, see Plan.WithoutProof), so neither the plan nor any of its
// Goals is Proven, and the goals after the cost have only trivial bounds.
func (p Progress) Plan() *Plan {
	if p.at == nil {
		return nil
	}
	plan, err := p.at.plan()
	if err != nil {
		return nil // Solve finds the same fault, and returns it
	}
	return plan
}

func (m *moment) plan() (*Plan, error) {
	if m.f != nil {
		return m.f.interim(m)
	}
	in := *m.in
	in.mt = nil // takes the time that it takes
	patterns, err := in.decode(m.cols)
	if err != nil {
		return nil, err
	}
	plan := &Plan{Patterns: patterns, ByLength: in.byLength, Bound: m.bound, Work: m.work,
		Proof: Proof{kind: ProofOmitted}}
	if err := in.buy(plan); err != nil {
		return nil, err
	}
	return plan, verify(in.problem, plan, nil)
}

// interim decodes a plan with rules during the search.
func (f *free) interim(m *moment) (*Plan, error) {
	g := *f
	g.mt, g.ctx = nil, context.Background()
	r := bp.Result{Cost: m.cost / f.costUnit, Work: m.work}
	r.Patterns, r.Assemblies = m.e.Plan()
	plan, err := g.decode(&r)
	if err != nil {
		return nil, err
	}
	plan.Bound, plan.Proof = m.bound, Proof{kind: ProofOmitted}
	g.levels(plan, nil)
	return plan, verify(f.problem, plan, nil)
}

// report returns the function that the engine calls, or nil if there is no callback.
func (in *instance) report(o *Options) func(*plain.Event) bool {
	if o == nil || o.Progress == nil {
		return nil
	}
	return func(e *plain.Event) bool {
		p := Progress{Work: e.Work, Bound: e.Bound * in.costUnit, Stage: e.Stage.String(), NewPlan: e.NewPlan, NewBound: e.NewBound}
		if e.Columns != nil {
			p.Found, p.Cost = true, e.Cost*in.costUnit
			p.at = &moment{in: in, cols: e.Columns, cost: p.Cost, bound: p.Bound, work: p.Work}
		}
		return o.Progress(p)
	}
}

// report returns the function that the engine for rules calls, or nil if there is no callback.
func (f *free) report(o *Options) func(*bp.Event) bool {
	if o == nil || o.Progress == nil {
		return nil
	}
	var told *moment // the last plan reported
	return func(e *bp.Event) bool {
		p := Progress{Work: e.Work, Bound: e.Bound * f.costUnit, Stage: e.Stage, NewPlan: e.NewPlan, NewBound: e.NewBound}
		p.Goal = Goal(slices.Index(engineGoals[:], e.Goal))
		if e.Found {
			p.Found, p.Cost = true, e.Cost*f.costUnit
			p.at = &moment{f: f, e: e, cost: p.Cost, bound: p.Bound, work: p.Work}
		}
		if e.NewPlan {
			if e.Goal != bp.LeastPrice && !p.at.better(told) {
				return true // the engine distinguishes more plans than the user does
			}
			told = p.at
		}
		return o.Progress(p)
	}
}

// better reports whether a plan is better than another, by the values of its goals.
func (m *moment) better(than *moment) bool {
	a, err := m.plan()
	b, err2 := than.plan()
	if err != nil || err2 != nil {
		return false
	}
	for k := range a.Goals {
		x, y := a.Goals[k].Value, b.Goals[k].Value
		if _, more := glance(m.f.problem, a.Goals[k].Goal); more {
			x, y = y, x
		}
		if x != y {
			return x < y
		}
	}
	return false
}

// Plans returns an iterator over the successively better plans that a search finds. The last
// pair is the result of [Solve] for the same arguments: its plan with nil, or nil with its
// error. If the loop ends early, the search ends too and leaves nothing behind.
//
// The plans before the last are those of [Progress.Plan], without proof. Their costs fall
// strictly while the cost is improved; with Rules.Goals, a later plan may cost as much as the
// one before it, and be better in a later goal and no worse in the goals before that. The last
// plan is never worse than the one before it, and often the same plan with its proof.
//
// Plans also calls Options.Progress, before it yields each plan.
func Plans(ctx context.Context, p Problem, o *Options) iter.Seq2[*Plan, error] {
	return func(yield func(*Plan, error) bool) {
		var with Options
		if o != nil {
			with = *o
		}
		broken := false
		with.Progress = func(now Progress) bool {
			if o != nil && o.Progress != nil && !o.Progress(now) {
				return false
			}
			if !now.NewPlan {
				return true
			}
			if plan := now.Plan(); plan != nil {
				broken = !yield(plan, nil)
			}
			return !broken
		}
		plan, err := Solve(ctx, p, &with)
		if !broken {
			yield(plan, err)
		}
	}
}
