package branchprice

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// alone is a poor plan: each piece on its own stick, the most expensive one left. It returns nil if the
// sticks run out.
func alone(p *model.Problem) (plan []model.PatternCount) {
	left := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		left[b] = bin.Limit
	}
	for i, it := range p.Items {
		for range it.Demand {
			dearest := -1
			for b, bin := range p.Bins {
				if left[b] > 0 && bin.Cap >= it.Size && (dearest < 0 || bin.Cost > p.Bins[dearest].Cost) {
					dearest = b
				}
			}
			if dearest < 0 {
				return nil
			}
			left[dearest]--
			plan = append(plan, model.PatternCount{Pattern: model.Pattern{Bin: dearest, Uses: []model.Use{{Item: i, N: 1}}}, Count: 1})
		}
	}
	return plan
}

// improving returns a solver with a plan and the relaxation's duals, as neighborhoods need them.
func improving(t *testing.T, p *model.Problem, plan []model.PatternCount) *solver {
	r := relaxed(t, p)
	r.rng = diversify.Start
	r.tryIncumbent(r.p.FromPatterns(plan))
	return r
}

// On a problem of few pieces, where the neighborhood is the whole problem, the worst plan becomes the
// best.
func TestPlainNeighborhoodOfAllPieces(t *testing.T) {
	rng := rand.New(rand.NewPCG(18, 3))
	plans, improved := 0, 0
	for k := range 600 {
		p := solvertest.Small(rng, 7)
		plan := alone(p)
		if plan == nil {
			continue
		}
		plans++
		first := model.Cost(p, plan)
		r := improving(t, p, plan)
		r.neighborhoodSearch(1)
		if err := solvertest.Feasible(p, bound.Full(p), rules.ToPatterns(r.plan)); err != nil {
			t.Fatalf("problem %d: %v\n%+v", k, err, *p)
		}
		least, _ := solvertest.LeastOfAll(p)
		if got := model.Cost(p, rules.ToPatterns(r.plan)); got != r.cost || got != least {
			t.Fatalf("problem %d: a plan of %d, reported cost %d; the cheapest costs %d\n%+v", k, got, r.cost, least, *p)
		}
		if least < first {
			improved++
		}
	}
	if plans < 200 || improved < 150 {
		t.Errorf("%d plans, %d improved: too few of one kind", plans, improved)
	}
}

// Each try goes from a plan to one that costs no more, and never less than the bound of the relaxation.
func TestPlainNeighborhoodsNeverWorse(t *testing.T) {
	rng := rand.New(rand.NewPCG(18, 4))
	shape := solvertest.Shape{
		Largest: [2]int64{60, 90}, Step: [2]int64{1, 9}, Items: 10, Copies: 5,
		Bins: 3, Cap: [2]int64{90, 200}, Cost: [2]int64{80, 220}, Scarce: 1, Of: 3, Limit: 5,
	}
	plans, better := 0, 0
	for k := range 30 {
		p := shape.Draw(rng)
		plan := alone(p)
		if plan == nil {
			continue
		}
		plans++
		r := improving(t, p, plan)
		for range 5 {
			before := r.cost
			r.neighborhoodSearch(1)
			if err := solvertest.Feasible(p, bound.Full(p), rules.ToPatterns(r.plan)); err != nil {
				t.Fatalf("problem %d: %v\n%+v", k, err, *p)
			}
			if got := model.Cost(p, rules.ToPatterns(r.plan)); got != r.cost || got > before || got < r.m.Bound {
				t.Fatalf("problem %d: a plan of %d, reported cost %d, after one of %d; the bound is %d\n%+v", k, got, r.cost, before, r.m.Bound, *p)
			}
			if r.cost < before {
				better++
			}
		}
	}
	if plans < 15 || better < 30 {
		t.Errorf("%d plans, %d improvements: too few of one kind", plans, better)
	}
}
