package finish_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// drawJob draws a job that any task can work on.
func drawJob(t *rapid.T) finish.Job {
	l := func(name string, most measure.Length) measure.Length {
		return measure.Length(rapid.Int64Range(int64(in), int64(most)).Draw(t, name))
	}
	n := func(name string) int64 { return rapid.Int64Range(0, 30).Draw(t, name) }
	j := finish.Job{Label: "job", Length: l("length", 500*ft), Height: l("height", 10*in), Face: l("face", 12*in), Back: l("back", 10*in),
		Runs: n("runs"), Edges: rapid.Int64Range(0, 2).Draw(t, "edges"), Splices: n("splices"), Corners: n("corners"), Glued: n("glued"), Holes: n("holes"),
		Preprimed: rapid.Bool().Draw(t, "preprimed")}
	j.Outside = rapid.Int64Range(0, j.Corners).Draw(t, "outside")
	if rapid.Bool().Draw(t, "course") {
		j.CourseJoints = n("course joints")
		j.Tile = finish.Tile{Length: l("tile", 3*ft), Thickness: in / 2, Joint: in / 8}
	}
	return j
}

// everyTask is the number of tasks: the first that is not written is not one.
func everyTask(t interface{ Fatal(...any) }) []finish.Task {
	var all []finish.Task
	for task := finish.TaskInstall; ; task++ {
		if _, err := task.MarshalText(); err != nil {
			break
		}
		all = append(all, task)
	}
	if len(all) < 15 {
		t.Fatal("tasks are missing")
	}
	return all
}

// Coats count for the tasks that lay coats or are done several times over, in
// proportion; no other task takes more labor or material by them.
func TestOnlyCoatsAreCoats(t *testing.T) {
	repeats := map[finish.Task]bool{finish.TaskPrime: true, finish.TaskPaint: true, finish.TaskSeal: true, finish.TaskSand: true, finish.TaskClean: true}
	rapid.Check(t, func(t *rapid.T) {
		var s finish.Shelf
		rates := withJoints(t, func() measure.Duration { // they count in every coat
			return measure.Duration(rapid.Int64Range(0, 5).Draw(t, "minutes")) * minute
		})
		for _, m := range []string{"nails", "adhesive", "filler", "sandpaper", "caulk", "tape", "primer", "paint", "thinset", "grout", "sealer", "backer rod", "wood glue", "brads"} {
			p := finish.Product{Label: m, Material: m, Packages: []finish.Package{{Size: gallons(1), Price: 100}}}
			switch m {
			case "nails", "sandpaper", "brads":
				p.Packages[0].Size = finish.Count(100)
			case "tape", "backer rod":
				p.Packages[0].Size = finish.AmountOf(60 * ft)
			case "thinset", "grout":
				p.Packages[0].Size = finish.AmountOf(25 * measure.Pound)
			}
			s.Products = append(s.Products, p)
		}
		job := drawJob(t)
		if job.Tile == (finish.Tile{}) {
			job.Tile = finish.Tile{Length: ft, Thickness: in / 2, Joint: in / 8}
		}
		coats := rapid.Int64Range(2, 5).Draw(t, "coats")
		for _, task := range everyTask(t) {
			plan := func(n int64) *finish.List {
				l, err := finish.NewList([]finish.Work{{Job: job, System: finish.System{Steps: []finish.Step{{Task: task, Coats: n}}}}}, s)
				if err != nil {
					t.Fatal(task, err)
				}
				return l
			}
			one, many := plan(0), plan(coats)
			if !repeats[task] {
				if d := cmp.Diff(one, many, cmp.Comparer(func(a, b finish.Amount) bool { return a == b })); d != "" {
					t.Fatalf("%v with %d coats (-without +with):\n%s", task, coats, d)
				}
				continue
			}
			// length and joints are each rounded up to a second
			each, all := hours(t, one, rates...), hours(t, many, rates...)
			if want := each * measure.Duration(coats); all > want || all < want-2*measure.Duration(coats)*minute/60 {
				t.Fatalf("%v, %d coats: %v, one %v", task, coats, all, each)
			}
			a, b := raw(one.Steps[0].Need.Net)*coats, raw(many.Steps[0].Need.Net)
			if b > a || b < a-coats {
				t.Fatalf("%v, %d coats: need %d, one coat %d", task, coats, b, a/coats)
			}
		}
	})
}

// Caulk, tape and rod take labor by the edge: n edges take n times the labor of one. No other task
// takes more by Lines, and none by the edges but caulk.
func TestLaborGoesByTheEdge(t *testing.T) {
	stock := shelf(t)
	stock.Products = append(stock.Products,
		finish.Product{Label: "rod", Material: "backer rod", Packages: []finish.Package{{Size: finish.AmountOf(100 * ft), Price: 1200}}},
		finish.Product{Label: "adhesive", Material: "adhesive", Packages: []finish.Package{{Size: quantityOf("10.1 fl oz"), Price: 640}}})
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		job.Tile = finish.Tile{Length: ft, Thickness: in / 2, Joint: in / 8}
		job.Splices, job.Corners, job.Outside, job.CourseJoints = 0, 0, 0, 0
		lines := rapid.Int64Range(1, 4).Draw(t, "lines")
		rates := withJoints(t, func() measure.Duration { return 0 })
		for _, task := range everyTask(t) {
			along := func(j finish.Job, lines int64) measure.Duration {
				s := stock
				l, err := finish.NewList([]finish.Work{{Job: j, System: finish.System{Steps: []finish.Step{{Task: task, Lines: lines}}}}}, s)
				if err != nil {
					t.Fatal(task, err)
				}
				return hours(t, l, rates...)
			}
			one, many := along(job, 1), along(job, lines)
			switch task {
			case finish.TaskCaulk, finish.TaskMask, finish.TaskBackerRod:
				if want := one * measure.Duration(lines); many > want || many < want-measure.Duration(lines)*minute/60 {
					t.Fatalf("%v along %d edges: %v, along one %v", task, lines, many, one)
				}
			default:
				if many != one {
					t.Fatalf("%v: %v with %d lines, %v with one", task, many, lines, one)
				}
			}
			wide := job
			wide.Edges = lines
			if got := along(wide, 0); task == finish.TaskCaulk && got != many {
				t.Fatalf("caulk along %d edges of the job: %v, of the step %v", lines, got, many)
			}
		}
	})
}
