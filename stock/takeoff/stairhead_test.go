package takeoff_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Derived: 13 runs of 10 in from 48 in end at 178 in, so that 62 in of a wall of 20 ft are beyond
// the last riser, on a floor 14·7-1/2 = 105 in up.
func TestLowerFloorEndsAtTheStair(t *testing.T) {
	const in = measure.Inch
	beyond := 62 * in
	lower := takeoff.Scheme{
		Base: board("base", in/2, 5*in), Shoe: board("shoe", in/2, in), ChairRail: board("rail", in, 3*in), Skirt: board("skirt", in/2, 10*in),
		Assemblies: []takeoff.Assembly{{Name: "strip", At: 60 * in, Members: []takeoff.Member{{Profile: withRole(board("strip", in/2, 2*in), stock.RoleBand)}}}},
	}
	high := takeoff.Scheme{
		Crown:      &stock.Profile{Name: "crown", Thickness: in / 2, Width: 4 * in},
		Assemblies: []takeoff.Assembly{{Name: "strip", At: 106 * in, Members: []takeoff.Member{{Profile: withRole(board("strip", in/2, 2*in), stock.RoleBand)}}}},
	}
	for _, c := range []struct {
		name   string
		head   measure.Length
		left   bool
		scheme takeoff.Scheme
		runs   int            // that are level and on the wall beyond
		found  measure.Length // in a finding, none if zero
	}{
		{name: "closet below a landing", scheme: lower, runs: 4},
		{name: "closet, to the left", left: true, scheme: lower, runs: 4},
		{name: "upper floor", head: 5 * in, scheme: lower, found: beyond},
		{name: "upper floor, to the left", head: 5 * in, left: true, scheme: lower, found: beyond},
		{name: "above the upper floor", head: 5 * in, scheme: high, runs: 2},
	} {
		st := schoolStair()
		st.Head = c.head
		if c.left {
			st.RisesLeft, st.At = true, 240*in-48*in
		}
		rooms := stairWall(st)
		rooms[0].Height = 16 * measure.Foot
		list, err := takeoff.Take(rooms, c.scheme, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		runs, before := 0, 0
		for _, r := range list.Runs {
			if r.Slope != 0 {
				continue
			}
			from, to := r.Start, r.Start+r.Length
			if c.left {
				from, to = 240*in-to, 240*in-from
			}
			if to > 178*in {
				runs++
			}
			if from < 48*in {
				before++
			}
		}
		if want := len(c.scheme.Assemblies) + 3; c.scheme.Base != nil && before != want {
			t.Errorf("%s: %d runs before the stair, want %d", c.name, before, want)
		}
		if runs != c.runs {
			t.Errorf("%s: %d runs beyond the last riser, want %d: %+v", c.name, runs, c.runs, list.Runs)
		}
		checked, err := takeoff.Check(rooms, c.scheme, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, fs := range [][]takeoff.Finding{list.Findings, checked} {
			i := slices.IndexFunc(fs, func(f takeoff.Finding) bool {
				return f.Code == takeoff.FindingStairFit && strings.Contains(f.Reason, "belongs to the upper floor")
			})
			switch {
			case i < 0 && c.found != 0 || i >= 0 && c.found == 0:
				t.Errorf("%s: %+v", c.name, fs)
			case i >= 0 && (fs[i].Length != c.found || fs[i].Severity != takeoff.SeverityAdvice || fs[i].Wall != "W" ||
				!strings.Contains(fs[i].Reason, `5' 2" of wall`) || !strings.Contains(fs[i].Reason, "(base, shoe, chair rail and band)")):
				t.Errorf("%s: %+v", c.name, fs[i])
			}
		}
	}

	// A rail at 32 in would be 2 in above a floor that is 30 in up: it is the lower floor's too.
	st := schoolStair()
	st.Flight.Risers, st.Head = 4, 5*in
	list, err := takeoff.Take(stairWall(st), takeoff.Scheme{ChairRail: lower.ChairRail}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range list.Runs {
		if r.Slope == 0 && r.Start > 48*in {
			t.Errorf("%+v", r)
		}
	}

	// The wall around the corner has nothing to be joined to.
	st = schoolStair()
	st.Head = 5 * in
	rooms := stairWall(st)
	rooms[0].Walls[0].Corner = takeoff.Corner{}
	rooms[0].Walls = append(rooms[0].Walls, takeoff.Wall{Name: "N", Length: 8 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}})
	if list, err = takeoff.Take(rooms, takeoff.Scheme{Base: lower.Base}, nil); err != nil {
		t.Fatal(err)
	}
	if n := len(list.Runs); n != 2 || list.Runs[1].Wall != "N" || list.Runs[1].Length != 8*measure.Foot || list.Joints.Copes+list.Joints.InsideMiters != 0 {
		t.Errorf("%+v, %+v", list.Runs, list.Joints)
	}
}
