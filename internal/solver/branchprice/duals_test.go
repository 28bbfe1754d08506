package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// However the demands are perturbed, the bound of a box's duals is valid for every box within it: it is
// at most the cost of the best plan with counts there, and every column of that plan gains enough by
// the duals to be listed.
func TestDualsHoldInBoxesWithin(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	looked, several := 0, 0
	for i := range 1500 {
		with := solvertest.Feature(1) << r.IntN(10)
		if i%2 == 0 {
			with |= solvertest.Feature(1) << r.IntN(10)
		}
		if with&solvertest.WithNest != 0 {
			with &^= solvertest.WithPart
		}
		p := solvertest.Tiny(r, with)
		x, best, ok := solvedAnew(p)
		if !ok {
			continue
		}
		want, m := x.cost, x.m
		// The box with exactly the counts of the plan.
		in := m.Root.Clone()
		copy(in.Lo, best)
		copy(in.Hi, in.Lo)
		all := x.alternativesHere()
		if got := m.Duals.Clone(); m.BoundOf(&got, m.Root) != m.Bound {
			t.Fatalf("case %d, features %b: the duals show %d for their own box, the master %d", i, with, m.BoundOf(&got, m.Root), m.Bound)
		}
		for k := range all {
			looked++
			if k > 0 {
				several++
			}
			for _, b := range []bound.Box{m.Root, in} {
				if got := m.BoundOf(&all[k], b); got > want {
					t.Fatalf("case %d, features %b: duals %d show %d, the best plan costs %d\n%+v", i, with, k, got, want, p)
				}
				g, closed, _ := m.FilterOf(&all[k], b, want+1)
				if closed {
					t.Fatalf("case %d, features %b: duals %d rule out the best plan\n%+v", i, with, k, p)
				}
				for _, q := range x.plan {
					if !g.Accepts(p, q.Column) {
						t.Fatalf("case %d, features %b: duals %d exclude a column of the best plan\n%+v", i, with, k, p)
					}
				}
			}
		}
	}
	if several < looked/3 {
		t.Errorf("%d of %d duals of perturbed problems", several, looked)
	}
	t.Logf("%d duals, %d of them with perturbed demands", looked, several)
}

// The point and the boxes around it cover a box, and no two of them have a count in common.
func TestSplitCutsABoxUp(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for i := range 300 {
		p := solvertest.Tiny(r, solvertest.WithBuying)
		x := &solver{p: p, mt: meter.New(context.Background(), 50_000_000), objective: rules.Objective{Main: rules.Price}, cost: rules.NoCost}
		x.m = master.NewOf(p, x.objective)
		x.addInitialColumns()
		if x.m.Solve(rules.NoCost, x.mt) != master.Converged {
			continue
		}
		whole := x.m.Root
		at := make([]int64, len(p.Classes))
		for c := range at {
			at[c] = whole.Lo[c] + r.Int64N(whole.Hi[c]-whole.Lo[c]+1)
		}
		box, _, around := x.splitOff(whole, at, nil)
		parts := append(around, box)
		n := make([]int64, len(at))
		for range 200 {
			for c := range n {
				n[c] = whole.Lo[c] + r.Int64N(whole.Hi[c]-whole.Lo[c]+1)
			}
			in := 0
			for _, b := range parts {
				holds := true
				for c := range n {
					holds = holds && b.Lo[c] <= n[c] && n[c] <= b.Hi[c]
				}
				if holds {
					in++
				}
			}
			if in != 1 {
				t.Fatalf("case %d: %d of %d boxes hold %v, split at %v", i, in, len(parts), n, at)
			}
		}
	}
}
