package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/packing"
	"example.com/longpoint/internal/solver/rules"
)

// full returns pieces that fill bins without waste, three to a bin.
func full(rng *rand.Rand, bins int) *model.Problem {
	const cap = 1000
	count := map[int64]int64{}
	for range bins {
		x := 350 + rng.Int64N(250)
		y := 150 + rng.Int64N(cap-x-250)
		for _, size := range []int64{x, y, cap - x - y} {
			count[size]++
		}
	}
	p := &model.Problem{Bins: []model.Bin{{Cap: cap, Cost: 7, Limit: int64(3 * bins)}}}
	for size := int64(cap); size > 0; size-- {
		if n := count[size]; n > 0 {
			p.Items = append(p.Items, model.Item{Size: size, Demand: n})
		}
	}
	return p
}

// The methods that continue after all stages find plans on their own, and accept only valid ones.
func TestOnward(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	found := 0
	for range 8 {
		const bins = 12
		p := full(rng, bins)
		r := &oneKind{solver: relaxed(t, p)}
		r.mt, r.bound, r.rng = meter.New(context.Background(), 300_000_000), 7*bins, 1
		r.findAlternatives()
		r.packing = packing.New(p, bins)
		r.keepDiving(2, 6)
		if r.cost < 7*bins {
			t.Fatalf("cost %d, but no plan costs less than %d", r.cost, 7*bins)
		}
		if _, ok := model.Exact(p, rules.ToPatterns(r.plan)); !ok || model.Cost(p, rules.ToPatterns(r.plan)) != r.cost {
			t.Fatalf("not a plan of cost %d: %v", r.cost, r.plan)
		}
		if r.cost == 7*bins {
			found++
		}
	}
	if found < 7 {
		t.Errorf("%d of 8 plans without waste found", found)
	}
}

// A search that has its answer, or is about another number of bins, is left alone.
func TestPackIsOver(t *testing.T) {
	p := full(rand.New(rand.NewPCG(1, 1)), 8)
	mt := meter.New(context.Background(), 0)
	r := &oneKind{solver: &solver{p: rules.Of(p), plain: p, mt: mt, cost: 7 * 9, bound: 7 * 8}}
	r.goOnPacking(1_000_000)
	r.packing = packing.New(p, 8)
	r.bound = 7 * 9
	r.goOnPacking(1_000_000)
	r.bound, r.cost = 7*8, 7*8
	r.goOnPacking(1_000_000)
	if mt.Used() != 0 {
		t.Errorf("%d steps for nothing", mt.Used())
	}
}
