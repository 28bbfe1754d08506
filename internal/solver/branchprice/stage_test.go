package branchprice

import (
	"context"
	"strings"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// Random problems, each the first that was seen to end in its stage, and the counts that must not be zero
// there. A better solver may end sooner; then the case needs another problem.
func TestStages(t *testing.T) {
	for _, tt := range []struct {
		stage search.Stage
		bins  []model.Bin
		items []model.Item
		some  func(meter.Tally) bool
	}{
		{search.Quick, []model.Bin{{Cap: 10, Cost: 1, Limit: 9}}, pairs(6, 2, 4, 2),
			func(y meter.Tally) bool { return y.Boxes == 0 && y.Packs == 0 }},
		{search.Tight, []model.Bin{{Cap: 143, Cost: 1, Limit: 1000}}, pairs(115, 3, 108, 1, 94, 3),
			func(y meter.Tally) bool { return y.Packs > 0 && y.Nodes() == y.Packs }},
		{search.Root, []model.Bin{{Cap: 208, Cost: 1, Limit: 1000}, {Cap: 138, Cost: 7, Limit: 5}},
			pairs(201, 3, 161, 4, 140, 2, 128, 2, 104, 2),
			func(y meter.Tally) bool { return y.Nodes() == 1 && y.Boxes == 1 && y.Pivots > 0 }},
		{search.List, []model.Bin{{Cap: 198, Cost: 8, Limit: 1000}},
			pairs(157, 3, 122, 2, 113, 2, 96, 2, 75, 4, 66, 3, 63, 1, 51, 3, 48, 1, 41, 4),
			func(y meter.Tally) bool { return y.Lists > 0 && y.Columns > 0 && y.Pivots > 0 && y.Boxes == 0 }},
		{search.Dive, []model.Bin{{Cap: 1614, Cost: 10, Limit: 1_000_000}, {Cap: 1210, Cost: 8, Limit: 3}},
			pairs(792, 3, 737, 4, 670, 31, 662, 2349, 659, 30, 584, 6, 550, 2469, 527, 3564, 482, 1888, 457, 14, 449, 2443),
			func(y meter.Tally) bool { return y.Columns > 0 && y.Boxes == 1 }},
		{search.Tree, []model.Bin{{Cap: 1642, Cost: 10, Limit: 1_000_000}, {Cap: 1231, Cost: 8, Limit: 4}},
			pairs(764, 1938, 726, 35, 686, 34, 675, 2632, 519, 3810, 488, 2601, 472, 7, 448, 8),
			func(y meter.Tally) bool { return y.Boxes > 1 }},
	} {
		p := &model.Problem{Bins: tt.bins, Items: tt.items}
		r := Solve(context.Background(), rules.Of(p), search.Options{Work: 10_000_000})
		verify(t, p, r)
		if r.Stop != search.Proven || r.Stage != tt.stage || !tt.some(r.Tally) {
			t.Errorf("%v: ended in %v, stop %v, %+v", tt.stage, r.Stage, r.Stop, r.Tally)
		}
		// Cut short, it ends in no stage.
		if r = Solve(context.Background(), rules.Of(p), search.Options{Work: 10}); tt.stage >= search.List && r.Stage != 0 {
			t.Errorf("%v: not proven, yet ended in %v", tt.stage, r.Stage)
		}
	}
}

func TestStageNames(t *testing.T) {
	seen := map[string]bool{}
	for s := search.Quick; s <= search.Tree; s++ {
		if name := s.String(); seen[name] || strings.Contains(name, " ") {
			t.Errorf("stage %d is called %q", s, name)
		} else {
			seen[name] = true
		}
	}
	if s := search.Stage(0).String(); s != "stage 0" {
		t.Errorf("no stage %q", s)
	}
}
