package optimize_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Each clear stretch of a stick with defects is a separate offcut: random problems with defects, bought
// and from the rack, against brute force. If sticks cost something most levels are proven.
func TestWorthWithDefects(t *testing.T) {
	sound, proven := 0, 0
	for seed := range uint64(40 * *bruteCases) {
		r := rand.New(rand.NewPCG(seed, 31))
		p := tinyBase(r)
		for range 1 + r.IntN(2) {
			s := stock.Stick{Length: 50 * u, Price: int64(r.IntN(6)), Limit: 1 + r.IntN(2), Rack: r.IntN(3) == 0}
			for at := 4 + r.IntN(20); at < 45; at += 4 + r.IntN(20) {
				s.Defects = append(s.Defects, stock.Defect{From: measure.Length(at) * u, To: measure.Length(at+1+r.IntN(3)) * u})
			}
			p.Sticks = append(p.Sticks, s)
		}
		owned(&p)
		p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * u, Value: 2}, {Length: 12 * u, Value: 5}, {Length: 20 * u, Value: 9}}
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}
		switch r.IntN(3) {
		case 0:
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalOffcutValue}
		case 1:
			p.Rules.Goals = append(p.Rules.Goals, oneOf(r, optimize.GoalSticks, optimize.GoalCuts, optimize.GoalLongestOffcut))
		}
		if !againstBrute(t, &p) || t.Failed() {
			t.Fatalf("seed %d", seed)
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue
		}
		for _, l := range plan.Goals {
			if l.Goal == optimize.GoalOffcutValue {
				sound++
				if l.Proven {
					proven++
				}
			}
		}
	}
	t.Logf("%d of %d proven", proven, sound)
	if sound < 100 || proven*10 < sound*9 {
		t.Errorf("%d of %d proven", proven, sound)
	}
}
