package model_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
	"github.com/google/go-cmp/cmp"
)

// clone copies a plan down to the uses.
func clone(cols []model.PatternCount) []model.PatternCount {
	out := slices.Clone(cols)
	for k := range out {
		out[k].Uses = slices.Clone(out[k].Uses)
	}
	return out
}

func TestExact(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 6))
	trimmed, short, over := 0, 0, 0
	for k := range 1500 {
		p := (&solvertest.Shape{
			Largest: [2]int64{5, 44}, Step: [2]int64{1, 12}, Items: 1 + r.IntN(5), Copies: 1 + r.Int64N(9),
			Bins: 4, Cap: [2]int64{0, 69}, Cost: [2]int64{0, 59}, Scarce: 1, Of: 2, Limit: 8,
		}).Draw(r)
		p.Bins = append(p.Bins, model.Bin{Cap: 60, Cost: 3, Limit: 1 + r.Int64N(30)})
		var cols []model.PatternCount
		cut := make([]int64, len(p.Items))
		used := make([]int64, len(p.Bins))
		for range 1 + r.IntN(8) {
			c := model.PatternCount{Pattern: model.Pattern{Bin: r.IntN(len(p.Bins))}, Count: r.Int64N(7)}
			residual := p.Bins[c.Bin].Cap
			for i, it := range p.Items {
				if n := r.Int64N(4); n > 0 && n*it.Size <= residual {
					residual -= n * it.Size
					c.Uses = append(c.Uses, model.Use{Item: i, N: n})
					cut[i] += n * c.Count
				}
			}
			used[c.Bin] += c.Count
			cols = append(cols, c)
		}
		want := true
		for i, it := range p.Items {
			want = want && cut[i] >= it.Demand
		}
		if !want {
			short++
		}
		for b, n := range used {
			if n > p.Bins[b].Limit {
				want = false
				over++
				break
			}
		}
		before := clone(cols)
		got, ok := model.Exact(p, cols)
		if d := cmp.Diff(before, cols); d != "" {
			t.Fatalf("problem %d: the argument was changed:\n%s", k, d)
		}
		if ok != want {
			t.Fatalf("problem %d: ok = %t, want %t\n%+v\n%+v", k, ok, want, *p, cols)
		}
		if !ok {
			if got != nil {
				t.Fatalf("problem %d: unexpected plan", k)
			}
			continue
		}
		trimmed++
		if err := solvertest.Feasible(p, bound.Full(p), got); err != nil {
			t.Fatalf("problem %d: %v\n%+v\n%+v\n%+v", k, err, *p, cols, got)
		}
		if a, b := model.Cost(p, got), model.Cost(p, cols); a > b {
			t.Fatalf("problem %d: costs %d, before %d", k, a, b)
		}
	}
	if trimmed < 80 || short < 100 || over < 100 {
		t.Errorf("%d trimmed, %d short, %d beyond a limit: too few of one kind", trimmed, short, over)
	}
}

// F. D. Brandao, thesis, 2012, Example 1: covered with one piece too much.
func TestExactExample(t *testing.T) {
	p := &model.Problem{
		Items: []model.Item{{Size: 5, Demand: 3}, {Size: 3, Demand: 1}, {Size: 2, Demand: 2}},
		Bins:  []model.Bin{{Cap: 7, Cost: 1, Limit: 6}},
	}
	got, ok := model.Exact(p, []model.PatternCount{
		{Pattern: model.Pattern{Uses: []model.Use{{Item: 0, N: 1}, {Item: 2, N: 1}}}, Count: 3},
		{Pattern: model.Pattern{Uses: []model.Use{{Item: 1, N: 1}}}, Count: 1},
	})
	if !ok {
		t.Fatal("not covered?")
	}
	if err := solvertest.Feasible(p, bound.Full(p), got); err != nil {
		t.Error(err)
	}
	if c := model.Cost(p, got); c != 4 {
		t.Errorf("cost %d, want 4", c)
	}
}
