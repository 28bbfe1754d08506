package replan_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
)

// Bought says the same as a list of all sticks of the plan that are not cut, started or listed.
func TestReplanBought(t *testing.T) {
	owned := 0
	try := func(r *rand.Rand, p optimize.Problem) {
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1 << 20})
		if err != nil {
			return
		}
		short := onPlan(r, &p, plan)
		short.Owned = slices.DeleteFunc(short.Owned, func(o replan.Owned) bool { return o.Place == replan.PlaceWhole && r.IntN(2) == 0 })
		short.Bought = true
		long := short
		long.Bought, long.Owned = false, slices.Clone(short.Owned)
		used := make([]int, len(p.Sticks))
		for k, n := range short.Cut {
			used[plan.Patterns[k].Stick] += n
		}
		for _, s := range short.Started {
			used[s.Stick]++
		}
		for _, o := range short.Owned {
			if o.Place == replan.PlaceWhole {
				used[o.Stick] += max(1, o.Count)
			}
		}
		for _, b := range plan.Buy {
			if n := b.Count - used[b.Stick]; n > 0 {
				long.Owned = append(long.Owned, replan.Owned{Stick: b.Stick, Place: replan.PlaceWhole, Count: n})
				owned++
			}
		}
		before := slices.Clone(short.Owned)
		a, errA := replan.Solve(context.Background(), p, plan, short, &optimize.Options{Work: 1 << 20})
		b, errB := replan.Solve(context.Background(), p, plan, long, &optimize.Options{Work: 1 << 20})
		if (errA == nil) != (errB == nil) || errA != nil && errA.Error() != errB.Error() {
			t.Fatalf("%v\n%v", errA, errB)
		}
		if d := cmp.Diff(a, b); d != "" {
			t.Fatalf("%+v\n%s", short, d)
		}
		if d := cmp.Diff(before, short.Owned); d != "" {
			t.Fatalf("the argument changed: %s", d)
		}
	}
	for k, j := range trimjob.OfClass("room")[:8] {
		try(rand.New(rand.NewPCG(uint64(k), 1)), problem(j.Job()))
	}
	for a := range features {
		try(rand.New(rand.NewPCG(uint64(a), 2)), bothAdded(a, a, 3))
	}
	if owned < 8 {
		t.Errorf("only %d lines of stock", owned)
	}
}

// With everything bought and nothing cut, the plan stays, and there is nothing to buy.
func TestReplanAllBought(t *testing.T) {
	p := problem(trimjob.OfClass("room")[0].Job())
	plan := mustSolve(t, p)
	rev := mustReplan(t, p, plan, replan.Progress{Bought: true})
	if rev.Cost != 0 || len(rev.Buy) > 0 || len(rev.Surplus) > 0 || !allKept(rev) || rev.Extra() != 0 {
		t.Errorf("%+v", rev)
	}
}
