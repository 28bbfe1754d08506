package setcover_test

import (
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
)

// A relaxation may use a pattern more often than any plan needs it: branching on it must still end.
func TestPatternBeyondItsNeed(t *testing.T) {
	p := &model.Problem{
		Items: []model.Item{{Size: 9, Demand: 2}, {Size: 5, Demand: 1}, {Size: 3, Demand: 2}, {Size: 2, Demand: 1}},
		Bins:  []model.Bin{{Cap: 18, Cost: 20, Limit: 6}},
	}
	// Items of each pattern, one use each unless doubled.
	var pats []model.Pattern
	for _, items := range [][]int{{2}, {1, 2, 3}, {0, 2, 2, 3}, {1, 2}, {0, 2}, {0, 1}, {0, 1, 3}, {2, 2, 3}, {3}, {0, 0}, {0, 1, 2},
		{0}, {1}, {0, 2, 3}, {1, 2, 2, 3}, {0, 3}, {2, 3}, {1, 3}, {2, 2}, {0, 2, 2}, {1, 2, 2}} {
		var uses []model.Use
		for _, i := range items {
			if k := len(uses) - 1; k >= 0 && uses[k].Item == i {
				uses[k].N++
			} else {
				uses = append(uses, model.Use{Item: i, N: 1})
			}
		}
		pats = append(pats, model.Pattern{Uses: uses})
	}
	m := new(meter.Meter).Sub(1_000_000)
	plan, complete := solve(p, bound.Full(p), pats, noCutoff, true, m)
	if plan == nil || model.Cost(p, plan) != 40 || !complete {
		t.Errorf("plan %v, complete = %t after %d steps, want two sticks", plan, complete, m.Used())
	}
}
