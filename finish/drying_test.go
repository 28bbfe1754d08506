package finish_test

import (
	"testing"

	"example.com/longpoint/finish"
)

// Paint is in use when the data sheets say so: 14 to 30 days (data sheets of trim
// enamels), by whatever table the package starts from.
func TestPaintCuresAsDataSheetsSay(t *testing.T) {
	for _, d := range finish.DefaultDrying() {
		if day := 24 * hour; d.Task == finish.TaskPaint && (d.Dry.Cure < 14*day || d.Dry.Cure > 30*day) {
			t.Errorf("paint cures in %v, data sheets say 14 to 30 days", d.Dry.Cure)
		}
		if d.Source == "" {
			t.Errorf("%v has no source", d.Task)
		}
	}
}

// Where a step says how long it dries, that holds; else the product that was
// bought for it; else the shelf's table for the task.
func TestWhichDrying(t *testing.T) {
	own, sheet, table := finish.Drying{Recoat: hour}, finish.Drying{Recoat: 2 * hour}, finish.Drying{Recoat: 3 * hour}
	can := finish.Product{Label: "primer", Material: "primer", Dry: sheet, Packages: []finish.Package{{Size: gallons(1), Price: 1}}}
	unstated := can
	unstated.Label, unstated.Dry, unstated.Packages = "no sheet", finish.Drying{}, []finish.Package{{Size: gallons(1), Price: 2}}
	for _, c := range []struct {
		name string
		step finish.Step
		want finish.Drying
	}{
		{"step", finish.Step{Task: finish.TaskPrime, Dry: own}, own},
		{"product", finish.Step{Task: finish.TaskPrime}, sheet},
		{"shelf", finish.Step{Task: finish.TaskPrime, Product: "no sheet"}, table},
		{"no coat", finish.Step{Task: finish.TaskClean}, finish.Drying{}},
	} {
		l := must[*finish.List](t)(finish.NewList(
			[]finish.Work{{Job: finish.Job{Label: "base", Length: ft, Height: in}, System: finish.System{Steps: []finish.Step{c.step}}}},
			finish.Shelf{Products: []finish.Product{can, unstated}, Drying: []finish.TaskDrying{{Task: finish.TaskPrime, Dry: table}}}))
		if got := l.Steps[0].Dry; got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
