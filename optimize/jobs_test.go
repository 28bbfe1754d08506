package optimize_test

import (
	"context"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
)

// TestRooms solves made-up jobs of one room each. The costs to compare with
// were found, and found optimal, by general solvers.
func TestRooms(t *testing.T) {
	for _, k := range trimjob.OfClass("room") {
		if !k.Closed() {
			t.Errorf("%s: the optimum is not known", k.Name)
		}
		if plan := mustSolve(t, problem(k.Job())); !plan.Proven || plan.Cost != k.Best {
			t.Errorf("%s: cost %d, bound %d, want %d proven", k.Name, plan.Cost, plan.Bound, k.Best)
		}
	}
}

// TestHousesInAHurry gives each made-up job of one house little work: the plan must be valid, cost no
// more than first-fit-decreasing, and no less than the best bound of general solvers.
func TestHousesInAHurry(t *testing.T) {
	houses := trimjob.OfClass("house")
	if testing.Short() {
		houses = houses[:4]
	}
	for _, k := range houses {
		j := k.Job()
		plan, err := optimize.Solve(context.Background(), problem(j), &optimize.Options{Work: 1})
		if err != nil {
			t.Fatal(err)
		}
		if err := optimize.Check(context.Background(), problem(j), plan); err != nil {
			t.Errorf("%s: %v", k.Name, err)
		}
		if c, ok := j.FirstFit(); !ok || plan.Cost > c {
			t.Errorf("%s: cost %d, first-fit-decreasing %d %v", k.Name, plan.Cost, c, ok)
		}
		// Floating point stands behind k.Bound; a whole unit does not.
		if plan.Cost < k.Bound-1 || k.Best > 0 && plan.Bound > k.Best {
			t.Errorf("%s: cost %d, bound %d; known are %d and %d", k.Name, plan.Cost, plan.Bound, k.Best, k.Bound)
		}
	}
}
