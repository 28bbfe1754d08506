package solver_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// answer is the result that the contract requires, in order of importance.
type answer struct {
	cost, sticks, offcut int64
}

func (a answer) better(b answer) bool {
	if a.cost != b.cost {
		return a.cost < b.cost
	}
	if a.sticks != b.sticks {
		return a.sticks < b.sticks
	}
	return a.offcut > b.offcut
}

// exhaust looks at every plan.
func exhaust(p *model.Problem) (best answer, found bool) {
	solvertest.EveryPlan(p, bound.Full(p), func() int64 { return math.MaxInt64 }, func(sticks []solvertest.Stick, cost int64) {
		a := answer{cost: cost, sticks: int64(len(sticks))}
		for _, s := range sticks {
			a.offcut = max(a.offcut, s.Left)
		}
		if !found || a.better(best) {
			best, found = a, true
		}
	})
	return best, found
}

// comesTo verifies a result's plan and returns its values.
func comesTo(t *testing.T, p *model.Problem, r search.Result) (a answer) {
	t.Helper()
	if err := solvertest.Feasible(p, bound.Full(p), r.Patterns); err != nil {
		t.Fatal(err)
	}
	for _, c := range r.Patterns {
		a.cost += c.Count * p.Bins[c.Bin].Cost
		a.sticks += c.Count
		a.offcut = max(a.offcut, p.Bins[c.Bin].Cap-p.Size(c.Uses))
	}
	if a.cost != r.Cost || r.Bound > r.Cost || a.cost != r.Goals[0].Value || a.sticks != r.Goals[1].Value || a.offcut != r.Goals[3].Value {
		t.Fatalf("cost %d, bound %d, goals %+v claimed; the plan comes to %+v", r.Cost, r.Bound, r.Goals, a)
	}
	return a
}

// The cost and all goals after it, against every plan.
func TestGoalsAgainstExhaustion(t *testing.T) {
	n := 20_000
	if testing.Short() {
		n = 2_000
	}
	rng := rand.New(rand.NewPCG(1, 2))
	solved, infeasible := 0, 0
	for k := range n {
		p := solvertest.Small(rng, 1+rng.IntN(7))
		want, ok := exhaust(p)
		r := solver.Solve(context.Background(), rules.Of(p), search.Options{Goals: search.UsualGoals(), Brief: true})
		if !ok {
			infeasible++
			if !r.Infeasible {
				t.Fatalf("case %d: %+v has no plan, got %+v", k, p, r)
			}
			continue
		}
		solved++
		if r.Stop != search.Proven || r.Bound != r.Cost {
			t.Fatalf("case %d: %#v not proven: %+v", k, p, r)
		}
		if got := comesTo(t, p, r); got != want {
			t.Fatalf("case %d: %#v: got %+v, want %+v\n%+v", k, p, got, want, r.Patterns)
		}
	}
	if solved < n/4 || infeasible < n/20 {
		t.Errorf("%d solved, %d infeasible: the generator is too uniform", solved, infeasible)
	}
}
