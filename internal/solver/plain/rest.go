package plain

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/residual"
)

// runRest plans a residual problem in a run of its own.
func (r *solver) runRest(q *residual.Problem, run *solver) {
	run.p, run.rng = &q.Problem, r.rng
	if run.solve(); run.plan != nil {
		r.tryIncumbent(q.Joined(run.plan))
	}
}

// listRest plans a residual problem by lists. The duals are those of the whole problem or of another residual problem, in
// the numbering of the whole. It reports whether it is certain that no plan for the rest beats the incumbent, or the plan
// found.
func (r *solver) listRest(q *residual.Problem, by *master.Duals, mt *meter.Meter) (certain bool) {
	plan, certain := q.Cheapest(by, r.cost-q.Spent, mt)
	if plan != nil {
		r.tryIncumbent(q.Joined(plan))
	}
	return certain
}
