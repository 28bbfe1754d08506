package records

import (
	"fmt"
	"os"
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

// Every plan of the whole schoolhouse, with its runs, ends and rules, goes in and comes out.
func TestSchoolhouse(t *testing.T) {
	if testing.Short() {
		t.Skip("plans a whole house")
	}
	text, err := os.ReadFile("../../schoolhouse/job.json")
	must(t, err)
	var house estimate.Job
	must(t, measure.UnmarshalStrict(text, &house))
	e, err := estimate.New(t.Context(), house, nil)
	must(t, err)
	onBoth(t, func(t *testing.T, fresh func() string) {
		ctx, db := t.Context(), opened(t, fresh())
		must(t, db.AddRack(ctx, "schoolhouse"))
		// The contents of the house's own rack, so that the plans find it.
		for i, o := range house.Rack.Offcuts {
			c := sticks(fmt.Sprint("before ", i))
			c.Leaves = append(c.Leaves, o)
			_, err := db.Change(ctx, "schoolhouse", c)
			must(t, err)
		}
		saved := 0
		for i, pp := range e.Plans {
			j := Job{ID: fmt.Sprintf("%d %s", i, pp.Profile), Rack: "schoolhouse", Problem: pp.Problem, Plan: pp.Plan,
				Options: &cutsheet.Options{Title: house.Name, Job: "schoolhouse", Date: "3 May", Revision: "B", Locale: house.Locale}}
			must(t, db.Save(ctx, j))
			got, _, err := db.Job(ctx, j.ID)
			must(t, err)
			if !equal(got.Problem, pp.Problem) || !equal(got.Plan, pp.Plan) {
				t.Errorf("%s reads back differently", j.ID)
			}
			if o := got.Options; o.Title != house.Name || o.Job != "schoolhouse" || o.Date != "3 May" || o.Revision != "B" {
				t.Errorf("%s: options %+v", j.ID, o)
			}
			must(t, optimize.Check(ctx, got.Problem, got.Plan))
			must(t, db.Cut(ctx, j.ID, nil))
			saved++
		}
		if c := verified(t, db); c.Jobs != saved || saved < 5 || c.Came.Offcuts.Int64() == 0 {
			t.Errorf("%d plans, %+v", saved, c)
		}
	})
}
