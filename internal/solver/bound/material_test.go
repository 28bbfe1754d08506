package bound_test

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
)

// The material bound is that of the best of all rates that some bin charges, as its duals prove, and no
// plan costs less.
func TestMaterial(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 61))
	some, short := 0, 0
	for i := range 3000 {
		p := shape.Draw(r)
		per, scale, got, ok := bound.Material(p)
		best := make([]int64, len(p.Bins))
		rated := func(num, den int64) int64 {
			value := make([]int64, len(p.Items))
			for i, it := range p.Items {
				value[i] = num * it.Size
			}
			for b, bin := range p.Bins {
				best[b] = num * bin.Cap
			}
			return solvertest.Numerator(p, bound.Full(p), value, best, den).CeilDiv(den)
		}
		capacity, total := int64(0), int64(0)
		want := int64(0)
		for _, bin := range p.Bins {
			capacity += bin.Cap * bin.Limit
			want = max(want, rated(bin.Cost, bin.Cap))
		}
		for _, it := range p.Items {
			total += it.Size * it.Demand
		}
		if ok != (capacity >= total) {
			t.Fatalf("case %d: %v, the bins hold %d of %d\n%+v", i, ok, capacity, total, p)
		}
		if !ok {
			short++
			continue
		}
		some++
		dual := make([]int64, len(p.Items))
		for i, it := range p.Items {
			dual[i] = per * it.Size
		}
		for b, bin := range p.Bins {
			best[b] = solvertest.Most(p, dual, bin.Cap)
		}
		if shown := solvertest.Numerator(p, bound.Full(p), dual, best, scale).CeilDiv(scale); got != want || shown < got {
			t.Fatalf("case %d: %d, its duals show %d, the best rate %d\n%+v", i, got, shown, want, p)
		}
		if least, found := solvertest.LeastOfAll(p); found && got > least {
			t.Fatalf("case %d: %d, a plan costs %d\n%+v", i, got, least, p)
		}
	}
	if some < 500 || short < 300 {
		t.Errorf("%d bounds, %d problems short of material", some, short)
	}
	huge := &model.Problem{Items: []model.Item{{Size: 1 << 40, Demand: 2}}, Bins: []model.Bin{{Cap: 1<<40 + 1, Cost: 1<<40 + 3, Limit: 2}}}
	if _, _, b, ok := bound.Material(huge); ok || b != 0 {
		t.Errorf("numbers beyond 62 bits: %d, %v", b, ok)
	}
}
