package solver_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// worth returns the greatest value of a pattern of the capacity.
func worth(p *model.Problem, value []int64, cap int64) int64 {
	best := make([]int64, cap+1)
	for i, it := range p.Items {
		for range min(it.Demand, cap/it.Size) {
			for c := cap; c >= it.Size; c-- {
				best[c] = max(best[c], best[c-it.Size]+value[i])
			}
		}
	}
	return best[cap]
}

// Leaves prove their claims, by the formula, and every count of sticks lies in one of them.
func TestLeavesShowTheBound(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 15))
	mt := meter.New(context.Background(), 0)
	sums, trees, searched := 0, 0, 0
	for k := range 60 {
		p := &model.Problem{}
		for s := 60 + r.Int64N(60); s > 12 && len(p.Items) < 14; s -= 1 + r.Int64N(9) {
			p.Items = append(p.Items, model.Item{Size: s, Demand: 1 + r.Int64N(200)})
		}
		for b := range 2 + r.IntN(3) {
			limit := p.Pieces()
			if b > 0 && r.IntN(2) == 0 {
				limit = 1 + r.Int64N(5)
			}
			c := 125 + int64(31*b)
			p.Bins = append(p.Bins, model.Bin{Cap: c, Cost: 3*c + r.Int64N(40), Limit: limit})
		}
		res := solver.Solve(context.Background(), rules.Of(p), search.Options{Work: 20_000_000})
		if err := solvertest.Feasible(p, bound.Full(p), res.Patterns); err != nil {
			t.Fatal(err)
		}
		if res.Bound > res.LeafBound {
			searched++
		}
		if len(res.Leaves) > 1 {
			trees++
		}
		for _, l := range res.Leaves {
			best := make([]int64, len(p.Bins))
			for b, bin := range p.Bins {
				best[b] = worth(p, l.Dual, bin.Cap)
			}
			box := bound.Box{Lo: l.Lo, Hi: l.Hi}
			num := solvertest.Numerator(p, box, l.Dual, best, l.Scale)
			if l.Scale == 0 && num.Sign() > 0 {
				continue
			}
			shown := max(0, num.CeilDiv(max(l.Scale, 1)))
			if l.Scale == 0 {
				shown = 0
			}
			if l.RoundedUp {
				if up := bound.Reachable(p, box, res.LeafBound, mt).RoundUp(shown); up > shown {
					shown = up
					sums++
				}
			}
			empty := false
			for b := range l.Lo {
				empty = empty || l.Lo[b] > l.Hi[b]
			}
			if shown < res.LeafBound && !empty {
				t.Fatalf("case %d: %+v\nleaf %+v shows %d, reported %d", k, *p, l, shown, res.LeafBound)
			}
		}
		for range 200 {
			n := make([]int64, len(p.Bins))
			for b, bin := range p.Bins {
				n[b] = r.Int64N(bin.Limit + 1)
				if r.IntN(2) == 0 {
					n[b] = min(n[b], r.Int64N(8))
				}
			}
			inside := false
			for _, l := range res.Leaves {
				in := true
				for b := range n {
					in = in && l.Lo[b] <= n[b] && n[b] <= l.Hi[b]
				}
				inside = inside || in
			}
			if !inside {
				t.Fatalf("case %d: %+v\ncounts %v lie in none of %d leaves", k, *p, n, len(res.Leaves))
			}
		}
	}
	if sums < 200 || trees < 20 {
		t.Errorf("%d leaves with sums, %d trees, %d searched: too few of one kind", sums, trees, searched)
	}
}
