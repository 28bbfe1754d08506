package price_test

import (
	"context"
	"slices"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/optimize/internal/price"
)

// A problem counts the same unit as its plan, with any pair of rules, and a plain plan costs the
// sum of its sticks.
func TestCountsAsPlansDo(t *testing.T) {
	byLength, money := 0, 0
	for a := range brute.Features {
		for b := range a + 1 {
			p := brute.Both(a, b, 1)
			if (a+b)%3 == 0 {
				for i := range p.Sticks {
					p.Sticks[i].Price, p.Sticks[i].Breaks = 0, nil
				}
			}
			plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1 << 16})
			if err != nil {
				continue
			}
			length := plan.ByLength
			if price.ByLength(&p) != length {
				t.Errorf("%s and %s: by length %v, the plan counts %v", brute.Features[a].Name, brute.Features[b].Name, price.ByLength(&p), plan.ByLength)
			}
			if length {
				byLength++
			} else {
				money++
			}
			if plan.Buy != nil || slices.ContainsFunc(plan.Spliced, func(s optimize.SplicedRun) bool { return len(s.At) > 0 }) {
				continue
			}
			sum, each := int64(0), price.Of(&p)
			for _, pat := range plan.Patterns {
				sum += each[pat.Stick] * int64(pat.Count)
			}
			if sum != plan.Cost {
				t.Errorf("%s and %s: the sticks count %d, the plan costs %d", brute.Features[a].Name, brute.Features[b].Name, sum, plan.Cost)
			}
		}
	}
	if byLength < 10 || money < 30 {
		t.Errorf("%d plans count length, %d money: this tests little", byLength, money)
	}
}
