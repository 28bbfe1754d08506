package optimize_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// Solve returns no plan with an error; who looks at it all the same gets nothing, not a panic.
func TestNilPlan(t *testing.T) {
	var none *optimize.Plan
	if none.Sticks() != 0 || none.WithoutProof() != nil {
		t.Errorf("%d sticks, %v", none.Sticks(), none.WithoutProof())
	}
	if values, ok := none.PieceValues(); ok || values != nil {
		t.Errorf("values %v", values)
	}
	var p optimize.Problem
	if _, err := none.RackChange(p, "a"); err == nil {
		t.Error("a change of the rack")
	}
	if _, err := none.Summary(p, measure.Foot); err == nil {
		t.Error("a summary")
	}
}
