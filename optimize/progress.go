package optimize

import (
	"context"
	"iter"
	"slices"

	bp "example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/plain"
)

// Progress says how far a search is: see Options.Progress. The value may be kept and
// compared later; it does not change.
type Progress struct {
	Work int64 `json:"work"` // deterministic steps so far, in the unit of Options.Work

	// Cost is the cost of the best plan so far, in the unit of Plan.Cost; it counts
	// only if Found is set. From one report to the next it never rises.
	Cost int64 `json:"cost"`

	// Bound is a lower bound: no plan costs less. It is zero or more and, if Found is
	// set, at most Cost. From one report to the next it never falls.
	Bound int64 `json:"bound"`

	Found bool `json:"found"` // there is a plan

	// Goal is what is improved now: GoalCost, and with Rules.Goals the next one when all
	// has been tried for those before. Cost and Bound are those of GoalCost throughout.
	Goal Goal `json:"goal"`

	Stage string `json:"stage"` // what the search does now, for people; the words may change

	// NewPlan says that there is a better plan than at the last report: one of a lower
	// Cost, or, if Goal is a later one, of a better value in it at no higher Cost. NewBound
	// says that Bound is greater than at the last report, or that this is the first one. A
	// report with neither is a tick: Work has passed a multiple of 1<<26.
	NewPlan  bool `json:"new_plan"`
	NewBound bool `json:"new_bound"`

	at *moment
}

// moment is where a search was, for a caller who asks for its plan.
type moment struct {
	in   *instance // of a problem without rules, otherwise nil
	cols []model.PatternCount

	f *free
	e *bp.Event

	cost, bound, work int64
}

// Plan returns the best plan so far, or nil if Found is not set. It is decoded at each call,
// in milliseconds, from the Problem as Solve was given it, which must not have been changed
// since.
//
// The plan is whole: [Check] accepts it. It has all that Solve fills in, with the
// Bound of the report, except what only the end of the search tells: Stop is StopUnknown, and the
// proof is left out (ProofOmitted, see Plan.WithoutProof), so that neither the plan nor one of
// its Goals is Proven, and the goals after the cost have only bounds that are plain to see.
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

// interim decodes a plan with rules that is not the last one.
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

// report returns what the engine is to call, nil if nobody listens.
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

// report returns what the engine for rules is to call, nil if nobody listens.
func (f *free) report(o *Options) func(*bp.Event) bool {
	if o == nil || o.Progress == nil {
		return nil
	}
	var told *moment // the last plan
	return func(e *bp.Event) bool {
		p := Progress{Work: e.Work, Bound: e.Bound * f.costUnit, Stage: e.Stage, NewPlan: e.NewPlan, NewBound: e.NewBound}
		p.Goal = Goal(slices.Index(engineGoals[:], e.Goal))
		if e.Found {
			p.Found, p.Cost = true, e.Cost*f.costUnit
			p.at = &moment{f: f, e: e, cost: p.Cost, bound: p.Bound, work: p.Work}
		}
		if e.NewPlan {
			if e.Goal != bp.LeastPrice && !p.at.better(told) {
				return true // the engine tells more plans apart than people do
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

// Plans returns an iterator over the better and better plans that a search finds. The last
// pair is what [Solve] returns for the same arguments: its plan with nil, or nil with its
// error. If the loop ends early the search ends, too, and leaves nothing behind.
//
// The plans before the last are those of [Progress.Plan], without proof. Their costs fall
// strictly while the cost is improved; with Rules.Goals, a later plan may cost as much as the
// one before it and be better in a later goal, and no worse in those before that. The last
// plan is never worse than the one before it, and often the same, with its proof.
//
// Plans calls Options.Progress, too, before it yields each plan.
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
