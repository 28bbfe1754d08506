package master_test

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
)

// A filter accepts every pattern of a plan below the cutoff, even if scale times cost overflows 63
// bits: zero duals at a scale of 2^55, left by an interrupted relaxation, had ruled out every pattern
// of a problem of 332 sticks, and with them an existing packing.
func TestFilterOfManySticks(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 2))
	took, declined := 0, 0
	for range 2000 {
		// Sticks of two pieces each, all full: the plan is known.
		n := 1 + r.Int64N(2000)
		p := &model.Problem{
			Bins:  []model.Bin{{Cap: 10, Cost: 1, Limit: 2 * n}},
			Items: []model.Item{{Size: 6, Demand: n}, {Size: 4, Demand: n}},
		}
		scale := int64(1) << r.IntN(56)
		s := master.Duals{Scale: scale, Item: make([]int64, 2), Weight: [rules.Criteria]int64{rules.Price: scale}, Best: make([]int64, 1)}
		if part := r.Int64N(3); part > 0 {
			s.Item = []int64{scale / 5 * part, scale / 5 * part}
		}
		s.Best[0] = max(s.Item[0]+s.Item[1], 2*s.Item[1])
		f := master.NewFamilies(p)
		g, closed, ok := f.FilterOf(&s, bound.Full(p), n+1)
		if closed {
			t.Fatalf("%d sticks, scale %d, values %v: the bound rules out an existing plan", n, scale, s.Item)
		}
		if !ok {
			declined++
			continue
		}
		took++
		if c := (rules.Column{Fill: &model.Pattern{Uses: []model.Use{{Item: 0, N: 1}, {Item: 1, N: 1}}}}); !g.Accepts(f.P, &c) {
			t.Fatalf("%d sticks, scale %d, values %v: the filter rules out the plan", n, scale, s.Item)
		}
	}
	if took < 1000 || declined < 10 {
		t.Errorf("%d filters, %d declined", took, declined)
	}
}
