package setcover_test

import (
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
)

// Patterns of hundreds of pieces that enter late: products of prices and counts must not overflow
// int64, nor be clamped to a useless bound.
func TestManyCopies(t *testing.T) {
	for _, n := range []int64{30, 60, 64, 100, 128, 200, 300, 384, 500, 700, 1000} {
		p := problem(1000, 1, 1000)
		var pats []model.Pattern
		for range 8 {
			pats = append(pats, model.Pattern{Uses: []model.Use{{Item: 0, N: 1}}})
		}
		pats = append(pats, model.Pattern{Uses: []model.Use{{Item: 0, N: n}}})
		want := (1000 + n - 1) / n
		if 1000%n > 0 {
			// A poor pattern covers the rest.
			want = min(want, 1000/n+1000%n)
		}
		for _, cutoff := range []int64{want + 1, 1000, noCutoff} {
			plan, complete := solve(&p, bound.Full(&p), pats, cutoff, true, new(meter.Meter).Sub(1_000_000))
			if plan == nil || model.Cost(&p, plan) != want || !complete {
				t.Errorf("%d copies, cutoff %d: plan %v, complete = %t, want %d sticks", n, cutoff, plan, complete, want)
			}
		}
	}
}
