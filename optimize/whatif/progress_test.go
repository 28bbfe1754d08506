package whatif_test

import (
	"context"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

// Progress reports the search for the changed problem, and ends it. The range still contains the
// difference.
func TestWhatIfProgress(t *testing.T) {
	ctx := context.Background()
	p := openJob(t)
	plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 1 << 24})
	if err != nil {
		t.Fatal(err)
	}
	for _, stop := range []int{1, 3} {
		reports := 0
		o := &optimize.Options{Work: 1 << 24, Progress: func(now optimize.Progress) bool {
			if reports++; now.Found {
				if plan := now.Plan(); plan == nil || len(plan.Patterns) == 0 {
					t.Error("no plan in a report")
				}
			}
			return reports < stop
		}}
		d, err := whatif.Solve(ctx, p, plan, o, whatif.MorePieces(0, 1))
		if err != nil {
			t.Fatal(err)
		}
		if reports != stop || d.Plan.Stop != optimize.StopCaller {
			t.Errorf("%d reports, %v", reports, d.Plan.Stop)
		}
		if err := optimize.Check(ctx, d.Problem, d.Plan); err != nil {
			t.Error(err)
		}
	}
	calls := 0
	o := &optimize.Options{Work: 1 << 20, Start: &optimize.Plan{Patterns: []optimize.Pattern{{Stick: -1}}}, Progress: func(optimize.Progress) bool { calls++; return false }}
	if _, err := whatif.Candidates(ctx, p, plan, []stock.Stick{{Length: 15 * measure.Foot, Price: p.Sticks[0].Price}}, o); err != nil || calls > 0 {
		t.Errorf("%d reports, %v", calls, err)
	}
	// A start from the caller is one for the changed problem, and its faults are reported.
	_, err = whatif.Solve(ctx, p, plan, o, whatif.MorePieces(0, 1))
	if got := fields(err); !slices.Contains(got, "start.patterns[0].stick") {
		t.Errorf("%q, %v", got, err)
	}
}

// The search begins from the plan: if nothing else can be found in time, the part of it that can still
// be cut is completed.
func TestWhatIfBeginsFromThePlan(t *testing.T) {
	ctx := context.Background()
	p := openJob(t)
	plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 1 << 24})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []whatif.Change{{}, whatif.NewStick(stock.Stick{Length: 14 * measure.Foot, Price: 1 << 40})} {
		d, err := whatif.Solve(ctx, p, plan, &optimize.Options{Work: 1}, c)
		if err != nil {
			t.Fatal(err)
		}
		if d.Plan.Cost > plan.Cost {
			t.Errorf("cost %d, though the plan costs %d", d.Plan.Cost, plan.Cost)
		}
	}
	// One piece grows by so much that some patterns no longer hold it.
	d, err := whatif.Solve(ctx, p, plan, &optimize.Options{Work: 1}, whatif.LongerPiece(0, measure.Foot))
	if err != nil {
		t.Fatal(err)
	}
	fresh, err := optimize.Solve(ctx, d.Problem, &optimize.Options{Work: 1})
	if err != nil {
		t.Fatal(err)
	}
	if d.Plan.Cost > fresh.Cost {
		t.Errorf("cost %d, from scratch %d", d.Plan.Cost, fresh.Cost)
	}
}
