package estimate_test

import (
	"context"
	"os"
	"slices"
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A job names its trim; the drawing scheme takes the data of its materials, and the job stays
// unchanged.
func TestSchemeIsOfTheMaterials(t *testing.T) {
	data, err := os.ReadFile("../../examples/schoolhouse/job.json")
	if err != nil {
		t.Fatal(err)
	}
	var job estimate.Job
	if err := measure.UnmarshalStrict(data, &job); err != nil {
		t.Fatal(err)
	}
	job.Rooms, job.Variants = job.Rooms[:1], nil
	e, err := estimate.New(context.Background(), job, &estimate.Options{Work: 1_000_000, ScheduleWork: 1})
	if err != nil {
		t.Fatal(err)
	}
	s := e.Scheme()
	for _, p := range s.Profiles() {
		k := slices.IndexFunc(job.Materials, func(m estimate.Material) bool { return m.Profile.Name == p.Name })
		if k < 0 || p.Width == 0 || p.Width != job.Materials[k].Profile.Width || p.Thickness != job.Materials[k].Profile.Thickness {
			t.Errorf("%s is %v by %v", p.Name, p.Thickness, p.Width)
		}
	}
	if e.Job.Trim.Base.Width != 0 || job.Trim.Base.Width != 0 {
		t.Error("the job was changed")
	}
	// A profile described where it is used is not replaced.
	e.Job.Trim.Base = &stock.Profile{Name: e.Job.Trim.Base.Name, Width: 3 * measure.Inch, Thickness: measure.Inch}
	if got := e.Scheme().Base.Width; got != 3*measure.Inch {
		t.Errorf("a base of 3 in has a width of %v", got)
	}
}
