package optimize

import (
	"context"
	"iter"
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
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
	in                *instance
	found             func() ([]model.PatternCount, [][]int)
	cost, bound, work int64
}

// Plan returns the best plan so far, or nil if Found is not set. Each call decodes it, in
// milliseconds, from the Problem that was passed to Solve, which must not have been changed
// since.
//
// The plan is complete: [Check] accepts it. It has everything that Solve fills in, with the
// Bound of the report, except what is known only at the end of the search: Stop is
// StopUnknown, and the proof is omitted (ProofOmitted, see Plan.WithoutProof), so neither the
// plan nor any of its Goals is Proven, and the goals after the cost have only trivial bounds.
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

// plan decodes the plan of the moment.
func (m *moment) plan() (*Plan, error) {
	r := search.Result{Cost: m.cost / m.in.costUnit, Work: m.work}
	r.Patterns, r.Assemblies = m.found()
	return m.in.interim(&r, m.bound)
}

// interim decodes a plan that is not the last one, of which a bound is known.
func (in *instance) interim(r *search.Result, bound int64) (*Plan, error) {
	now := *in
	now.mt, now.ctx = nil, context.Background() // takes the time that it takes
	now.model.Parting = nil                     // the search may be at work on its own
	plan, err := now.decode(r)
	if err != nil {
		return nil, err
	}
	plan.Bound, plan.Proof = bound, Proof{kind: ProofOmitted}
	now.levels(plan, nil)
	return plan, verify(now.problem, plan, nil)
}

// report returns the function that the solver calls, or nil if there is no callback.
func (in *instance) report(o *Options) func(*search.Event) bool {
	if o == nil || o.Progress == nil {
		return nil
	}
	var told *moment // the last plan reported
	return func(e *search.Event) bool {
		p := Progress{Work: e.Work, Bound: e.Bound * in.costUnit, Stage: e.Stage.String(), NewPlan: e.NewPlan, NewBound: e.NewBound}
		p.Goal = Goal(slices.Index(solverGoals[:], e.Goal))
		if e.Plan != nil {
			p.Found, p.Cost = true, e.Cost*in.costUnit
			p.at = &moment{in: in, found: e.Plan, cost: p.Cost, bound: p.Bound, work: p.Work}
		}
		if e.NewPlan {
			if e.Goal != search.LeastPrice && !p.at.better(told) {
				return true // the solver distinguishes more plans than the user does
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
		if _, more := glance(m.in.problem, a.Goals[k].Goal); more {
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
