package optimize_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

func mustSolve(t testing.TB, p optimize.Problem) *optimize.Plan {
	t.Helper()
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatalf("Solve: %v\n%#v", err, p)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Fatalf("Check: %v\n%#v\n%+v", err, p, plan)
	}
	return plan
}

func longestOffcut(plan *optimize.Plan) measure.Length {
	var l measure.Length
	for _, p := range plan.Patterns {
		l = max(l, p.Offcut)
	}
	return l
}

// TestSolveSlow compares with trying everything: feasibility, cost, and both tie-breaks.
func TestSolveSlow(t *testing.T) {
	runs := 6000
	if testing.Short() {
		runs = 500
	}
	kinds := make(map[optimize.ProofKind]int)
	infeasible := 0
	for seed := range uint64(runs) {
		p := tiny(rand.New(rand.NewPCG(seed, 1)))
		want, ok := slowSolve(p)
		if !ok {
			_, err := optimize.Solve(context.Background(), p, nil)
			if !errors.As(err, new(*optimize.InfeasibleError)) {
				t.Fatalf("seed %d: error %v, want infeasible\n%#v", seed, err, p)
			}
			infeasible++
			continue
		}
		plan := mustSolve(t, p)
		if plan.Cost != want.cost || !plan.Proven || plan.Bound != want.cost || plan.Stop != optimize.StopProven {
			t.Fatalf("seed %d: cost %d, bound %d, proven %v, want cost %d proven\n%#v",
				seed, plan.Cost, plan.Bound, plan.Proven, want.cost, p)
		}
		got := best{plan.Cost, int(plan.Sticks()), longestOffcut(plan)}
		if got != want {
			t.Errorf("seed %d: ties: got %+v, want %+v\n%#v", seed, got, want, p)
		}
		kinds[plan.Proof.Kind()]++
	}
	t.Logf("kinds of proof %v, infeasible %d", kinds, infeasible)
	if infeasible == 0 || kinds[optimize.ProofMaterial] == 0 || kinds[optimize.ProofDual] == 0 {
		t.Error("the random problems are too similar")
	}
}
