package plain

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// TestPairSearchAlone gives the pair search nothing but a poor plan, so that it
// has to find the optimum and prove it by itself.
func TestPairSearchAlone(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	branched := 0
	for c := range 3000 {
		cap := 20 + rng.Int64N(80)
		p := &model.Problem{}
		var sizes []int64
		size := cap
		for len(sizes) < 9 && size > 2 {
			size -= 1 + rng.Int64N(1+size/3)
			n := 1 + rng.Int64N(3)
			p.Items = append(p.Items, model.Item{Size: size, Demand: n})
			for range n {
				sizes = append(sizes, size)
			}
		}
		p.Bins = []model.Bin{{Cap: cap, Cost: 1, Limit: p.Pieces()}}
		r := &solver{p: p, mt: meter.New(context.Background(), 0), cost: search.NoPlan}
		var poor []model.PatternCount
		for i, it := range p.Items {
			poor = append(poor, model.PatternCount{Pattern: model.Pattern{Uses: []model.Use{{Item: i, N: 1}}}, Count: it.Demand})
		}
		r.tryIncumbent(poor)
		r.cost++ // so that even the poor plan has to be found
		r.master = master.New(p)
		addInitialColumns(r.master, nil)
		r.master.Solve(math.MaxInt64, r.mt)
		s := &pairBranching{r: r, mt: r.mt, exactOnly: true}
		m := master.New(p)
		m.SetBox(bound.Full(p))
		addInitialColumns(m, nil)
		if !s.node(unmerged(p), m, 0) {
			t.Fatalf("case %d: %+v not closed", c, p)
		}
		want, _ := solvertest.LeastOfAll(p)
		if got := model.Cost(p, r.plan); got != want && !(want == p.Pieces() && r.cost == want+1) {
			t.Fatalf("case %d: %+v: got %d, want %d", c, p, got, want)
		}
		if _, ok := model.Exact(p, r.plan); !ok {
			t.Fatalf("case %d: plan does not cover", c)
		}
		branched += s.nodes
	}
	if branched < 5000 {
		t.Errorf("only %d nodes in all: the cases are too easy", branched)
	}
}
