package bound_test

import (
	"math/big"
	"math/bits"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/solver/wide"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// shape is of problems that exhaustion can solve.
var shape = solvertest.Shape{
	Largest: [2]int64{2, 13}, Step: [2]int64{1, 5}, Items: 4, Copies: 3, Pieces: 6,
	Bins: 3, Cap: [2]int64{1, 20}, Cost: [2]int64{0, 8}, Scarce: 2, Of: 3, Limit: 5,
}

// The theorem that everything rests on: whatever the values are, the bound is
// never above the cost of a plan in the box.
func TestNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 29))
	feasible, infeasible, tight, rays := 0, 0, 0, 0
	for range 1500 {
		p := shape.Draw(r)
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
			least := bound.Numerator(p, box, value, best, scale).CeilDiv(scale)
			ray := bound.Numerator(p, box, value, best, 0).Sign() > 0
			if ok && least > opt {
				t.Fatalf("bound %d above the optimum %d\n%+v\nbox %+v values %v / %d", least, opt, *p, box, value, scale)
			}
			if ok && ray {
				t.Fatalf("called infeasible, yet a plan costs %d\n%+v\nbox %+v values %v", opt, *p, box, value)
			}
			if ok && least == opt && opt > 0 {
				tight++
			}
			if ray {
				rays++
			}
		}
	}
	// Without these the test would show nothing.
	if feasible < 300 || infeasible < 300 || tight < 20 || rays < 100 {
		t.Errorf("%d feasible, %d infeasible, %d tight bounds, %d rays: too few of one", feasible, infeasible, tight, rays)
	}
}

// Values below the true K make false bounds: the test above would see them.
func TestBoundNeedsTheTrueBest(t *testing.T) {
	p := &model.Problem{Items: []model.Item{{Size: 3, Demand: 4}}, Bins: []model.Bin{{Cap: 6, Cost: 1, Limit: 4}}}
	// Two fit, so that a price of 1/2 is right and 1 is too high.
	if got := bound.Numerator(p, bound.Full(p), []int64{1}, []int64{2}, 2).CeilDiv(2); got != 2 {
		t.Errorf("bound %d, want 2", got)
	}
	// At price 1 a bin's best is 2 against its cost of 1: 4 - 4*(2-1).
	if got := bound.Numerator(p, bound.Full(p), []int64{1}, []int64{2}, 1).CeilDiv(1); got != 0 {
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
		if got := bound.Numerator(p, box, value, best, scale); got.Cmp(want) != 0 {
			t.Fatalf("Numerator = %v, want %v", got, want)
		}
	})
}

func TestScale(t *testing.T) {
	for _, top := range []int64{0, 1, 2, 3, 99, 100, 1 << 31, 1<<55 - 1, 1 << 55, 1 << 59, 1<<60 - 1} {
		s := bound.Scale(top)
		if s < 1 || bits.OnesCount64(uint64(s)) != 1 {
			t.Errorf("Scale(%d) = %d, not a power of two", top, s)
		}
		if top >= 1 && top < 1<<56 && (s > 1<<56/top || s <= 1<<54/top) {
			t.Errorf("Scale(%d) = %d: cost*scale = %d is not just below 1<<56", top, s, s*top)
		}
	}
	if bound.Scale(-5) != bound.Scale(1) {
		t.Error("a negative top is not taken for one")
	}
}

// Rounding never raises a price and never lets a pattern's value leave int64;
// where there is room, it keeps the scale asked for.
func TestRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cap := rapid.Int64Range(1, 1<<50).Draw(t, "cap")
		var items []model.Item
		var most []int64
		var price []float64
		for range rapid.IntRange(1, 6).Draw(t, "items") {
			items = append(items, model.Item{Size: rapid.Int64Range(1, cap).Draw(t, "size")})
			most = append(most, rapid.Int64Range(1, 1<<31).Draw(t, "most"))
			price = append(price, rapid.Float64Range(-1e6, 1e12).Draw(t, "price"))
		}
		extra := rapid.Float64Range(0, 1e12).Draw(t, "extra")
		top := int64(1) << rapid.IntRange(0, 56).Draw(t, "top")
		value := make([]int64, len(items))
		scale := bound.RoundDuals(value, price, items, most, cap, extra, top)
		if scale < 1 || scale > top || bits.OnesCount64(uint64(scale)) != 1 {
			t.Fatalf("scale %d of %d", scale, top)
		}
		// The most that a pattern can be worth is no more than all items at
		// their bounds, and than the best rate over the whole capacity.
		sum, rate := new(big.Rat), new(big.Rat)
		for i, v := range value {
			if v < 0 || float64(v) > max(price[i], 0)*float64(scale) {
				t.Fatalf("value[%d] = %d for a price of %g at scale %d", i, v, price[i], scale)
			}
			sum.Add(sum, new(big.Rat).SetInt(new(big.Int).Mul(big.NewInt(v), big.NewInt(min(most[i], cap/items[i].Size)))))
			if q := big.NewRat(v, items[i].Size); q.Cmp(rate) > 0 {
				rate = q
			}
		}
		rate.Mul(rate, new(big.Rat).SetInt64(cap))
		if limit := new(big.Rat).SetInt64(1 << 60); sum.Cmp(limit) > 0 && rate.Cmp(limit) > 0 {
			t.Fatalf("a pattern may be worth %v or %v, more than 1<<60", sum.FloatString(0), rate.FloatString(0))
		}
		// No need to shrink by more than a little.
		worth := extra
		for i := range price {
			worth += max(price[i], 0) * float64(min(most[i], cap/items[i].Size))
		}
		if worth*float64(top) < 1<<59 && scale != top {
			t.Fatalf("scale %d though %d leaves room for %g", scale, top, worth)
		}
		for i, v := range value {
			if scale > 1 && float64(v) < max(price[i], 0)*float64(scale)-1-1e-9*float64(v) {
				t.Fatalf("value[%d] = %d for a price of %g at scale %d: rounded by more than one", i, v, price[i], scale)
			}
		}
	})
}

func TestBox(t *testing.T) {
	p := &model.Problem{Bins: []model.Bin{{Cap: 5, Limit: 7}, {Cap: 4, Limit: 0}, {Cap: 9, Limit: 1 << 40}}}
	full := bound.Full(p)
	if d := cmp.Diff(bound.Box{Lo: []int64{0, 0, 0}, Hi: []int64{7, 0, 1 << 40}}, full); d != "" {
		t.Errorf("Full (-want +got):\n%s", d)
	}
	c := full.Clone()
	if d := cmp.Diff(full, c); d != "" {
		t.Errorf("Clone (-want +got):\n%s", d)
	}
	c.Lo[0], c.Hi[2] = 3, 4
	if full.Lo[0] != 0 || full.Hi[2] != 1<<40 {
		t.Error("the clone shares memory")
	}
}
