package branchprice

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/solver/tree"
)

// At the counts of a best plan the search by levels finds its cost, however much more the best known
// plan costs and however low the bound is, and its bound stays below.
func TestLevelsComeToTheBestPlanOfAPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	searched, raised := 0, 0
	for i := range 1500 {
		p := solvertest.Tiny(r, solvertest.WithRuns|solvertest.Feature(1)<<r.IntN(10)&^solvertest.WithPart)
		x, best, ok := solvedAnew(p)
		if !ok {
			continue
		}
		want := x.cost
		x.plan, x.cost = nil, want+1+r.Int64N(4*want+20)
		box, pt, _ := x.splitOff(x.m.Root, best, []master.Duals{x.m.Duals.Clone()})
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
