package branchprice

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
)

// A list that is searched as a problem of covering gives what the search for columns of any
// family gives.
func TestCoveringAgainstSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 31))
	searched, plans, none, same, yoked := 0, 0, 0, 0, 0
	for i := range 3000 {
		with := feature(1) << r.IntN(10)
		if with == runsToo {
			with = charges | most
		}
		p := tiny(r, with|buying)
		x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: objective{main: Price}, cost: noCost}
		x.m = newMaster(p, x.objective)
		x.addInitialColumns()
		if x.m.solve(noCost, x.mt) != converged {
			continue
		}
		b := x.m.root.clone()
		for c := range b.lo {
			b.lo[c] += r.Int64N(b.hi[c] - b.lo[c] + 1)
			if r.IntN(2) == 0 {
				b.hi[c] -= r.Int64N(b.hi[c] - b.lo[c] + 1)
			}
			if len(p.Classes[c].Bins) > 1 && r.IntN(4) > 0 {
				b.hi[c] = b.lo[c]
			}
		}
		for g := range b.on {
			b.on[g] = []supplierUse{yes, no}[r.IntN(2)]
		}
		list, ok := x.m.enumerate(b, []duals{x.m.duals()}, noCost, 5_000, x.mt)
		if !ok || !x.affineOn(b) {
			continue
		}
		cutoff := int64(noCost)
		if r.IntN(2) == 0 {
			cutoff = 1 + r.Int64N(80)
		}
		c, ok := coveringOf(p, x.objective, b, list)
		if !ok {
			continue
		}
		want, sure := searchColumns(p, x.objective, b, list, cutoff, nil, x.mt)
		got, complete := c.solve(list, cutoff, x.mt)
		if !sure || !complete {
			t.Fatalf("case %d: certain %v, %v", i, sure, complete)
		}
		searched++
		if slices.ContainsFunc(p.Classes, func(c StockClass) bool { return len(c.Bins) > 1 }) {
			yoked++
		}
		if p.Exact {
			// A covering is a plan without what is too much, or none; no covering, no plan.
			if got == nil && want != nil {
				t.Fatalf("case %d, features %b: no covering, and yet a plan\n%+v\nin %+v", i, with, p, b)
			}
			continue
		}
		if got == nil {
			if none++; want != nil {
				t.Fatalf("case %d, features %b, cutoff %d: no covering, search %v\n%+v\nin %+v", i, with, cutoff, want, p, b)
			}
			continue
		}
		plans++
		a, okA := evaluate(p, got)
		// Sticks of which nothing is needed are left out of a covering, which may so be a plan below
		// the box where the search sees none in it.
		if !okA || a[Price] >= cutoff {
			t.Fatalf("case %d, features %b: covering costs %d (%v), cutoff %d\n%+v\nin %+v", i, with, a[Price], okA, cutoff, p, b)
		}
		if w, _ := evaluate(p, want); want != nil {
			same++
			if a[Price] > w[Price] {
				t.Fatalf("case %d, features %b: covering costs %d, search %d\n%+v\nin %+v", i, with, a[Price], w[Price], p, b)
			}
		}
	}
	if searched < 500 || same < 200 || none < 50 || yoked < 30 {
		t.Errorf("%d lists, %d of sticks with several bins, %d plans, %d times none", searched, yoked, plans, none)
	}
	t.Logf("%d lists, %d of sticks with several bins, %d plans, %d times none", searched, yoked, plans, none)
}
