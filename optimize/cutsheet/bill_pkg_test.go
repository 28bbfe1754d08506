package cutsheet

import (
	"context"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
)

// The bill of a sheet, besides the sticks, equals the plan's summary.
func TestBillIsTheSummary(t *testing.T) {
	seen := map[string]int{}
	for a := range brute.Features {
		for b := range brute.Features {
			p := brute.Both(a, b, 3)
			plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1 << 20})
			if err != nil {
				continue
			}
			s, err := New(context.Background(), p, plan, nil)
			if err != nil {
				t.Fatal(err)
			}
			sums, err := plan.Summary(p, measure.Foot)
			if err != nil {
				t.Fatal(err)
			}
			got := map[string]int64{}
			for _, c := range s.bill {
				got[c.kind] += c.amount
				seen[c.kind]++
			}
			if got["splice"] != sums.SpliceCost || got["yard cut"] != sums.YardCutCost || got["charge"] != sums.ChargeCost {
				t.Errorf("%s and %s: billed %v, the summary has %+v", brute.Features[a].Name, brute.Features[b].Name, got, sums)
			}
			if sticks := s.toBuy() + got["rack"]; s.priced() && sticks != sums.StickCost {
				t.Errorf("%s and %s: sticks of %d, the summary has %d", brute.Features[a].Name, brute.Features[b].Name, sticks, sums.StickCost)
			}
		}
	}
	if seen["splice"] == 0 || seen["yard cut"] == 0 || seen["charge"] == 0 {
		t.Errorf("%v: the jobs are too similar", seen)
	}
}
