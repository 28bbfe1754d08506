package estimate_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// The base of a cloakroom from measurement to finishing: the caulk, filler and glue follow from
// the walls.
func ExampleFinishJob() {
	base := stock.Profile{Name: "pine base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch, Lengths: []measure.Length{8 * measure.Foot}}
	room := takeoff.Room{Name: "cloakroom", Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * measure.Foot},
		{Name: "E", Length: 6 * measure.Foot},
		{Name: "S", Length: 10 * measure.Foot, Openings: []takeoff.Opening{{At: 5 * measure.Foot, Width: 32 * measure.Inch, ExistingWidth: 3 * measure.Inch}}},
		{Name: "W", Length: 6 * measure.Foot},
	}}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: &base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	job := estimate.FinishJob(list.Totals[0], base)
	fmt.Println(job.Label, job.Length.About(), "in", job.Runs, "runs,", job.Corners, "corners,", job.Splices, "splice")
	fmt.Println("caulked along", job.Edges, "edge; to glue:", job.Glued)
	// Output:
	// pine base 28' 9-5/8" in 5 runs, 4 corners, 1 splice
	// caulked along 1 edge; to glue: 1
}

// FinishJob agrees with the ends of the runs, however the rooms are: two miters meet in a corner, a
// cope and a butt meet a square end, the middle of a mitered face is shorter than its outer edge by
// half the width for each end, joints of stone are neither spliced nor glued.
func TestFinishJobIsWhatTheRunsSay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const in, ft = measure.Inch, measure.Foot
		stone := rapid.Bool().Draw(t, "stone")
		base := &stock.Profile{Name: "base", Thickness: in / 2, Width: 5 * in, Lengths: []measure.Length{8 * ft}, Inside: stock.InsideJoint(rapid.IntRange(0, 2).Draw(t, "inside"))}
		if stone {
			base.ButtSpliced, base.StripJoint, base.Lengths = true, in/8, []measure.Length{ft}
		}
		casing := &stock.Profile{Name: "casing", Thickness: 3 * in / 4, Width: measure.Length(rapid.IntRange(16, 64).Draw(t, "wide")) * in / 16}
		room := takeoff.Room{Name: "room"}
		for i := range rapid.IntRange(1, 6).Draw(t, "walls") {
			w := takeoff.Wall{Name: fmt.Sprint(i), Length: measure.Length(rapid.IntRange(20, 300).Draw(t, "length")) * in}
			w.Corner.Kind = takeoff.CornerKind(rapid.IntRange(0, 4).Draw(t, "corner"))
			w.Corner.Angle = measure.Angle(rapid.SampledFrom([]int{0, 88, 92, 135}).Draw(t, "angle")) * measure.Degree
			if w.Length > 60*in && rapid.Bool().Draw(t, "opening") {
				w.Openings = []takeoff.Opening{{Kind: takeoff.OpeningKind(rapid.IntRange(0, 3).Draw(t, "kind")), At: 10 * in, Width: 30 * in, Height: 40 * in, Sill: 30 * in}}
			}
			room.Walls = append(room.Walls, w)
		}
		list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base, Casing: casing}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, total := range list.Totals {
			p := *base
			if total.Profile == "casing" {
				p = *casing
			}
			want := finish.Job{Label: p.Name, Height: p.Width, Face: p.Width + p.Thickness, Edges: 1}
			ends := map[stock.EndKind]int64{}
			for _, r := range list.Runs {
				if r.Profile != p.Name {
					continue
				}
				want.Runs++
				want.Length += r.Net
				want.Splices += int64(len(r.Splices))
				for _, e := range []stock.End{r.Left, r.Right} {
					ends[e.Kind]++
				}
			}
			want.Outside = ends[stock.EndOutsideMiter] / 2
			want.Corners = ends[stock.EndCope] + ends[stock.EndButt] + ends[stock.EndInsideMiter]/2 + want.Outside + ends[stock.EndFlatMiter]/2
			want.Glued = want.Outside + want.Splices + ends[stock.EndReturn] + ends[stock.EndFlatMiter]/2
			switch {
			case p.Name == "casing":
				want.Edges = 2
				want.Length -= measure.Length(ends[stock.EndFlatMiter]) * p.Width / 2
			case stone:
				want.Edges = 2
				want.CourseJoints, want.Splices, want.Glued = want.Splices, 0, 0
				want.Tile = finish.Tile{Length: ft, Width: p.Width, Thickness: p.Thickness, Joint: p.StripJoint}
				if want.CourseJoints == 0 {
					want.Tile.Length = max(ft, want.Length)
				}
			}
			got := estimate.FinishJob(total, p)
			if d := cmp.Diff(want, got); d != "" {
				t.Fatalf("%s (-want +got):\n%s", p.Name, d)
			}
			shelf := finish.Shelf{Products: []finish.Product{
				{Label: "caulk", Material: "caulk", Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon)}}}}}
			if _, err := finish.NewList([]finish.Work{{Job: got, System: finish.System{Steps: []finish.Step{{Task: finish.TaskCaulk}}}}}, shelf); err != nil {
				t.Fatalf("%+v: %v", got, err)
			}
		}
	})
}

// The totals of a room make a job that names the room.
func ExampleFinishJob_room() {
	base := stock.Profile{Name: "pine base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch, Lengths: []measure.Length{8 * measure.Foot}}
	wall := []takeoff.Wall{{Name: "N", Length: 7 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}
	list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Walls: wall}, {Name: "cloakroom", Walls: wall}}, takeoff.Scheme{Base: &base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range list.RoomTotals {
		fmt.Println(estimate.FinishJob(t, base).Label)
	}
	// Output:
	// pine base, corridor
	// pine base, cloakroom
}

// A profile that runs nowhere is a job without work.
func TestFinishJobOfNothing(t *testing.T) {
	j := estimate.FinishJob(takeoff.ProfileTotals{}, stock.Profile{Name: "shoe", Thickness: measure.Inch / 2, Width: measure.Inch})
	if j.Label != "shoe" || j.Length != 0 || j.Corners != 0 {
		t.Errorf("%+v", j)
	}
}

// The place of the trim determines the cautions, besides its material.
func TestRolesHaveHazards(t *testing.T) {
	for role, want := range map[stock.Role][]finish.Hazard{
		stock.RoleBase: nil, stock.RoleCrown: {finish.HazardLadders, finish.HazardScaffold}, stock.RolePictureRail: {finish.HazardLadders, finish.HazardScaffold},
		stock.RoleSkirt: {finish.HazardFalls}, stock.RoleExtension: {finish.HazardTableSaw},
	} {
		got := estimate.FinishJob(takeoff.ProfileTotals{Profile: "trim", Role: role}, stock.Profile{}).Hazards
		if !slices.Equal(got, want) {
			t.Errorf("%v: %v, want %v", role, got, want)
		}
	}
}

// Base cut to a floor out of level is ripped or tapered, backing and stiles are ripped: the table saw is
// among their hazards, once.
func TestRippedTrimNamesTheTableSaw(t *testing.T) {
	for _, c := range []struct {
		totals takeoff.ProfileTotals
		want   int
	}{
		{takeoff.ProfileTotals{Profile: "base", Role: stock.RoleBase, Net: measure.Foot}, 0},
		{takeoff.ProfileTotals{Profile: "base", Role: stock.RoleBase, Net: measure.Foot, Scribed: measure.Foot}, 1},
		{takeoff.ProfileTotals{Profile: "extension", Role: stock.RoleExtension, Net: measure.Foot, Scribed: measure.Foot}, 1},
		{takeoff.ProfileTotals{Profile: "backing", Role: stock.RoleBacking, Net: measure.Foot}, 1},
		{takeoff.ProfileTotals{Profile: "slate", Role: stock.RoleBase, Net: measure.Foot, Scribed: measure.Foot, Course: true}, 0},
	} {
		n := 0
		for _, h := range estimate.FinishJob(c.totals, stock.Profile{}).Hazards {
			if h == finish.HazardTableSaw {
				n++
			}
		}
		if n != c.want {
			t.Errorf("%s, scribed %v: the table saw is named %d times, want %d", c.totals.Profile, c.totals.Scribed, n, c.want)
		}
	}
}
