package branchprice

import (
	"context"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// solvedAnew solves a tiny problem and then the relaxation over all its plans again. It returns the
// solver with both and the counts of the best plan. It reports false if there is no plan, if the
// relaxation does not converge, or if the plan is not the best, which TestAgainstEveryPlan detects.
func solvedAnew(p *rules.Problem) (x *solver, counts []int64, ok bool) {
	want, ok := solvertest.LeastWithRules(p)
	if !ok {
		return nil, nil, false
	}
	x = &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}}
	x.solve(nil)
	if x.cost != want {
		return nil, nil, false
	}
	used := make([]int64, len(p.Bins))
	for _, q := range x.plan {
		if q.Column.Fill != nil {
			used[q.Column.Fill.Bin] += q.N
		}
	}
	x.m = master.NewOf(p, x.objective)
	x.addInitialColumns()
	return x, p.Counts(used), x.m.Solve(rules.NoCost, x.mt) == master.Converged
}
