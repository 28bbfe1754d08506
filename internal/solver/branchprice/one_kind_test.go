package branchprice

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
)

// relaxed returns a search without rules that has solved the relaxation.
func relaxed(t *testing.T, p *model.Problem) *solver {
	t.Helper()
	r := &solver{p: rules.Of(p), plain: p, objective: rules.Objective{Main: rules.Price}, mt: new(meter.Meter), cost: rules.NoCost, m: master.New(p)}
	r.addInitialColumns()
	if st := r.m.Solve(rules.NoCost, r.mt); st != master.Converged {
		t.Fatalf("%+v: relaxation: %v", p, st)
	}
	r.rootDuals = r.m.Duals.Clone()
	return r
}

// If the relaxation allows some waste, a dive that fixes several patterns at a time still
// nearly always finds a plan that costs no more than the bound.
func TestRoomyDives(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 21))
	roomy, reached := 0, 0
	for range 60 {
		p := &model.Problem{}
		size := int64(3500)
		for len(p.Items) < 50 && size > 2000 {
			size -= 1 + rng.Int64N(40)
			p.Items = append(p.Items, model.Item{Size: size, Demand: 1 + rng.Int64N(2)})
		}
		p.Bins = []model.Bin{{Cap: 10_000, Cost: 7, Limit: p.Pieces()}}
		r := &oneKind{solver: relaxed(t, p)}
		sticks := math.Ceil(r.m.Value()/7 - 1e-6)
		r.bound = 7 * int64(sticks)
		r.cost = r.bound + 8 // a plan with one stick more is known
		if left := sticks - r.m.Value()/7; left < 0.05 {
			continue
		}
		roomy++
		r.dive(0, 0)
		if r.plan == nil {
			continue
		}
		if _, ok := model.Exact(p, rules.ToPatterns(r.plan)); !ok || r.cost != model.Cost(p, rules.ToPatterns(r.plan)) || r.cost < r.bound {
			t.Fatalf("no plan of %d: %+v", r.cost, rules.ToPatterns(r.plan))
		}
		if r.cost == r.bound {
			reached++
		}
	}
	if roomy < 40 || 10*reached < 9*roomy {
		t.Errorf("%d dives with slack, %d to the bound", roomy, reached)
	}
}
