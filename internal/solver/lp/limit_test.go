package lp_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
)

// With a limit, Solve returns Beyond only if no solution has an objective below it. It may also do so if a column was added that is
// worth entering, and leaves the costs as they were: without the limit, the same basis leads to the result of the primal method.
func TestLimit(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 41))
	beyond, below := 0, 0
	for run := range 300 {
		const bins = 5
		items := 8 + r.IntN(20)
		p := master(r, items, bins, 4*items)
		x := build(p)
		if x.Solve(new(meter.Meter)) != lp.Optimal {
			continue
		}
		first := x.Objective()
		late := r.IntN(2) == 0
		if late {
			x.AddColumn(float(p.cost[0])*0.9, []int32{0, int32(items)}, []float64{3, 1})
		}
		b := items + r.IntN(bins)
		used := 0.0
		for j := range p.cost {
			used += float64(p.a[b][j]) * x.Value(j)
		}
		p.rlo[b], p.rhi[b] = 0, max(0, int64(used)-r.Int64N(3))
		y := build(p)
		if late {
			y.AddColumn(float(p.cost[0])*0.9, []int32{0, int32(items)}, []float64{3, 1})
		}
		x.SetRow(b, float(p.rlo[b]), float(p.rhi[b]))
		want := y.Solve(new(meter.Meter))
		x.Warm, x.Limit = true, first*(1+0.02*r.Float64())
		st := x.Solve(new(meter.Meter))
		if st == lp.Beyond {
			beyond++
			if !late && want == lp.Optimal && y.Objective() < x.Limit-1e-7 {
				t.Fatalf("run %d: beyond %g, but the optimum is %g", run, x.Limit, y.Objective())
			}
			x.Limit = 0
			st = x.Solve(new(meter.Meter))
		} else {
			below++
		}
		if st != want {
			t.Fatalf("run %d: status %d, by the primal method %d", run, st, want)
		}
		if st == lp.Optimal && math.Abs(x.Objective()-y.Objective()) > 1e-7*(1+first) {
			t.Fatalf("run %d: objective %g, by the primal method %g", run, x.Objective(), y.Objective())
		}
	}
	if beyond < 30 || below < 30 {
		t.Errorf("%d beyond the limit, %d below", beyond, below)
	}
}
