package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// verify checks a result's plan and returns its cost.
func verify(t *testing.T, p *model.Problem, r search.Result) (cost int64) {
	t.Helper()
	if err := solvertest.Feasible(p, bound.Full(p), r.Patterns); err != nil {
		t.Fatal(err)
	}
	for _, c := range r.Patterns {
		cost += c.Count * p.Bins[c.Bin].Cost
	}
	if cost != r.Cost || r.Bound > r.Cost {
		t.Fatalf("cost %d, bound %d claimed; the plan costs %d", r.Cost, r.Bound, cost)
	}
	return cost
}

func TestCostAgainstExhaustion(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for k := range 1_000 {
		p := solvertest.Small(rng, 1+rng.IntN(7))
		want, ok := solvertest.LeastOfAll(p)
		r := Solve(context.Background(), rules.Of(p), search.Options{})
		if r.Stop != search.Proven || r.Infeasible == ok || r.Bound != r.Cost && ok {
			t.Fatalf("case %d: %#v not proven: %+v", k, p, r)
		}
		if ok && verify(t, p, r) != want {
			t.Fatalf("case %d: %#v: cost %d, want %d\n%+v", k, p, r.Cost, want, r.Patterns)
		}
	}
}

func TestSameTwice(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		p := solvertest.Small(rng, 14)
		a := Solve(context.Background(), rules.Of(p), search.Options{Work: 300_000})
		b := Solve(context.Background(), rules.Of(p), search.Options{Work: 300_000})
		if d := cmp.Diff(a, b); d != "" {
			t.Fatal(d)
		}
	}
}

// TestLargeDemands multiplies demands by a million, which must take hardly more work: compare F. Brandao,
// Cutting and packing problems solved with arc-flow formulations (MSc thesis, 2012), table 3.5. The data is
// the encyclopedia example with rolls of 5600 mm, and the fiber industry's fiber06.
func TestLargeDemands(t *testing.T) {
	for name, p := range map[string]*model.Problem{
		"paper": {
			Items: []model.Item{{Size: 2200, Demand: 20}, {Size: 2150, Demand: 18}, {Size: 2140, Demand: 16}, {Size: 2100, Demand: 14},
				{Size: 2050, Demand: 12}, {Size: 2000, Demand: 10}, {Size: 1930, Demand: 20}, {Size: 1880, Demand: 18}, {Size: 1820, Demand: 18},
				{Size: 1710, Demand: 14}, {Size: 1560, Demand: 12}, {Size: 1520, Demand: 25}, {Size: 1380, Demand: 22}},
			Bins: []model.Bin{{Cap: 5600, Cost: 1}},
		},
		"fiber": {
			Items: []model.Item{{Size: 1250, Demand: 5}, {Size: 1150, Demand: 64}, {Size: 1120, Demand: 9}, {Size: 1066, Demand: 18},
				{Size: 1000, Demand: 11}, {Size: 520, Demand: 91}},
			Bins: []model.Bin{{Cap: 9080, Cost: 1}},
		},
	} {
		for i := range p.Items {
			p.Items[i].Demand *= 1_000_000
		}
		p.Bins[0].Limit = p.Pieces()
		r := Solve(context.Background(), rules.Of(p), search.Options{Work: 50_000_000})
		if r.Stop != search.Proven {
			t.Errorf("%s: %d, bound %d after %d steps", name, r.Cost, r.Bound, r.Work)
		}
		verify(t, p, r)
	}
}

// TestSettledCounts is an invented job in which the sum of many small values hid that a count was settled, so
// the search continued to split it.
func TestSettledCounts(t *testing.T) {
	p := &model.Problem{
		Items: []model.Item{{Size: 2584, Demand: 1}, {Size: 2448, Demand: 3}, {Size: 2110, Demand: 2}, {Size: 2044, Demand: 1},
			{Size: 1370, Demand: 1}, {Size: 1083, Demand: 1}, {Size: 974, Demand: 1}, {Size: 910, Demand: 3}, {Size: 757, Demand: 3},
			{Size: 734, Demand: 2}, {Size: 633, Demand: 3}, {Size: 506, Demand: 1}, {Size: 378, Demand: 1}, {Size: 168, Demand: 2}},
		Bins: []model.Bin{{Cap: 3074, Cost: 5675, Limit: 25}, {Cap: 2690, Cost: 4931, Limit: 25}, {Cap: 2306, Cost: 4198, Limit: 1},
			{Cap: 1922, Cost: 3474, Limit: 25}, {Cap: 1246, Cost: 0, Limit: 1}, {Cap: 812, Cost: 0, Limit: 2}},
	}
	r := Solve(context.Background(), rules.Of(p), search.Options{Work: 20_000_000})
	if r.Stop != search.Proven || r.Cost != 50065 {
		t.Errorf("cost %d, bound %d, stop %d after %d steps, want 50065 proven", r.Cost, r.Bound, r.Stop, r.Work)
	}
	verify(t, p, r)
}
