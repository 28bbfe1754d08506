package plain

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
)

// A filter takes every pattern of a plan below the cutoff, also where scale times cost leaves 63
// bits: values of nothing at a scale of 2^55, left by a relaxation that was cut short, had ruled out
// every pattern of a problem of 332 sticks, and with them a packing that there is.
func TestGaugeOfManySticks(t *testing.T) {
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
		s := boxDuals{box: bound.Full(p), scale: scale, dual: make([]int64, 2), best: make([]int64, 1)}
		if part := r.Int64N(3); part > 0 {
			s.dual = []int64{scale / 5 * part, scale / 5 * part}
		}
		s.best[0] = max(s.dual[0]+s.dual[1], 2*s.dual[1])
		g, closed, ok := filterOf(p, s, n+1)
		if closed {
			t.Fatalf("%d sticks, scale %d, values %v: there is a plan, and the bound rules it out", n, scale, s.dual)
		}
		if !ok {
			declined++
			continue
		}
		took++
		if uses := []model.Use{{Item: 0, N: 1}, {Item: 1, N: 1}}; !g.accepts(0, uses) {
			t.Fatalf("%d sticks, scale %d, values %v: the filter wants %d and rules the plan out", n, scale, s.dual, g.need[0])
		}
	}
	if took < 1000 || declined < 10 {
		t.Errorf("%d filters, %d declined", took, declined)
	}
}
