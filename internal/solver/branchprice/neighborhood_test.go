package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// A neighborhood search begins with the worst quick plan of a tiny problem with rules. It ends with a
// plan that is never worse. Since the neighborhood is the whole problem, it ends with the optimum if
// the cost of sticks is linear, and mostly otherwise.
func TestNeighborhoodOfAllPieces(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 5))
	plans, improved, best := 0, 0, 0
	for n := range 1500 {
		with := solvertest.Feature(1) << r.IntN(10)
		with |= solvertest.Feature(1) << r.IntN(10)
		if with&solvertest.WithNest != 0 {
			with &^= solvertest.WithPart // the two are never asked for together
		}
		p := solvertest.Tiny(r, with)
		least, ok := solvertest.LeastWithRules(p)
		if !ok {
			continue
		}
		x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}, bound: master.NoBound, rng: diversify.Start}
		x.cost = rules.NoCost
		x.m = master.NewOf(p, x.objective)
		x.addInitialColumns()
		if x.m.Solve(rules.NoCost, x.mt) != master.Converged {
			continue
		}
		var worst []rules.ColumnCount
		dearest := int64(-1)
		heuristic.Quick(p, x.mt, func(plan []rules.ColumnCount) {
			if sum, ok := rules.Evaluate(p, plan); ok && sum[rules.Price] > dearest {
				worst, dearest = plan, sum[rules.Price]
			}
		})
		if worst == nil {
			continue
		}
		plans++
		x.tryIncumbent(worst)
		for range 3 {
			before := x.cost
			x.neighborhoodSearch(1)
			sum, ok := rules.Evaluate(p, x.plan)
			if !ok || sum[rules.Price] != x.cost || x.cost > before || x.cost < least {
				t.Fatalf("case %d, features %b: %v (%t), reported cost %d, after %d; the cheapest costs %d\n%+v", n, with, sum, ok, x.cost, before, least, p)
			}
			for _, q := range x.plan {
				if f := q.Column.Fill; f != nil {
					if y, ok := p.Fill(f); !ok || p.Costs(f, &y) != q.Column.Cost {
						t.Fatalf("case %d, features %b: %+v is not a pattern\n%+v", n, with, *f, p)
					}
				}
			}
		}
		switch {
		case x.cost == least:
			best++
		case x.affineOn(x.m.Box):
			t.Errorf("case %d, features %b: a plan of %d, the cheapest costs %d\n%+v", n, with, x.cost, least, p)
		}
		if x.cost < dearest {
			improved++
		}
	}
	t.Logf("%d plans, %d improved, %d the best", plans, improved, best)
	if plans < 600 || improved < 80 || best < plans*95/100 {
		t.Errorf("%d plans, %d improved, %d the best: too few of one kind", plans, improved, best)
	}
}
