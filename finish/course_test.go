package finish_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// strip is one strip of a stone base as installed, with the joint on its right.
type strip struct {
	length measure.Length
	right  byte // 'j' next strip, 'i' inside corner, 'o' outside corner, 'e' an end at a casing
}

// The material in the joints of a course of stone, counted strip by strip, equals the plan: every edge
// and every upright joint is filled once, with grout or with sealant, and mortar covers the backs,
// however wide the face is.
func TestCourseStripByStrip(t *testing.T) {
	products := shelf(t)
	rapid.Check(t, func(t *rapid.T) {
		course := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) strip {
			return strip{measure.Length(rapid.Int64Range(6, 48).Draw(t, "length")) * in, rapid.SampledFrom([]byte("jjjioe")).Draw(t, "right")}
		}), 1, 40).Draw(t, "course")
		height := measure.Length(rapid.Int64Range(3, 8).Draw(t, "height")) * in
		grouts, floor, top := rapid.Bool().Draw(t, "grouts"), rapid.Bool().Draw(t, "floor"), rapid.Bool().Draw(t, "top")
		tile := finish.Tile{Length: 4 * ft, Width: height, Thickness: 3 * in / 8, Joint: in / 8}

		job := finish.Job{Label: "base", Height: height, Face: height + 2*in, Runs: 1, Tile: tile}
		var sealed, lines measure.Length // seen from the wall
		uprights, backs := int64(0), measure.Length(0)
		for _, s := range course {
			job.Length += s.length
			backs += s.length
			for _, grouted := range []bool{floor && grouts, top && grouts} {
				if grouted {
					lines += s.length
				} else {
					sealed += s.length
				}
			}
			switch s.right {
			case 'j':
				job.CourseJoints++
				if grouts {
					uprights++
				} else {
					sealed += height
				}
			case 'i':
				job.Corners++
				sealed += height
			case 'o':
				job.Corners++
				job.Outside++
				if grouts {
					uprights++
				} else {
					sealed += height
				}
			}
		}
		if job.CourseJoints == 0 {
			t.Skip("without joints the plan counts them from the tile")
		}
		system := finish.TileBase()
		for i := range system.Steps {
			system.Steps[i].Waste = finish.Waste{}
			if system.Steps[i].Task == finish.TaskGrout {
				system.Steps[i].Bottom, system.Steps[i].Top = floor, top
			}
		}
		if !grouts {
			system.Steps = append(system.Steps[:1:1], system.Steps[2:]...)
		}
		plan := func(j finish.Job) *finish.List {
			l, err := finish.NewList([]finish.Work{{Job: j, System: system}}, products)
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		l := plan(job)
		for _, s := range l.Steps {
			switch s.Task {
			case finish.TaskCaulk:
				v, _ := s.Need.Net.Volume()
				want := float64(sealed) / float64(in) / 64
				if got := v.CubicInches(); math.Abs(got-want) > 1e-6 {
					t.Fatalf("sealant %v cubic inches, want %v", got, want)
				}
			case finish.TaskGrout:
				w, _ := s.Need.Net.Weight()
				cubic := (float64(uprights)*float64(height) + float64(lines)) / float64(in) * 0.375 * 0.125
				want := cubic * 0.016387064 * 1.6 / 0.45359237
				if got := float64(w) / float64(measure.Pound); math.Abs(got-want) > 1e-6 {
					t.Fatalf("grout %v lb, want %v", got, want)
				}
			case finish.TaskSet:
				a, _ := s.Need.Net.Area()
				want := float64(backs) / float64(ft) * float64(height) / float64(ft)
				if got := a.SquareFeet(); math.Abs(got-want) > 1e-6 {
					t.Fatalf("mortar on %v square feet, want %v", got, want)
				}
			}
		}
		// Setting is by the foot: shorter strips of the same course take no more labor except for the
		// sealant in their joints if nothing is grouted.
		short := job
		short.CourseJoints *= 3
		_, a := timed(t, l)
		_, b := timed(t, plan(short))
		if grouts && a != b || !grouts && b-a != measure.Duration(2*job.CourseJoints)*minute/2 {
			t.Fatalf("%d joints take %v, %d take %v", job.CourseJoints, a, short.CourseJoints, b)
		}
	})
}

// A base 100 ft long and 6 in high has a back of 50 square feet, whatever its face.
func TestMortarIsOnTheBack(t *testing.T) {
	system := finish.System{Steps: []finish.Step{{Task: finish.TaskSet}, {Task: finish.TaskSet, Yield: yieldOf("80 sq ft per 50 lb")}}}
	for _, c := range []struct {
		job  finish.Job
		want measure.Area
	}{
		{finish.Job{Height: 6 * in}, 50 * measure.SquareFoot},
		{finish.Job{Height: 6 * in, Face: 8 * in}, 50 * measure.SquareFoot},
		{finish.Job{Height: 6 * in, Face: 8 * in, Back: 3 * in}, 25 * measure.SquareFoot},
	} {
		c.job.Label, c.job.Length = "base", 100*ft
		l := must[*finish.List](t)(finish.NewList([]finish.Work{{Job: c.job, System: system}}, shelf(t)))
		if got := l.Steps[0].Need.Net; got != finish.AmountOf(c.want) {
			t.Errorf("%+v: mortar on %v, want %v", c.job, got, finish.AmountOf(c.want))
		}
		near(t, "mortar at 80 square feet a bag, pounds", pounds(t, l.Steps[1].Need.Net), c.want.SquareFeet()*50/80, 1e-6)
	}
}

// A floor that is sealed with one product and a top with another: the corners are
// sealed once.
func TestCornersAreSealedOnce(t *testing.T) {
	job := finish.Job{Label: "base", Length: 100 * ft, Height: 6 * in, Corners: 4}
	system := finish.System{Steps: []finish.Step{{Task: finish.TaskCaulk, Lines: 1}, {Task: finish.TaskCaulk, Lines: 1}}}
	l := must[*finish.List](t)(finish.NewList([]finish.Work{{Job: job, System: system}}, shelf(t)))
	for i, want := range []float64{(100 + 4*0.5) * 12, 100 * 12} {
		near(t, "bead, inches", volume(t, l.Steps[i].Need.Net).CubicInches()*2048/9, want, 1e-6)
	}
	todo, _ := timed(t, l)
	if d := todo[0] - todo[1]; d != 2*minute {
		t.Errorf("corners take %v, want two minutes", d)
	}
}
