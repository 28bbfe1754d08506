package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/solver/tree"
)

// At the counts of a best plan the search by levels comes to what that costs, however much dearer
// the best plan known before is and however low the bound, and its bound stays below.
func TestLevelsComeToTheBestPlanOfAPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	searched, raised := 0, 0
	for i := range 1500 {
		p := solvertest.Tiny(r, solvertest.WithRuns|solvertest.Feature(1)<<r.IntN(10)&^solvertest.WithPart)
		want, ok := solvertest.LeastWithRules(p)
		if !ok {
			continue
		}
		x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}}
		x.solve(nil)
		if x.cost != want {
			continue // TestAgainstEveryPlan says so
		}
		used := make([]int64, len(p.Bins))
		for _, q := range x.plan {
			if q.Column.Fill != nil {
				used[q.Column.Fill.Bin] += q.N
			}
		}
		x.m = master.NewOf(p, x.objective)
		x.addInitialColumns()
		if x.m.Solve(rules.NoCost, x.mt) != master.Converged {
			continue
		}
		x.plan, x.cost = nil, want+1+r.Int64N(4*want+20)
		box, pt, _ := x.splitOff(x.m.Root, p.Counts(used), []master.Duals{x.m.Duals.Clone()})
		n := node{Box: box, Bound: min(want, x.m.Bound), Point: pt}
		search := &boxes{solver: x, Tree: tree.New(x, x.m, n)}
		before := n.Bound
		if !x.affineOn(n.Box) {
			continue
		}
		searched++
		closed := search.searchLevels(&n, 0)
		if !closed || x.cost != want || n.Bound > want {
			t.Fatalf("case %d: closed %v at %d, bound %d; the best plan costs %d\n%+v", i, closed, x.cost, n.Bound, want, p)
		}
		if n.Bound > before {
			raised++
		}
	}
	if searched < 100 || raised < 20 {
		t.Errorf("%d points, the bounds of %d rose", searched, raised)
	}
	t.Logf("%d points, the bounds of %d rose", searched, raised)
}
