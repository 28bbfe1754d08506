package master_test

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/solver/wide"
	"pgregory.net/rapid"
)

// fewBins is of problems that exhaustion can solve.
var fewBins = solvertest.Shape{
	Largest: [2]int64{2, 13}, Step: [2]int64{1, 5}, Items: 4, Copies: 3, Pieces: 6,
	Bins: 3, Cap: [2]int64{1, 20}, Cost: [2]int64{0, 8}, Scarce: 2, Of: 3, Limit: 5,
}

// numerator is scale times the bound of dual values, given the best value of a pattern of each bin.
func numerator(p *model.Problem, box bound.Box, value, best []int64, scale int64) wide.Int {
	d := master.Duals{Scale: scale, Item: value, Best: best}
	d.Weight[rules.Price] = scale
	return master.NewFamilies(p).Numerator(&d, box)
}

// The theorem behind every bound: whatever the dual values are, the bound is never above the cost of a
// plan in the box.
func TestNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 29))
	feasible, infeasible, tight, rays := 0, 0, 0, 0
	for range 1500 {
		p := fewBins.Draw(r)
		box := solvertest.Part(r, p)
		opt, ok := solvertest.Least(p, box)
		if ok {
			feasible++
		} else {
			infeasible++
		}
		for range 8 {
			scale := []int64{1, 7, 64, bound.Scale(9)}[r.IntN(4)]
			value := make([]int64, len(p.Items))
			for i, it := range p.Items {
				switch r.IntN(4) {
				case 0:
					value[i] = r.Int64N(3 * scale)
				case 1:
					value[i] = it.Size * scale * (1 + r.Int64N(4)) / 8
				case 2:
					value[i] = r.Int64N(12 * scale)
				}
			}
			best := make([]int64, len(p.Bins))
			for b, bin := range p.Bins {
				best[b] = solvertest.Most(p, value, bin.Cap)
			}
			least := numerator(p, box, value, best, scale).CeilDiv(scale)
			ray := numerator(p, box, value, best, 0).Sign() > 0
			if ok && least > opt {
				t.Fatalf("bound %d above the optimum %d\n%+v\nbox %+v values %v / %d", least, opt, *p, box, value, scale)
			}
			if ok && ray {
				t.Fatalf("reported as infeasible, but a plan costs %d\n%+v\nbox %+v values %v", opt, *p, box, value)
			}
			if ok && least == opt && opt > 0 {
				tight++
			}
			if ray {
				rays++
			}
		}
	}
	// Without these the test would prove nothing.
	if feasible < 300 || infeasible < 300 || tight < 20 || rays < 100 {
		t.Errorf("%d feasible, %d infeasible, %d tight bounds, %d rays: too few of one kind", feasible, infeasible, tight, rays)
	}
}

// Values below the true K make false bounds: the test above would see them.
func TestBoundNeedsTheTrueBest(t *testing.T) {
	p := &model.Problem{Items: []model.Item{{Size: 3, Demand: 4}}, Bins: []model.Bin{{Cap: 6, Cost: 1, Limit: 4}}}
	// Two fit, so a price of 1/2 is right and 1 is too high.
	if got := numerator(p, bound.Full(p), []int64{1}, []int64{2}, 2).CeilDiv(2); got != 2 {
		t.Errorf("bound %d, want 2", got)
	}
	// At price 1 a bin's best is 2 against its cost of 1: 4 - 4*(2-1).
	if got := numerator(p, bound.Full(p), []int64{1}, []int64{2}, 1).CeilDiv(1); got != 0 {
		t.Errorf("bound %d, want 0", got)
	}
}

// Numerator against the formula in wide arithmetic, large numbers included.
func TestNumeratorFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &model.Problem{}
		var value, best []int64
		var box bound.Box
		var want wide.Int
		scale := int64(0)
		if rapid.Bool().Draw(t, "scaled") {
			scale = 1 << rapid.IntRange(0, 30).Draw(t, "scale")
		}
		for range rapid.IntRange(1, 5).Draw(t, "items") {
			d, v := rapid.Int64Range(1, 1<<50).Draw(t, "demand"), rapid.Int64Range(0, 1<<60).Draw(t, "value")
			p.Items = append(p.Items, model.Item{Size: 1, Demand: d})
			value = append(value, v)
			want.AddMul(d, v)
		}
		for range rapid.IntRange(0, 4).Draw(t, "bins") {
			c, k := rapid.Int64Range(0, 1<<26).Draw(t, "cost"), rapid.Int64Range(0, 1<<60).Draw(t, "best")
			hi := rapid.Int64Range(0, 1<<50).Draw(t, "hi")
			lo := rapid.Int64Range(0, hi).Draw(t, "lo")
			p.Bins = append(p.Bins, model.Bin{Cap: 1, Cost: c, Limit: hi})
			best = append(best, k)
			box.Lo, box.Hi = append(box.Lo, lo), append(box.Hi, hi)
			n := lo
			if k > c*scale {
				n = hi
			}
			want.AddMul(n, c*scale)
			want.AddMul(-n, k)
		}
		if got := numerator(p, box, value, best, scale); got.Cmp(want) != 0 {
			t.Fatalf("Numerator = %v, want %v", got, want)
		}
	})
}
