package takeoff_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
)

// Old base 7/8 in thick stays on W. Derived: base and shoe of the walls beside it run to its face,
// 7/8 in short of the corner. The shoe before it meets their base 3/4 in off the corner, and the
// shoe there, square to the old base, is 1/2 in thick: a cope begins at 3/4 in, shoe that is only
// butted at 1-1/4 in.
func TestShoeBeforeOldBaseInCorners(t *testing.T) {
	const in = measure.Inch
	rooms := func(left, right measure.Angle) []takeoff.Room {
		return []takeoff.Room{{Name: "teacher's room", Walls: []takeoff.Wall{
			{Name: "S", Length: 144 * in, Start: takeoff.Corner{Kind: takeoff.CornerStop}, Corner: takeoff.Corner{Angle: left}},
			{Name: "W", Length: 120 * in, Corner: takeoff.Corner{Angle: right}, Stretches: []takeoff.Stretch{{Name: "old base", Role: stock.RoleBase, Profile: *board("old base", 7*in/8, 7*in), Existing: true}}},
			{Name: "N", Length: 144 * in, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
		}}}
	}
	const square = 90 * measure.Degree
	for _, c := range []struct {
		name   string
		left   measure.Angle
		inside stock.InsideJoint
		kind   stock.EndKind
		length measure.Length
		copes  int
	}{
		{"coped", square, stock.JointCope, stock.EndCope, 120*in - 2*3*in/4, 2},
		{"butted", square, stock.JointButt, stock.EndSquare, 120*in - 2*5*in/4, 0},
		{"nearly square", 92 * measure.Degree, stock.JointCope, stock.EndCope, 0, 2},
	} {
		shoe := board("shoe", in/2, 3*in/4)
		shoe.Inside = c.inside
		for name, s := range map[string]takeoff.Scheme{
			"scheme":   {Base: board("base", 3*in/4, 21*in/4), Shoe: shoe},
			"assembly": {Assemblies: []takeoff.Assembly{{Name: "base", Members: []takeoff.Member{{Profile: withRole(board("base", 3*in/4, 21*in/4), stock.RoleBase)}, {Profile: withRole(shoe, stock.RoleShoe)}}}}},
		} {
			list, err := takeoff.Take(rooms(c.left, square), s, nil)
			if err != nil {
				t.Fatal(err)
			}
			var got *stock.Run
			for i, r := range list.Runs {
				if r.Wall == "W" && r.Role == stock.RoleShoe {
					got = &list.Runs[i]
				}
			}
			if got == nil {
				t.Fatalf("%s, %s: no shoe in %+v", c.name, name, list.Runs)
			}
			if got.Left.Kind != c.kind || got.Right.Kind != c.kind || list.Joints.Copes != c.copes || got.Standoff != 7*in/8 {
				t.Errorf("%s, %s: %d copes, %+v", c.name, name, list.Joints.Copes, got)
			}
			if c.length != 0 && (got.Length != c.length || got.Reach != (c.length-120*in)/2) {
				t.Errorf("%s, %s: %v with %v at the left, want %v", c.name, name, got.Length, got.Reach, c.length)
			}
		}
	}
}

func withRole(p *stock.Profile, r stock.Role) stock.Profile {
	p.Role = r
	return *p
}

// Base of an assembly is joined to a skirt as that of the scheme is, and its cap meets the skirt's
// edge. Derived as in TestStairRuns: at tan 3/4 and cos 4/5 a board of 9-1/4 in is 11.5625 in high
// in a plumb section; joined plumb to base of 5-1/2 in its foot lies (11.5625 − 5.5)/.75 =
// 8.0833 in before the riser at 48 in. Without base it is cut plumb at the riser, and a rail whose
// lower edge is 8 in above the floor dies into that cut.
func TestAssemblyAtASkirt(t *testing.T) {
	const in = measure.Inch
	st := schoolStair()
	st.Joint = stair.JointPlumb
	base, top := withRole(board("base", 3*in/4, 11*in/2), stock.RoleBase), withRole(board("base cap", 3*in/4, in), stock.RoleCap)
	s := takeoff.Scheme{Skirt: board("skirt board", 3*in/4, 37*in/4), Assemblies: []takeoff.Assembly{{Name: "base", Members: []takeoff.Member{{Profile: base}, {Profile: top, At: 11 * in / 2}}}}}
	ends := func(s takeoff.Scheme, left bool) map[stock.Role]float64 {
		t.Helper()
		x := *st
		if x.RisesLeft = left; left {
			x.At = 20*measure.Foot - st.At
		}
		list, err := takeoff.Take(stairWall(&x), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		at := map[stock.Role]float64{}
		for _, r := range list.Runs {
			switch {
			case r.Role == stock.RoleSkirt:
			case !left && r.Start == 0:
				at[r.Role] = r.Net.Inches()
			case left && r.Start+r.Net == 20*measure.Foot:
				at[r.Role] = r.Net.Inches()
			}
		}
		return at
	}
	near := func(a, b float64) bool { return a-b < 1e-3 && b-a < 1e-3 }
	for _, left := range []bool{false, true} {
		if at := ends(s, left); !near(at[stock.RoleBase], 48-8.0833) || !near(at[stock.RoleCap], 48-8.0833) {
			t.Errorf("rises left %v: base ends at %v, its cap at %v", left, at[stock.RoleBase], at[stock.RoleCap])
		}
		band := withRole(board("band", 3*in/4, in), stock.RoleBand)
		alone := takeoff.Scheme{Skirt: s.Skirt, Assemblies: []takeoff.Assembly{{Name: "rail", At: 8 * in, Members: []takeoff.Member{{Profile: band}}}}}
		if at := ends(alone, left); at[stock.RoleBand] != 48 {
			t.Errorf("rises left %v: without base, the band ends at %v", left, at[stock.RoleBand])
		}
	}
}

// Derived: six risers of 7-1/2 in by 10 in that rise to the left from 108 in have a skirt of 11-1/4
// in, 14.0625 in high in a plumb section, whose foot with base of 5-1/4 in lies (14.0625 − 5.25)/.75
// = 11-3/4 in before the first riser. Only that board, 3/4 in thick, is in the corner at 120 in, not
// the steps, which reach 30 in into the room.
func TestNoStepInTheCornerAtASkirt(t *testing.T) {
	const in = measure.Inch
	st := &takeoff.Stair{Flight: stair.Flight{Risers: 6, Rise: 15 * in / 2, Run: 10 * in}, At: 108 * in, RisesLeft: true, Width: 30 * in, Joint: stair.JointPlumb}
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	rooms := []takeoff.Room{{Name: "teacher's room", Walls: []takeoff.Wall{
		{Name: "W", Length: 120 * in, Start: stop, Stair: st}, {Name: "N", Length: 144 * in, Corner: stop},
	}}}
	for _, mirror := range []bool{false, true} {
		if mirror {
			right := *st
			right.At, right.RisesLeft = 12*in, false
			rooms[0].Walls = []takeoff.Wall{{Name: "N", Length: 144 * in, Start: stop}, {Name: "W", Length: 120 * in, Corner: stop, Stair: &right}}
		}
		list, err := takeoff.Take(rooms, takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4), Skirt: board("skirt board", 3*in/4, 45*in/4)}, nil)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, r := range list.Runs {
			if r.Wall != "N" {
				continue
			}
			if n++; r.Length != 144*in-3*in/4 {
				t.Errorf("mirrored %v: base of %v beside the foot of a skirt", mirror, r.Length)
			}
		}
		if n != 1 {
			t.Errorf("mirrored %v: %d runs on N", mirror, n)
		}
	}
}

// Shoe is called after the old base that it is before, not after another one as thick.
func TestShoeIsCalledAfterItsOldBase(t *testing.T) {
	const in = measure.Inch
	old := func(name string, at, width, thick measure.Length) takeoff.Stretch {
		return takeoff.Stretch{Name: name, Role: stock.RoleBase, At: at, Width: width, Profile: *board("old", thick, 7*in), Existing: true}
	}
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	wall := func(name string, s ...takeoff.Stretch) takeoff.Wall {
		return takeoff.Wall{Name: name, Length: 120 * in, Start: stop, Corner: stop, Stretches: s}
	}
	rooms := []takeoff.Room{{Name: "cloakroom", Walls: []takeoff.Wall{
		wall("E", old("old E", 0, 0, 7*in/8)), wall("W", old("old W", 0, 0, 7*in/8)),
		wall("N", old("old N", 0, 40*in, 7*in/8), old("old N", 80*in, 0, in)),
	}}}
	list, err := takeoff.Take(rooms, takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4), Shoe: board("shoe", in/2, 3*in/4)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, r := range list.Runs {
		if seen[r.Label] {
			t.Errorf("two runs have the label %s", r.Label)
		}
		seen[r.Label] = true
	}
	for _, want := range []string{"cloakroom E shoe before old E", "cloakroom W shoe before old W"} {
		if !seen[want] {
			t.Errorf("no run has the label %s: %v", want, seen)
		}
	}
}
