package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// tract is a problem with a few hundred items with large demands and a few kinds of stick, one of
// them scarce.
func tract(rng *rand.Rand, items int) *model.Problem {
	p := &model.Problem{}
	for size := int64(1700); len(p.Items) < items; size -= 1 + rng.Int64N(5) {
		p.Items = append(p.Items, model.Item{Size: size, Demand: 4 * (1 + rng.Int64N(6))})
	}
	n := p.Pieces()
	p.Bins = []model.Bin{{Cap: 3072, Cost: 1621, Limit: n}, {Cap: 3840, Cost: 2064, Limit: n / 9}, {Cap: 2304, Cost: 1190, Limit: n}}
	return p
}

// In a huge problem a dive leaves little to a separate run, and comes within a thousandth of the bound.
func TestHandOver(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 4))
	for range 2 {
		p := tract(rng, keepInequalityItems+rng.IntN(50))
		if !huge(p) {
			t.Fatal("not huge")
		}
		res := Solve(context.Background(), rules.Of(p), search.Options{Work: 150_000_000})
		cols, ok := model.Exact(p, res.Patterns)
		if !ok || model.Cost(p, cols) != res.Cost || res.Bound > res.Cost {
			t.Fatalf("no plan of cost %d, bound %d", res.Cost, res.Bound)
		}
		if 1000*(res.Cost-res.Bound) > res.Cost {
			t.Errorf("cost %d, bound %d, stage %v", res.Cost, res.Bound, res.Stage)
		}
		// The leaves prove it on their own.
		if res.LeafBound > res.Bound || len(res.Leaves) == 0 {
			t.Errorf("leaves show %d, bound %d", res.LeafBound, res.Bound)
		}
	}
}

// A dive hands its residual problem over to a separate run as soon as that is much smaller than the whole,
// and joins the two plans.
func TestDiveHandsOver(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 5))
	handed := 0
	for range 2 {
		p := tract(rng, keepInequalityItems)
		r := &solver{p: rules.Of(p), plain: p, mt: meter.New(context.Background(), 400_000_000), cost: rules.NoCost, bound: master.NoBound, rng: diversify.Start}
		r.m = master.New(p)
		r.m.KeepInequalities()
		r.addInitialColumns()
		if st := r.m.Solve(r.cost, r.mt); st != master.Converged {
			t.Fatalf("relaxation: %v", st)
		}
		r.rootDuals = r.m.Duals.Clone()
		bound := r.m.Bound
		r.dive()
		if r.plan == nil {
			continue
		}
		handed++
		cols := rules.ToPatterns(r.plan)
		if _, ok := model.Exact(p, cols); !ok || model.Cost(p, cols) != r.cost || r.cost < bound {
			t.Fatalf("no plan of %d, the bound is %d", r.cost, bound)
		}
	}
	if handed == 0 {
		t.Error("no dive found a plan")
	}
}
