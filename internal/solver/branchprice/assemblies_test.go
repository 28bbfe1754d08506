package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// If assemblies are settled first and sticks afterwards, the plan is no better than the
// optimum.
func TestWaysFirst(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 31))
	found, best := 0, 0
	for i := range 8000 {
		p := solvertest.Tiny(r, solvertest.WithRuns|solvertest.Feature(1)<<r.IntN(10))
		if len(p.Runs) == 0 {
			continue
		}
		x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}, cost: rules.NoCost, bound: master.NoBound}
		x.m = master.NewOf(p, x.objective)
		x.addInitialColumns()
		if x.m.Solve(rules.NoCost, x.mt) != master.Converged {
			continue
		}
		x.settleAssemblies()
		if x.plan == nil {
			continue
		}
		found++
		c, ok := rules.Evaluate(p, x.plan)
		res := Solve(context.Background(), p, search.Options{Work: 400_000_000})
		if !ok || c[rules.Price] != x.cost || res.Stop != search.Proven || x.cost < res.Cost {
			t.Fatalf("problem %d: plan that costs %d (%v, %v), the best %d (%v)\n%+v", i, x.cost, c[rules.Price], ok, res.Cost, res.Stop, p)
		}
		if x.cost == res.Cost {
			best++
		}
	}
	if found < 300 || best < found/2 {
		t.Errorf("%d plans, %d of them the best", found, best)
	}
	t.Logf("%d plans, %d of them the best", found, best)
}
