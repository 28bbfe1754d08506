package branchprice

import (
	"context"
	"testing"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// TestStubborn solves problems that remain open until the tree searches whole boxes. None was made
// for that: of seven hundred random ones these are the smallest that got that far.
func TestStubborn(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a second")
	}
	for _, tt := range stubborn {
		t.Run(tt.name, func(t *testing.T) {
			p := &model.Problem{Bins: tt.bins, Items: tt.items}
			r := Solve(context.Background(), rules.Of(p), search.Options{Work: 400_000_000})
			if got := verify(t, p, r); r.Stop != search.Proven || got != tt.cost || r.LeafBound != tt.cost {
				t.Errorf("cost %d, bound %d, leaves show %d, stop %v; want %d proven", got, r.Bound, r.LeafBound, r.Stop, tt.cost)
			}
		})
	}
}

// TestCutShort ends a run in each of its stages: plan and bound stay true.
func TestCutShort(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a second")
	}
	for _, tt := range stubborn {
		p := &model.Problem{Bins: tt.bins, Items: tt.items}
		for work := int64(1000); work < 40_000_000; work *= 2 {
			r := Solve(context.Background(), rules.Of(p), search.Options{Work: work})
			if verify(t, p, r); r.Cost < tt.cost || r.Bound > tt.cost || r.LeafBound > r.Bound {
				t.Errorf("%s, work %d: cost %d, bound %d, leaves show %d, of a problem with optimum %d", tt.name, work, r.Cost, r.Bound, r.LeafBound, tt.cost)
			}
			if (r.Stop == search.Proven) != (r.Cost == r.Bound) {
				t.Errorf("%s, work %d: cost %d, bound %d, stop %v", tt.name, work, r.Cost, r.Bound, r.Stop)
			}
		}
	}
}

var stubborn = []struct {
	name  string
	cost  int64 // the leaves of the tree show by themselves that none costs less
	bins  []model.Bin
	items []model.Item
}{
	{
		"second kind is dearer a length", 1100,
		[]model.Bin{{Cap: 400, Cost: 100, Limit: 52}, {Cap: 300, Cost: 78, Limit: 52}},
		pairs(123, 2, 115, 1, 114, 2, 113, 1, 112, 1, 110, 1, 108, 2, 107, 1, 105, 3, 103, 1, 99, 2, 98, 2, 94, 3, 93, 2,
			85, 3, 78, 3, 73, 1, 72, 3, 68, 3, 67, 1, 66, 2, 64, 2, 63, 1, 62, 1, 59, 1, 56, 2, 54, 3, 50, 2),
	},
	{
		"second kind is cheaper a length and few", 944,
		[]model.Bin{{Cap: 100, Cost: 100, Limit: 46}, {Cap: 75, Cost: 72, Limit: 5}},
		pairs(32, 3, 31, 2, 30, 1, 29, 1, 28, 2, 27, 2, 26, 1, 25, 1, 24, 2, 23, 3, 22, 2, 21, 2, 20, 2, 19, 2, 18, 3, 17, 2,
			16, 3, 15, 3, 14, 1, 12, 2, 11, 3, 10, 3),
	},
	{
		"second kind is one stick", 1400,
		[]model.Bin{{Cap: 1600, Cost: 100, Limit: 50}, {Cap: 1200, Cost: 70, Limit: 1}},
		pairs(699, 3, 680, 2, 665, 3, 662, 2, 639, 1, 572, 2, 566, 1, 464, 1, 463, 2, 462, 1, 440, 3, 439, 3, 428, 3, 426, 1,
			417, 3, 416, 2, 409, 2, 371, 3, 347, 1, 312, 1, 298, 2, 295, 2, 223, 1, 183, 2, 163, 1, 160, 2),
	},
}

// pairs makes items of sizes and demands in turn.
func pairs(list ...int64) []model.Item {
	var items []model.Item
	for i := 0; i < len(list); i += 2 {
		items = append(items, model.Item{Size: list[i], Demand: list[i+1]})
	}
	return items
}
