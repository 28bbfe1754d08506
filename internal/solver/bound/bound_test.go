package bound_test

import (
	"math/big"
	"math/bits"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// shape is of problems that exhaustion can solve.
var shape = solvertest.Shape{
	Largest: [2]int64{2, 13}, Step: [2]int64{1, 5}, Items: 4, Copies: 3, Pieces: 6,
	Bins: 3, Cap: [2]int64{1, 20}, Cost: [2]int64{0, 8}, Scarce: 2, Of: 3, Limit: 5,
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
		t.Error("a negative top does not count as one")
	}
}

// Rounding never raises a price and never lets a pattern's value overflow int64; if possible, it keeps
// the requested scale.
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
		// The bound on a pattern's value is at most the value of all items at their bounds, and at most
		// the best rate times the whole capacity.
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
