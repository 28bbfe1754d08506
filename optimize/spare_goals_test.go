package optimize_test

import (
	"context"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Of plans that cost the same the one with the fewest sticks to cut is chosen, where spares are paid for, too: one
// stick at $8 and a spare at $4 instead of two sticks and a spare at $4 each.
func TestFewestSticksBesideSpares(t *testing.T) {
	const tick = measure.Inch / 64
	for _, spare := range []int{1, 2} {
		p := optimize.Problem{
			Sticks: []stock.Stick{{Length: 30 * tick, Price: 400}, {Length: 33 * tick, Price: 800}},
			Pieces: []stock.Piece{{Length: 16 * tick}, {Length: 11 * tick}, {Length: 5 * tick}},
			Rules:  optimize.Rules{Spare: spare},
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if want := int64(800 + 400*spare); plan.Cost != want || !plan.Proven || len(plan.Patterns) != 1 || plan.Patterns[0].Stick != 1 {
			t.Errorf("%d spares: cost %d, proven: %t, patterns %v; want one stick of the longer for %d", spare, plan.Cost, plan.Proven, plan.Patterns, want)
		}
	}
}
