package replan_test

import (
	"context"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
)

// Progress tells of the search for the least cost only, and ends it; the old plan is kept as a
// whole if it can be.
func TestReplanProgress(t *testing.T) {
	ctx := context.Background()
	p := problem(trimjob.OfClass("house")[0].Job())
	plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 1 << 20})
	if err != nil {
		t.Fatal(err)
	}
	done := replan.Progress{Cut: []int{1}, Owned: []replan.Owned{{Stick: plan.Patterns[1].Stick, Place: replan.PlaceWhole}}}
	for _, stop := range []int{1, 2, 1 << 30} {
		reports := 0
		last := optimize.Progress{}
		o := &optimize.Options{Work: 1 << 22, Progress: func(now optimize.Progress) bool {
			reports++
			if now.Work < last.Work || now.Bound < last.Bound || last.Found && now.Cost > last.Cost {
				t.Errorf("%+v after %+v", now, last)
			}
			last = now
			return reports < stop
		}}
		rev, err := replan.Solve(ctx, p, plan, done, o)
		if err != nil {
			t.Fatal(err)
		}
		checkRevision(t, &p, plan, &done, rev)
		if stop < 1<<30 && reports != stop || reports == 0 {
			t.Errorf("%d reports, to end at %d", reports, stop)
		}
		if stopped := rev.Plan.Stop == optimize.StopCaller; stopped != (stop < 1<<30) && !rev.Proven {
			t.Errorf("ended at %d: %v", stop, rev.Plan.Stop)
		}
	}
	quiet, err := replan.Solve(ctx, p, plan, done, &optimize.Options{Work: 1 << 22})
	if err != nil {
		t.Fatal(err)
	}
	heard, err := replan.Solve(ctx, p, plan, done, &optimize.Options{Work: 1 << 22, Progress: func(optimize.Progress) bool { return true }})
	if err != nil || heard.Cost != quiet.Cost || heard.String() != quiet.String() {
		t.Errorf("%v: a different revision with Progress set\n%v\n%v", err, heard, quiet)
	}
}
