package replan_test

import (
	"context"
	"reflect"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize/replan"
)

// Pieces still to cut keep their notes, which do not affect the new plan.
func TestNotesStay(t *testing.T) {
	p, plan := classroom()
	progress := replan.Progress{
		Started: []replan.Started{{Stick: 1, Pieces: []int{2}, Left: 9 * measure.Foot}},
		Owned:   []replan.Owned{{Stick: 0, Place: replan.PlaceWhole}},
	}
	plain, err := replan.Solve(context.Background(), p, plan, progress, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Pieces {
		p.Pieces[i].Notes = []string{"for " + p.Pieces[i].Label}
	}
	rev, err := replan.Solve(context.Background(), p, plan, progress, nil)
	if err != nil || !reflect.DeepEqual(rev.Plan, plain.Plan) {
		t.Fatalf("%+v, %v", rev, err)
	}
	for _, pc := range rev.Problem.Pieces {
		if !reflect.DeepEqual(pc.Notes, []string{"for " + pc.Label}) {
			t.Errorf("%s: %q", pc.Label, pc.Notes)
		}
	}
}
