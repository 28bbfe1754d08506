package optimize_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// Sticks cut in the yard, with the shortest part that the saw holds and the longest offcut, against
// brute force. Each of the two parts has to be held by itself.
func TestYardBrute(t *testing.T) {
	cut, longest, proven := 0, 0, 0
	for seed := range uint64(30 * *bruteCases) {
		r := rand.New(rand.NewPCG(seed, 47))
		p := tinyBase(r)
		for i := range p.Sticks {
			p.Sticks[i].Length += measure.Length(r.IntN(25)) * u
		}
		p.Rules.MaxTransport = measure.Length(15+r.IntN(20)) * u
		p.Rules.YardCut = int64(r.IntN(3))
		if r.IntN(3) > 0 {
			p.Rules.MinHold = measure.Length(5+r.IntN(20)) * u
		}
		if r.IntN(2) == 0 {
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalLongestOffcut}
			if r.IntN(2) == 0 {
				p.Rules.Goals = slices.Insert(p.Rules.Goals, 1+r.IntN(2), optimize.GoalSticks)
			}
		}
		if !againstBrute(t, &p) || t.Failed() {
			t.Fatalf("seed %d\n%s", seed, written(&p))
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue
		}
		for _, pat := range plan.Patterns {
			if p.Sticks[pat.Stick].Length > p.Rules.MaxTransport && p.Rules.MinHold > 0 {
				cut++
			}
		}
		for _, l := range plan.Goals {
			if l.Goal == optimize.GoalLongestOffcut {
				longest++
				if l.Proven {
					proven++
				}
			}
		}
	}
	t.Logf("%d sticks cut in the yard and held, %d of %d longest offcuts proven", cut, proven, longest)
	if cut < 20 || proven*4 < longest*3 {
		t.Error("the test shows little")
	}
}
