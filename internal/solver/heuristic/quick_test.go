package heuristic

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/trimjob"
	"github.com/google/go-cmp/cmp"
)

// shape describes problems with a few kinds of items.
func shape(kinds int, copies int64) *solvertest.Shape {
	return &solvertest.Shape{
		Largest: [2]int64{5, 44}, Step: [2]int64{1, 12}, Items: kinds, Copies: copies,
		Bins: 4, Cap: [2]int64{0, 69}, Cost: [2]int64{0, 59}, Scarce: 1, Of: 2, Limit: 8,
	}
}

// clone copies a plan down to the uses.
func clone(cols []model.PatternCount) []model.PatternCount {
	out := slices.Clone(cols)
	for k := range out {
		out[k].Uses = slices.Clone(out[k].Uses)
	}
	return out
}

func plans(p *model.Problem) (out [][]model.PatternCount) {
	Quick(rules.Of(p), new(meter.Meter), func(plan []rules.ColumnCount) { out = append(out, rules.ToPatterns(plan)) })
	return out
}

func TestPlansAreFeasibleAndExact(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	with, without := 0, 0
	for k := range 500 {
		p := shape(1+r.IntN(7), 1+r.Int64N(9)).Draw(r)
		all := plans(p)
		if len(all) == 0 {
			without++
		} else {
			with++
		}
		for _, cols := range all {
			if err := solvertest.Feasible(p, bound.Full(p), cols); err != nil {
				t.Fatalf("problem %d: %v\n%+v\n%+v", k, err, *p, cols)
			}
		}
		if d := cmp.Diff(all, plans(p)); d != "" {
			t.Fatalf("problem %d: two runs differ:\n%s", k, d)
		}
	}
	if with < 100 || without < 50 {
		t.Errorf("%d problems with plans, %d without: too few of one kind", with, without)
	}
}

// If supply is unlimited, there are plans.
func TestPlansWithoutLimits(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 2))
	for k := range 300 {
		p := shape(1+r.IntN(7), 1+r.Int64N(9)).Draw(r)
		p.Bins = append(p.Bins, model.Bin{Cap: p.Items[0].Size, Cost: 1, Limit: p.Pieces()})
		for b := range p.Bins {
			p.Bins[b].Limit = p.Pieces()
		}
		bought := 0 // lengths that can be preferred
		for _, b := range p.Bins {
			if b.Cost > 0 && b.Cap >= p.Items[len(p.Items)-1].Size {
				bought++
			}
		}
		if got, want := len(plans(p)), 3+bought+min(bought, dearPreferences); got != want {
			t.Fatalf("problem %d: %d plans, want one per rule and preferred length: %d\n%+v", k, got, want, *p)
		}
	}
}

// One stick length: the plan is first fit decreasing, piece by piece.
func TestPlansAreFirstFitDecreasing(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 3))
	for k := range 300 {
		p := shape(1+r.IntN(6), 1+r.Int64N(9)).Draw(r)
		p.Bins = []model.Bin{{Cap: p.Items[0].Size + r.Int64N(80), Cost: 1, Limit: p.Pieces()}}
		var residual []int64
		for _, it := range p.Items {
			for range it.Demand {
				at := slices.IndexFunc(residual, func(n int64) bool { return n >= it.Size })
				if at < 0 {
					at = len(residual)
					residual = append(residual, p.Bins[0].Cap)
				}
				residual[at] -= it.Size
			}
		}
		for _, cols := range plans(p) {
			if got := model.Cost(p, cols); got != int64(len(residual)) {
				t.Fatalf("problem %d: %d sticks, first fit decreasing %d\n%+v", k, got, len(residual), *p)
			}
		}
	}
}

// A billion pieces make as few patterns as a handful.
func TestLargeDemands(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 4))
	for k := range 200 {
		p := shape(6, 1<<31).Draw(r)
		for b := range p.Bins {
			if p.Bins[b].Limit < 8 && r.IntN(2) == 0 {
				p.Bins[b].Limit = r.Int64N(1 << 32)
			}
		}
		p.Bins = append(p.Bins, model.Bin{Cap: 60, Cost: 30, Limit: p.Pieces()})
		all := plans(p)
		if len(all) == 0 {
			t.Fatalf("problem %d: no plan", k)
		}
		for _, cols := range all {
			if err := solvertest.Feasible(p, bound.Full(p), cols); err != nil {
				t.Fatalf("problem %d: %v\n%+v", k, err, *p)
			}
			// At most two patterns per item and bin, plus those that Downsize splits.
			if most := 4*len(p.Items) + 4*len(p.Bins)*len(p.Bins); len(cols) > most {
				t.Errorf("problem %d: %d patterns for %d items and %d bins", k, len(cols), len(p.Items), len(p.Bins))
			}
		}
		over := clone(all[0])
		for c := range over {
			over[c].Count += r.Int64N(1 << 20)
		}
		for b := range p.Bins {
			p.Bins[b].Limit += int64(len(over)) << 20
		}
		cols, ok := model.Exact(p, over)
		if !ok {
			t.Fatalf("problem %d: Exact rejects a plan with surplus pieces", k)
		}
		if err := solvertest.Feasible(p, bound.Full(p), cols); err != nil {
			t.Fatalf("problem %d: Exact: %v", k, err)
		}
	}
}

func downsized(p *model.Problem, cols []model.PatternCount) []model.PatternCount {
	q := rules.Of(p)
	return rules.ToPatterns(newBuilder(q).downsize(q.FromPatterns(cols), new(meter.Meter)))
}

func TestDownsize(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 5))
	cheaper := 0
	for k := range 1000 {
		p := shape(1+r.IntN(6), 1+r.Int64N(12)).Draw(r)
		// Any plan will do: one made without limits, moved to the bin that holds everything.
		big := len(p.Bins)
		p.Bins = append(p.Bins, model.Bin{Cap: 90, Cost: r.Int64N(90), Limit: p.Pieces()})
		loose := &model.Problem{Items: p.Items, Bins: []model.Bin{{Cap: p.Items[0].Size + r.Int64N(20), Cost: 1, Limit: p.Pieces()}}}
		cols := plans(loose)[0]
		for c := range cols {
			cols[c].Bin = big
		}
		before := model.Cost(p, cols)
		pieces := make([]int64, len(p.Items))
		for _, c := range cols {
			for _, u := range c.Uses {
				pieces[u.Item] += u.N * c.Count
			}
		}
		got := downsized(p, cols)
		if err := solvertest.Feasible(p, bound.Full(p), got); err != nil {
			t.Fatalf("problem %d: %v\n%+v\n%+v", k, err, *p, got)
		}
		after := model.Cost(p, got)
		if after > before {
			t.Fatalf("problem %d: costs %d, before %d\n%+v", k, after, before, *p)
		}
		if after < before {
			cheaper++
		}
		if again := model.Cost(p, downsized(p, got)); again != after {
			t.Fatalf("problem %d: the second time it costs %d, the first time %d", k, again, after)
		}
	}
	if cheaper < 200 {
		t.Errorf("only %d plans became cheaper", cheaper)
	}
}

func TestDownsizeTakesTheCheapest(t *testing.T) {
	p := &model.Problem{
		Items: []model.Item{{Size: 6, Demand: 5}},
		Bins:  []model.Bin{{Cap: 16, Cost: 9, Limit: 5}, {Cap: 8, Cost: 4, Limit: 2}, {Cap: 5, Cost: 1, Limit: 9}},
	}
	cols := []model.PatternCount{{Pattern: model.Pattern{Bin: 0, Uses: []model.Use{{Item: 0, N: 1}}}, Count: 5}}
	got := downsized(p, cols)
	want := []model.PatternCount{
		{Pattern: model.Pattern{Bin: 0, Uses: []model.Use{{Item: 0, N: 1}}}, Count: 3},
		{Pattern: model.Pattern{Bin: 1, Uses: []model.Use{{Item: 0, N: 1}}}, Count: 2},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Plans on generated jobs are no worse than the plain baseline by much, and often better.
func TestHouseAgainstBaseline(t *testing.T) {
	for seed := range uint64(20) {
		j, err := trimjob.Generate(trimjob.House, seed, "test")
		if err != nil {
			t.Fatal(err)
		}
		p := solvertest.Job(t, trimjob.House, seed)
		best := int64(math.MaxInt64)
		for _, cols := range plans(p) {
			if err := solvertest.Feasible(p, bound.Full(p), cols); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			best = min(best, model.Cost(p, cols))
		}
		ffd, ok := j.FirstFit()
		if best < j.MaterialBound() || ok && float64(best) > 1.15*float64(ffd) {
			t.Errorf("seed %d: costs %d, material %d, baseline %d, %t", seed, best, j.MaterialBound(), ffd, ok)
		}
	}
}
