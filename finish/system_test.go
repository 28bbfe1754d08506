package finish_test

import (
	"slices"
	"testing"

	"example.com/longpoint/finish"
)

// The firm edges of the order of work: which task comes first if a system has both. Common practice, no
// source, except for the casing's two rows (NAVEDTRA 14044).
func TestOrderOfSystems(t *testing.T) {
	for _, s := range []finish.System{finish.PaintedTrim(), finish.PaintedCasing(), finish.TileBase()} {
		at := func(task finish.Task) int {
			return slices.IndexFunc(s.Steps, func(x finish.Step) bool { return x.Task == task })
		}
		for _, e := range [][2]finish.Task{
			{finish.TaskGlueJoints, finish.TaskInstall}, {finish.TaskGlue, finish.TaskInstall}, {finish.TaskInstall, finish.TaskBrad}, {finish.TaskBrad, finish.TaskFill},
			{finish.TaskInstall, finish.TaskFill}, {finish.TaskFill, finish.TaskSand}, {finish.TaskSand, finish.TaskPrime},
			{finish.TaskPrime, finish.TaskCaulk}, {finish.TaskCaulk, finish.TaskPaint}, {finish.TaskMask, finish.TaskPaint}, {finish.TaskPaint, finish.TaskClean},
			{finish.TaskSet, finish.TaskGrout}, {finish.TaskGrout, finish.TaskCaulk}, {finish.TaskCaulk, finish.TaskSeal}, {finish.TaskSeal, finish.TaskClean},
		} {
			if a, b := at(e[0]), at(e[1]); a >= 0 && b >= 0 && a > b {
				t.Errorf("%s: %v before %v", s.Label, e[1], e[0])
			}
		}
		for _, fresh := range []func() finish.System{finish.PaintedTrim, finish.PaintedCasing, finish.StainedTrim, finish.TileBase} {
			x := fresh()
			x.Steps[0].PerStud = 9
			if fresh().Steps[0].PerStud == 9 {
				t.Errorf("%s: calls share its steps", x.Label)
			}
		}
	}
	for _, task := range []finish.Task{finish.TaskGlueJoints, finish.TaskPrime} {
		for _, s := range []finish.System{finish.PaintedTrim(), finish.PaintedCasing()} {
			if !slices.ContainsFunc(s.Steps, func(x finish.Step) bool { return x.Task == task }) {
				t.Errorf("%s: no step to %v", s.Label, task)
			}
		}
	}
}

// The default bead along trim is the tooled fillet of its comment: 346 ft from 10.1 fl oz (derived from
// 9/2048 square inches; common practice, no source, for the bead itself). TestTightBead compares it with a
// newspaper's count.
func TestDefaultBead(t *testing.T) {
	job := finish.Job{Label: "casing", Length: 1000 * ft, Height: 3 * in}
	for edges, want := range map[int64]float64{0: 1000, 1: 1000, 2: 2000} {
		job.Edges = edges
		l := must[*finish.List](t)(finish.NewList([]finish.Work{{Job: job, System: finish.System{Steps: []finish.Step{{Task: finish.TaskCaulk}}}}}, shelf(t)))
		near(t, "cartridges", volume(t, l.Steps[0].Need.Net).CubicInches()/18.2273, want/345.6, 0.002)
	}
}

// Stain goes on bare wood, the holes are filled in the color of the sealed wood and under the varnish,
// and nothing is caulked (common practice, no source).
func TestStainedTrim(t *testing.T) {
	var order []string
	for _, s := range finish.StainedTrim().Steps {
		if s.Task == finish.TaskCaulk || s.Task == finish.TaskPrime {
			t.Errorf("a step to %v", s.Task)
		}
		if s.Task == finish.TaskPaint || s.Task == finish.TaskFill || s.Task == finish.TaskMask {
			order = append(order, s.Label)
		}
	}
	if want := []string{"", "stain", "seal the wood", "fill with colored putty", "varnish"}; !slices.Equal(order, want) {
		t.Errorf("%q, want %q", order, want)
	}
}
