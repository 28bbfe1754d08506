package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

func TestAgainstEveryPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	proven, feasible, n := 0, 0, 4000
	if testing.Short() {
		n = 600
	}
	for i := range n {
		with := solvertest.Feature(1) << r.IntN(10)
		if i%2 == 0 {
			with |= solvertest.Feature(1) << r.IntN(10)
		}
		if with&solvertest.WithNest != 0 {
			with &^= solvertest.WithPart // the two are never asked for together
		}
		p := solvertest.Tiny(r, with)
		want, ok := solvertest.LeastWithRules(p)
		var res search.Result
		if i%3 > 0 {
			res = Solve(context.Background(), p, search.Options{Work: 400_000_000})
		} else {
			// Without the quick plans and the dives, which would hide errors of the proofs.
			x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}, exactOnly: true}
			x.solve(nil)
			res = x.result()
		}
		if !ok {
			if res.Patterns != nil {
				t.Fatalf("case %d: a plan of %d for an infeasible problem\n%+v\n%+v", i, res.Cost, p, res)
			}
			if !res.Infeasible {
				t.Errorf("case %d, features %b: infeasible not proven: %v", i, with, res.Stop)
			}
			continue
		}
		feasible++
		if res.Bound > want {
			t.Fatalf("case %d, features %b: bound %d above the optimum %d\n%+v", i, with, res.Bound, want, p)
		}
		if res.Patterns == nil || res.Cost < want {
			t.Fatalf("case %d, features %b: cost %d, optimum %d\n%+v\n%+v", i, with, res.Cost, want, p, res)
		}
		if res.Cost > want {
			t.Errorf("case %d, features %b: cost %d, optimum %d, %v", i, with, res.Cost, want, res.Stop)
		}
		if res.Stop == search.Proven {
			proven++
		}
	}
	t.Logf("%d of %d proven", proven, feasible)
	if proven < feasible*99/100 {
		t.Errorf("only %d of %d proven", proven, feasible)
	}
}
