package residual_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// randomPart is a problem of a few pieces and kinds of stick, most of them scarce.
func randomPart(rng *rand.Rand) *residual.Problem {
	q := &residual.Problem{}
	size := int64(90)
	for n := 2 + rng.IntN(6); len(q.Items) < n; {
		size -= 1 + rng.Int64N(12)
		q.Item = append(q.Item, len(q.Items))
		q.Items = append(q.Items, model.Item{Size: size, Demand: 1 + rng.Int64N(3)})
	}
	q.Bins = []model.Bin{{Cap: 100, Cost: 1000 + rng.Int64N(100), Limit: q.Pieces()}}
	for n, cap := rng.IntN(5), int64(100); n > 0; n-- {
		cap -= 1 + rng.Int64N(15)
		q.Bins = append(q.Bins, model.Bin{Cap: cap, Cost: cap * (7 + rng.Int64N(5)), Limit: rng.Int64N(3)})
	}
	return q
}

// solve solves a problem as a whole.
func solve(p *model.Problem) search.Result {
	return branchprice.Solve(context.Background(), rules.Of(p), search.Options{})
}

// Whatever the duals and the cutoff are: a plan reported as the cheapest is the cheapest, and if none
// is reported below the cutoff there is none.
func TestPartsAreSolved(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 5))
	found, none := 0, 0
	for k := range 400 {
		q := randomPart(rng)
		least := solve(&q.Problem)
		if least.Stop != search.Proven {
			t.Fatalf("part %d: stop %d", k, least.Stop)
		}
		by := &master.Duals{Scale: 1 << 20, Item: make([]int64, len(q.Items))}
		for i, it := range q.Items {
			// Proportional to the size; now and then zero, or far too high.
			by.Item[i] = it.Size * (8 + rng.Int64N(5)) * by.Scale * int64(rng.IntN(20)) / 19
		}
		cutoff := []int64{least.Cost - 3, least.Cost, least.Cost + 1, 2 * least.Cost, search.NoPlan - 1, search.NoPlan}[rng.IntN(6)]
		plan, certain := q.Cheapest(by, cutoff, meter.New(context.Background(), 0))
		switch {
		case plan == nil && certain:
			none++
			if cutoff > least.Cost {
				t.Fatalf("part %d: no plan below %d found, but there is one of %d", k, cutoff, least.Cost)
			}
		case plan != nil:
			found++
			if _, ok := model.Exact(&q.Problem, plan); !ok {
				t.Fatalf("part %d: no plan: %+v", k, plan)
			}
			if c := model.Cost(&q.Problem, plan); c >= cutoff || c < least.Cost || certain && c > least.Cost {
				t.Fatalf("part %d: cost %d below %d, certain %t, least %d", k, c, cutoff, certain, least.Cost)
			}
		}
	}
	if found < 150 || none < 80 {
		t.Errorf("%d found, %d times none", found, none)
	}
	q := randomPart(rng)
	by := &master.Duals{Scale: 1, Item: make([]int64, len(q.Items))}
	if plan, certain := q.Cheapest(by, search.NoPlan, meter.New(context.Background(), 1)); plan != nil || certain {
		t.Errorf("without work: plan %v, certain %t", plan, certain)
	}
	by.Scale = 0
	if plan, certain := q.Cheapest(by, search.NoPlan, new(meter.Meter)); plan != nil || certain {
		t.Errorf("without a scale: plan %v, certain %t", plan, certain)
	}
}
