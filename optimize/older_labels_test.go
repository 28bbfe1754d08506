package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// The parts of spliced runs may have the labels of version 0.9.0, but no others, and a run in one piece
// only its own.
func TestLabelsOfOlderPlans(t *testing.T) {
	ft := measure.Foot
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * ft, Price: 1908}},
		Runs: []stock.Run{
			{Label: "rail 3", Length: 20 * ft, Splice: stock.SpliceRule{At: []measure.Length{9 * ft, 10 * ft}}},
			{Label: "rail 4", Length: 11 * ft},
		},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range plan.Parts {
		part := &plan.Parts[i]
		now := part.Label
		part.Label = fmt.Sprintf("%s %d/%d", part.Run, part.Part, part.Parts)
		err := optimize.Check(context.Background(), p, plan)
		if part.Parts > 1 {
			if err != nil {
				t.Errorf("%q instead of %q: %v", part.Label, now, err)
			}
			part.Label = fmt.Sprintf("%s %d/%d", part.Run, part.Part+1, part.Parts)
			err = optimize.Check(context.Background(), p, plan)
		}
		var wrong *optimize.CheckError
		if !errors.As(err, &wrong) || wrong.Field != fmt.Sprintf("parts[%d].label", i) {
			t.Errorf("%q instead of %q: error %v", part.Label, now, err)
		}
		part.Label = now
	}
	if len(plan.Parts) != 3 {
		t.Errorf("%d parts, want 3", len(plan.Parts))
	}
}
