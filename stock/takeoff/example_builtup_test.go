package takeoff_test

import (
	"encoding/json"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Base with a cap and a shoe, and a cornice of four with the backing for its crown, in the bay
// of the classroom: each member has its own length, since its standoff depends on the members
// behind it.
func ExampleAssembly() {
	const in, ft = measure.Inch, measure.Foot
	profile := func(role stock.Role, name string, thickness, width measure.Length) stock.Profile {
		return stock.Profile{Name: name, Role: role, Thickness: thickness, Width: width, Inside: stock.JointMiter}
	}
	crown := profile(stock.RoleCrown, "crown", 3*in/4, 37*in/8)
	bay := takeoff.Corner{Angle: 135 * measure.Degree}
	room := takeoff.Room{Name: "classroom", Height: 11 * ft, Walls: []takeoff.Wall{
		{Name: "bay N", Length: 34 * in, Corner: bay}, {Name: "bay", Length: 78 * in, Corner: bay},
		{Name: "bay S", Length: 34 * in, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}},
	}}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Assemblies: []takeoff.Assembly{
		{Name: "tall base", ReturnToWall: true, Members: []takeoff.Member{
			{Profile: profile(stock.RoleBase, "1x8", 3*in/4, 29*in/4)},
			{Profile: profile(stock.RoleCap, "base cap", 7*in/8, 3*in/2), At: 29 * in / 4},
			{Profile: profile(stock.RoleShoe, "shoe", in/2, 3*in/4)},
		}},
		{Name: "cornice", FromCeiling: true, Rooms: []string{"classroom"}, Members: []takeoff.Member{
			{Profile: profile(stock.RoleFrieze, "1x10", 3*in/4, 37*in/4), At: 3 * in / 4},
			{Profile: profile(stock.RoleSoffit, "1x6", 3*in/4, 11*in/2)},
			{Profile: profile(stock.RoleBand, "bead", 5*in/16, 3*in/4), At: 37 * in / 4},
			{Profile: crown, At: 3 * in / 4, Backing: &takeoff.Backing{Profile: profile(stock.RoleBacking, "4x4", 7*in/2, 7*in/2)}},
		}},
	}}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, run := range list.Runs {
		if run.Wall == "bay" {
			fmt.Printf("%-9s %d %-8s %14s long, %15s up, %4s off the wall\n", run.Assembly, run.Order, run.Profile, run.Length.About(), run.Bottom.About(), run.Standoff.About())
		}
	}
	// Output:
	// tall base 1 1x8               6' 6" long,              0" up,   0" off the wall
	// tall base 2 base cap          6' 6" long,          7-1/4" up,   0" off the wall
	// tall base 3 shoe     about 6' 5-3/8" long,              0" up, 3/4" off the wall
	// cornice   1 1x10              6' 6" long,          10' 2" up,   0" off the wall
	// cornice   2 1x6               6' 6" long,     10' 11-1/4" up,   0" off the wall
	// cornice   3 bead     about 6' 5-3/8" long,          10' 2" up, 3/4" off the wall
	// cornice   4 4x4              5' 10" long,    about 10' 8" up, 3/4" off the wall
	// cornice   5 crown    about 6' 5-3/8" long, about 10' 7-5/8" up, 3/4" off the wall
}

// A chair rail with two bands of one kind, distinguished by names, read from a file: the upper
// one stands on strips of 1/4 in.
func ExampleMember() {
	var rail takeoff.Assembly
	err := json.Unmarshal([]byte(`{"name": "rail", "at": "30in", "members": [
		{"profile": {"name": "1x3", "role": "band", "thickness": "3/4in", "width": "2-1/2in"}},
		{"profile": {"name": "1x2", "role": "band", "thickness": "3/4in", "width": "1-1/2in"}, "name": "upper", "at": "2-1/2in", "off": "1/4in"},
		{"profile": {"name": "bed", "role": "bed molding", "thickness": "9/16in", "width": "1-3/4in", "spring": "45deg"}, "at": "1-1/4in"}
	]}`), &rail)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(rail.Name, "begins at", rail.At.About(), "above the floor:", !rail.FromCeiling)
	for _, m := range rail.Members {
		fmt.Println(m.Profile.Role, m.Name, m.Profile.Name, m.At.About(), m.Off.About())
	}
	fs, err := takeoff.CheckTrim(nil, takeoff.Scheme{Assemblies: []takeoff.Assembly{rail}}, takeoff.Conditions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range fs {
		if f.Code == takeoff.FindingLooseEdge {
			fmt.Println(f.Reason)
		}
	}
	// Output:
	// rail begins at 2' 6" above the floor: true
	// band  1x3 0" 0"
	// band upper 1x2 2-1/2" 1/4"
	// bed molding  bed 1-1/4" 0"
	// bed molding bed of rail: nothing is above its upper edge, about 2" from the wall
}

// The nailing for crown: strips, or blocks every 24 in, and the missing thickness of a 2x2 for
// either.
func ExampleBacking() {
	const in = measure.Inch
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: 3 * in / 4, Width: 37 * in / 8, Spring: 45 * measure.Degree}
	backing := takeoff.Backing{Profile: stock.Profile{Name: "2x2", Thickness: 3 * in / 2, Width: 3 * in / 2}, Clearance: in / 4, HoldBack: 4 * in}
	for _, block := range []measure.Length{0, 6 * in} {
		if block > 0 {
			backing.BlockLength, backing.Spacing = block, 24*in
		}
		list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Walls: []takeoff.Wall{{Name: "N", Length: 114 * in}, {Name: "E", Length: 60 * in, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}},
			takeoff.Scheme{Assemblies: []takeoff.Assembly{{Name: "crown", FromCeiling: true, Members: []takeoff.Member{{Profile: crown, Backing: &backing}}}}}, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, run := range list.Runs {
			if run.Role == stock.RoleBacking && run.Wall == "N" {
				fmt.Println(run.Label, run.Length.About(), "from", run.Start.About())
			}
		}
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingThinBacking {
				fmt.Println(f.Reason)
			}
		}
	}
	// Output:
	// corridor N crown backing 8' 10" from 4"
	// backing of crown, about 2-29/32" on the wall by about 2-29/32" above, does not come out of 2x2 of 1-1/2" by 1-1/2"; glue the stock up, or use blocks that are built of it
	// corridor N crown backing A 6" from 4"
	// corridor N crown backing B 6" from 2'
	// corridor N crown backing C 6" from 3' 8"
	// corridor N crown backing D 6" from 5' 4"
	// corridor N crown backing E 6" from 7'
	// corridor N crown backing F 6" from 8' 8"
	// backing of crown, about 2-29/32" on the wall by about 2-29/32" above, does not come out of 2x2 of 1-1/2" by 1-1/2"; glue the stock up, or use blocks that are built of it
}
