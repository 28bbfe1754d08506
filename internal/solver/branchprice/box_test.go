package branchprice

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// A single master that goes from box to box, usually starting from the basis of an earlier box, proves
// the same of each box as a new master does. The second time around it needs no purchase column that it
// did not have the first time.
func TestOneMasterForManyBoxes(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	compared := 0
	for i := range 400 {
		with := solvertest.WithBuying | solvertest.Feature(1)<<r.IntN(10)
		p := solvertest.Tiny(r, with)
		x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}}
		x.m = master.NewOf(p, x.objective)
		x.addInitialColumns()
		m := x.m
		m.ToOptimality = true // else a rounded bound may end the relaxation early
		var boxes []bound.Box
		for range 6 {
			b := m.Root.Clone()
			for c := range b.Lo {
				b.Lo[c] += r.Int64N(b.Hi[c] - b.Lo[c] + 1)
				b.Hi[c] -= r.Int64N(b.Hi[c] - b.Lo[c] + 1)
			}
			for g := range b.On {
				b.On[g] = []bound.Supply{bound.Open, bound.Yes, bound.No}[r.IntN(3)]
			}
			boxes = append(boxes, b)
		}
		var bases []*lp.Basis
		sold := 0
		for pass := range 2 {
			for _, b := range boxes {
				m.SetBox(b)
				if len(bases) > 0 && r.IntN(2) == 0 {
					m.LP.Restore(bases[r.IntN(len(bases))])
				}
				got := m.Solve(rules.NoCost, x.mt)
				fresh := &solver{p: p, mt: x.mt, objective: x.objective, m: master.NewOf(p, x.objective)}
				fresh.m.ToOptimality = true
				fresh.addInitialColumns()
				fresh.m.SetBox(b)
				want := fresh.m.Solve(rules.NoCost, x.mt)
				if got != want || got == master.Converged && math.Abs(m.Value()-fresh.m.Value()) > 1e-5 {
					t.Fatalf("case %d, features %b: %v, %v, a new master returns %v, %v\n%+v\nin %+v", i, with, got, m.Value(), want, fresh.m.Value(), p, b)
				}
				if got == master.Converged {
					compared++
					bases = append(bases, new(lp.Basis))
					m.LP.Save(bases[len(bases)-1])
				}
			}
			n := m.LP.Columns() - len(m.Columns)
			if pass == 1 && n > sold {
				t.Fatalf("case %d: %d purchase columns the first time, %d the second", i, sold, n)
			}
			sold = n
		}
	}
	if compared < 1000 {
		t.Errorf("only %d boxes compared", compared)
	}
	t.Logf("%d boxes compared", compared)
}
