package takeoff_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
)

// member makes one of an assembly.
func member(role stock.Role, name string, thickness, width, at measure.Length) takeoff.Member {
	return takeoff.Member{Profile: stock.Profile{Name: name, Role: role, Thickness: thickness, Width: width}, At: at}
}

// sprung makes a member that leans at 30° and so reaches half its width into the room.
func sprung(role stock.Role, name string, width, at measure.Length) takeoff.Member {
	m := member(role, name, measure.Inch/2, width, at)
	m.Profile.Spring = 30 * measure.Degree
	return m
}

// threePieceBase is base 9/16 in by 5 in with a cap of 11/16 in and shoe of 1/2 in.
func threePieceBase() takeoff.Assembly {
	const in = measure.Inch
	return takeoff.Assembly{Name: "tall base", Members: []takeoff.Member{
		member(stock.RoleBase, "base", 9*in/16, 5*in, 0), member(stock.RoleCap, "cap", 11*in/16, in, 5*in),
		member(stock.RoleShoe, "shoe", in/2, 3*in/4, 0),
	}}
}

// cornice is a frieze of 3/4 in below a soffit of the same, and crown in their angle that
// reaches 2 5/8 in.
func cornice() takeoff.Assembly {
	const in = measure.Inch
	return takeoff.Assembly{Name: "cornice", FromCeiling: true, Members: []takeoff.Member{
		member(stock.RoleFrieze, "frieze", 3*in/4, 8*in, 3*in/4), member(stock.RoleSoffit, "soffit", 3*in/4, 4*in, 0),
		sprung(stock.RoleCrown, "crown", 21*in/4, 3*in/4),
	}}
}

func mitered(a takeoff.Assembly) takeoff.Assembly {
	for i := range a.Members {
		a.Members[i].Profile.Inside = stock.JointMiter
	}
	return a
}

// between makes a wall between two others, with the same corner at both ends.
func between(l measure.Length, c takeoff.Corner) takeoff.Room {
	return takeoff.Room{Name: "classroom", Height: 9 * measure.Foot, Walls: []takeoff.Wall{
		{Name: "left", Length: 10 * measure.Foot, Corner: c},
		{Name: "wall", Length: l, Corner: c},
		{Name: "right", Length: 10 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
}

// on returns the run of a profile on a wall.
func on(t testing.TB, list *takeoff.List, profile, wall string) stock.Run {
	t.Helper()
	i := slices.IndexFunc(list.Runs, func(r stock.Run) bool { return r.Profile == profile && r.Wall == wall })
	if i < 0 {
		t.Fatalf("no %s on %s", profile, wall)
	}
	return list.Runs[i]
}

// backAndFace returns how long a run is in the plane of its back and in that of its face.
func backAndFace(r stock.Run) (back, face float64) {
	back, face = r.Length.Inches(), r.Length.Inches()
	for _, e := range []stock.End{r.Left, r.Right} {
		switch e.LongPoint() {
		case "back":
			face -= e.Setback.Inches()
		case "face":
			back -= e.Setback.Inches()
		}
	}
	return back, face
}

// Derived: a member that stands off by d is shorter at an inside corner of the angle A by
// d·cot(A/2), longer at an outside one, and its face by as much again for its own thickness. With
// cot 45° = 1 and cot 67.5° = .41421: base 9/16 in and shoe 1/2 in, frieze 3/4 in and crown that
// reaches 2 5/8 in. The back of the crown is its edge on the wall, its face that at the ceiling.
func TestLengthsOfMembers(t *testing.T) {
	inside, outside := takeoff.Corner{}, takeoff.Corner{Kind: takeoff.CornerOutside}
	bay, bow := takeoff.Corner{Angle: 135 * measure.Degree}, takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 135 * measure.Degree}
	for _, c := range []struct {
		wall       measure.Length
		corner     takeoff.Corner
		profile    string
		back, face float64
	}{
		{144 * measure.Inch, inside, "base", 144, 142.875},
		{144 * measure.Inch, inside, "cap", 144, 142.625},
		{144 * measure.Inch, inside, "shoe", 142.875, 141.875},
		{48 * measure.Inch, outside, "base", 48, 49.125},
		{48 * measure.Inch, outside, "cap", 48, 49.375},
		{48 * measure.Inch, outside, "shoe", 49.125, 50.125},
		{144 * measure.Inch, inside, "frieze", 144, 142.5},
		{144 * measure.Inch, inside, "soffit", 144, 136},
		{144 * measure.Inch, inside, "crown", 142.5, 137.25},
		{48 * measure.Inch, outside, "frieze", 48, 49.5},
		{48 * measure.Inch, outside, "soffit", 48, 56},
		{48 * measure.Inch, outside, "crown", 49.5, 54.75},
		{78 * measure.Inch, bay, "crown", 77.37868, 75.20406},   // 78 − 2·.75·.41421, less 2·2.625·.41421
		{78 * measure.Inch, bay, "shoe", 77.53401, 77.11980},    // 78 − 2·.5625·.41421, less 2·.5·.41421
		{78 * measure.Inch, bow, "crown", 78.62132, 80.79594},   // the same outside
		{78 * measure.Inch, bow, "soffit", 78, 78 + 8*.4142136}, // 78 and 2·4·.41421
	} {
		s := takeoff.Scheme{Assemblies: []takeoff.Assembly{mitered(threePieceBase()), mitered(cornice())}}
		run := on(t, take(t, between(c.wall, c.corner), s), c.profile, "wall")
		back, face := backAndFace(run)
		if math.Abs(back-c.back) > .00001 || math.Abs(face-c.face) > .00001 {
			t.Errorf("%s, %v, %v: back %.5f, face %.5f, want %.5f and %.5f: %v", c.profile, c.wall, c.corner, back, face, c.back, c.face, run.Allowances)
		}
	}
}

// The positions of the members: the edge of the crown on the frieze lies below the ceiling by the
// soffit and its own drop, its other edge off the wall by the frieze and its projection. Derived.
func TestPlacesOfMembers(t *testing.T) {
	const in = measure.Inch
	list := take(t, between(144*in, takeoff.Corner{}), takeoff.Scheme{Assemblies: []takeoff.Assembly{threePieceBase(), cornice()}})
	drop := stock.Profile{Role: stock.RoleCrown, Width: 21 * in / 4, Spring: 30 * measure.Degree}.Drop()
	for _, c := range []struct {
		profile, assembly string
		bottom, standoff  measure.Length
		order             int
	}{
		{"base", "tall base", 0, 0, 1}, {"cap", "tall base", 5 * in, 0, 2}, {"shoe", "tall base", 0, 9 * in / 16, 3},
		{"frieze", "cornice", 108*in - 35*in/4, 0, 1}, {"soffit", "cornice", 108*in - 3*in/4, 0, 2}, {"crown", "cornice", 108*in - 3*in/4 - drop, 3 * in / 4, 3},
	} {
		run := on(t, list, c.profile, "wall")
		if run.Bottom != c.bottom || run.Standoff != c.standoff || run.Assembly != c.assembly || run.Order != c.order {
			t.Errorf("%s of %q, %d, is %v up and %v off the wall, want %v and %v", c.profile, run.Assembly, run.Order, run.Bottom, run.Standoff, c.bottom, c.standoff)
		}
	}
	if len(list.Findings) != 0 {
		t.Errorf("%+v", list.Findings)
	}
}

// Base and shoe of the scheme are a stack of two, like an assembly of the same: the lists differ only
// in the names to which the runs belong. So is crown.
func TestOneMemberIsAStack(t *testing.T) {
	const in = measure.Inch
	alone := takeoff.Scheme{Base: board("base", 9*in/16, 5*in), Shoe: board("shoe", in/2, 3*in/4), ChairRail: board("rail", in, 3*in), Crown: board("crown", in/2, 4*in)}
	built := takeoff.Scheme{Assemblies: []takeoff.Assembly{
		{Name: "foot", Members: []takeoff.Member{member(stock.RoleBase, "base", 9*in/16, 5*in, 0), member(stock.RoleShoe, "shoe", in/2, 3*in/4, 0)}},
		{Name: "rail", At: 32 * in, Members: []takeoff.Member{member(stock.RoleChairRail, "rail", in, 3*in, 0)}},
		{Name: "crown", FromCeiling: true, Members: []takeoff.Member{member(stock.RoleCrown, "crown", in/2, 4*in, 0)}},
	}}
	r := between(144*in, takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 100 * measure.Degree})
	r.Walls[0].Openings = []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 2 * measure.Foot, Width: 2 * measure.Foot}, {Kind: takeoff.OpeningPlain, At: 6 * measure.Foot, Width: 3 * measure.Foot}}
	one, other := take(t, r, alone), take(t, r, built)
	for i := range other.Runs {
		other.Runs[i].Assembly, other.Runs[i].Order = one.Runs[i].Assembly, one.Runs[i].Order
	}
	if d := cmp.Diff(one, other); d != "" {
		t.Errorf("(-alone +built up):\n%s", d)
	}
}

// Shoe that goes around the end of a returned base of 9/16 in to the wall: its return is
// 1 1/16 in long at its face and 9/16 in at its back, and the base ends 1/2 in earlier. Without,
// both end alike and the shoe is returned to the base. Derived.
func TestReturnAtAStandoff(t *testing.T) {
	const in = measure.Inch
	for _, toWall := range []bool{false, true} {
		foot := threePieceBase()
		foot.Members = []takeoff.Member{foot.Members[0], foot.Members[2]}
		foot.ReturnToWall = toWall
		r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: 96 * in, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}, Start: takeoff.Corner{Kind: takeoff.CornerStop}}}}
		list := take(t, r, takeoff.Scheme{Assemblies: []takeoff.Assembly{foot}})
		base, shoe, long, short := 96*in, 96*in, in/2, measure.Length(0)
		if toWall {
			base, long, short = base-in/2, 17*in/16, 9*in/16
		}
		if b, s := on(t, list, "base", "N"), on(t, list, "shoe", "N"); b.Length != base || s.Length != shoe {
			t.Errorf("base %v, shoe %v, want %v and %v", b.Length, s.Length, base, shoe)
		}
		for _, p := range list.Pieces {
			if p.Label != "hall N shoe return" {
				continue
			}
			if sum, _ := total(p.Allowances); p.Length != long || p.Length-p.Left.Setback-p.Right.Setback != short || sum != p.Length {
				t.Errorf("return of %v, %v at its back, %v; want %v and %v", p.Length, p.Length-p.Left.Setback-p.Right.Setback, p.Allowances, long, short)
			}
			long = 0
		}
		if long != 0 {
			t.Error("no return of the shoe")
		}
	}
}

// Members stop at obstacles at their own height: the frieze at a tall window's casing, which the crown
// passes above, the base at a door, the rail at stool height at the stool of a window.
func TestMembersStopAtTheirHeight(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "classroom", Height: 9 * ft, Walls: []takeoff.Wall{stretch("N", 12*ft,
		takeoff.Opening{Kind: takeoff.OpeningWindow, At: 4 * ft, Width: 30 * in, Height: 66 * in, Sill: 30 * in, Flush: true},
		takeoff.Opening{Kind: takeoff.OpeningDoor, At: 8 * ft, Width: 32 * in, Height: 80 * in, Flush: true})}}
	r.Walls[0].Fixtures = []takeoff.Fixture{{Name: "heater", At: 0, Width: 20 * in, Height: 4 * in, Depth: 3 * in}}
	rail := takeoff.Assembly{Name: "rail", At: 27 * in, Members: []takeoff.Member{
		member(stock.RoleBand, "band", in/2, 2*in, 0), member(stock.RoleChairRail, "rail", in, 2*in, 2*in),
	}}
	s := takeoff.Scheme{
		Casing: board("casing", in, 4*in), Stool: board("stool", in, 3*in), Apron: board("apron", in, in),
		Assemblies: []takeoff.Assembly{threePieceBase(), rail, cornice()},
	}
	list := take(t, r, s)
	got := map[string]string{}
	for _, run := range list.Runs {
		if run.Assembly != "" {
			got[run.Profile] += run.Start.String() + " to " + (run.Start + run.Net).String() + "; "
		}
	}
	// The casing of the door covers 92 to 132 in, that of the window 44 to 82 in up to 100 in, its
	// stool 43 1/4 to 82 3/4 in from 29 to 30 in, the apron 44 to 82 in from 28 in. The frieze reaches
	// down to 108 − 8 3/4 in, the crown to 108 − 3/4 − 5.25 cos 30°.
	door := `0" to 7' 8"; 11' to 12'; `
	want := map[string]string{
		"base": strings.Replace(door, `0"`, `1' 8"`, 1), "shoe": strings.Replace(door, `0"`, `1' 8"`, 1), "cap": door,
		"band":   `0" to 3' 8"; 6' 10" to 7' 8"; 11' to 12'; `,
		"rail":   `0" to 3' 7-1/4"; 6' 10-3/4" to 7' 8"; 11' to 12'; `,
		"frieze": `0" to 3' 8"; 6' 10" to 12'; `, "soffit": `0" to 12'; `, "crown": `0" to 12'; `,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Backing of crown: a strip from 4 in behind one corner to 4 in before the other, or blocks, including
// the outer ones, at most the given distance apart. Derived.
func TestBackingOfCrown(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	backed := func(b takeoff.Backing) takeoff.Scheme {
		c := cornice()
		b.Profile = stock.Profile{Name: "2x4", Thickness: 3 * in / 2, Width: 7 * in / 2, Lengths: []measure.Length{8 * ft}}
		c.Members[2].Backing = &b
		return takeoff.Scheme{Assemblies: []takeoff.Assembly{c}}
	}
	r := between(144*in, takeoff.Corner{})
	list := take(t, r, backed(takeoff.Backing{}))
	run := on(t, list, "2x4", "wall")
	// 5.25 cos 30° − .25/sin 30° = 4.04663 in on the wall, below a soffit of 3/4 in.
	if bottom := 108 - .75 - 4.04663; run.Start != 4*in || run.Length != 136*in || run.Standoff != 3*in/4 || run.Order != 3 ||
		run.Label != "classroom wall crown backing" || math.Abs(run.Bottom.Inches()-bottom) > .00001 || len(run.Splices) != 1 {
		t.Errorf("%+v, want bottom %v", run, bottom)
	}
	if crown := on(t, list, "crown", "wall"); crown.Order != 4 {
		t.Errorf("crown is number %d", crown.Order)
	}
	if n := list.TotalsOf("2x4"); n.Edges != 0 || n.Pieces != 6 || n.Joints != (takeoff.Joints{Butts: 3}) {
		t.Errorf("%+v", n)
	}
	// 2.625 − .25/cos 30° = 2.33632 in above: the strip is 4.67265 by 2.02332 in from a 2x4.
	thin := slices.IndexFunc(list.Findings, func(f takeoff.Finding) bool { return f.Code == takeoff.FindingThinBacking })
	if thin < 0 || math.Abs(list.Findings[thin].Length.Inches()-(2.33632-1.5)) > .00001 {
		t.Errorf("%+v", list.Findings)
	}

	list = take(t, r, backed(takeoff.Backing{HoldBack: 2 * in, BlockLength: 6 * in, Spacing: 24 * in}))
	var starts []measure.Length
	for _, run := range list.Runs {
		if run.Wall == "wall" && run.Role == stock.RoleBacking {
			starts = append(starts, run.Start)
			if run.Length != 6*in {
				t.Errorf("%s is %v", run.Label, run.Length)
			}
		}
	}
	// From 2 in to 142 in, the middles of the outer ones are 134 in apart: 6 gaps of 22 1/3 in.
	if len(starts) != 7 || starts[0] != 2*in || starts[6] != 136*in {
		t.Errorf("%v", starts)
	}
	for i := 1; i < len(starts); i++ {
		if gap := starts[i] - starts[i-1]; gap > 24*in || gap < 22*in {
			t.Errorf("%v", starts)
		}
	}
}

// Two assemblies that overlap are an error; at different heights or in different rooms they are not.
func TestAssembliesApart(t *testing.T) {
	const in = measure.Inch
	second := threePieceBase()
	second.Name, second.At = "second", 5*in+in/2
	crown := cornice()
	crown.Name = "other cornice"
	low := crown
	low.At = 9 * in
	other := crown
	other.Rooms = []string{"corridor"}
	here := cornice()
	here.Rooms = []string{"classroom"}
	for _, c := range []struct {
		s     takeoff.Scheme
		field string
	}{
		{takeoff.Scheme{Assemblies: []takeoff.Assembly{threePieceBase(), second}}, "assemblies[1].at"},
		{takeoff.Scheme{Base: base(), Assemblies: []takeoff.Assembly{threePieceBase()}}, "assemblies[0].at"},
		{takeoff.Scheme{Assemblies: []takeoff.Assembly{cornice(), crown}}, "assemblies[1].at"},
		{takeoff.Scheme{Crown: board("crown", in/2, 4*in), Assemblies: []takeoff.Assembly{cornice()}}, "assemblies[0].at"},
		{takeoff.Scheme{Assemblies: []takeoff.Assembly{cornice(), low}}, ""},
		{takeoff.Scheme{Assemblies: []takeoff.Assembly{here, other}}, ""},
	} {
		_, err := takeoff.Take([]takeoff.Room{square()}, c.s, nil)
		var fe *measure.FieldError
		if errors.As(err, &fe); c.field == "" && err != nil || c.field != "" && (fe == nil || fe.Field != c.field) {
			t.Errorf("%v, want %q", err, c.field)
		}
	}
}

// Members of one kind are distinguished by their assembly and their names, and each assembly is run in
// its rooms only.
func TestLabelsOfMembers(t *testing.T) {
	const in = measure.Inch
	rail := takeoff.Assembly{Name: "rail", At: 30 * in, Members: []takeoff.Member{
		member(stock.RoleBand, "lower", in/2, 2*in, 0), member(stock.RoleBand, "upper", in/2, 2*in, 2*in),
	}}
	rail.Members[1].Name = "upper"
	top := takeoff.Assembly{Name: "top", At: 60 * in, Members: []takeoff.Member{member(stock.RoleBand, "top", in/2, 2*in, 0)}, Rooms: []string{"classroom"}}
	r, other := square(), square()
	other.Name = "cloakroom"
	list, err := takeoff.Take([]takeoff.Room{r, other}, takeoff.Scheme{Assemblies: []takeoff.Assembly{rail, top, cornice()}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	labels := map[string]bool{}
	for _, run := range list.Runs {
		if labels[run.Label] {
			t.Errorf("%q twice", run.Label)
		}
		labels[run.Label] = true
	}
	for _, want := range []string{
		"classroom N rail band", "classroom N rail upper band", "classroom N top band", "classroom N crown",
		"cloakroom N rail band", "cloakroom N rail upper band", "cloakroom N crown",
	} {
		if !labels[want] {
			t.Errorf("no %q in %v", want, labels)
		}
	}
	if labels["cloakroom N top band"] || len(list.Runs) != 4*(6+5) {
		t.Errorf("%d runs: %v", len(list.Runs), labels)
	}
}

// Crown whose edges have no support: a soffit that is too narrow, a frieze that ends above its edge and
// leaves it to the wall, strips behind it. Derived: frieze and crown reach 3 3/8 in.
func TestLooseEdges(t *testing.T) {
	const in = measure.Inch
	for name, c := range map[string]struct {
		spoil func(*takeoff.Assembly)
		lacks []measure.Length
	}{
		"as it should be": {func(*takeoff.Assembly) {}, nil},
		"narrow soffit":   {func(a *takeoff.Assembly) { a.Members[1].Profile.Width = 3 * in }, []measure.Length{3 * in / 8}},
		"no soffit":       {func(a *takeoff.Assembly) { a.Members = []takeoff.Member{a.Members[0], a.Members[2]} }, []measure.Length{3 * in / 4}},
		"low frieze":      {func(a *takeoff.Assembly) { a.Members[0].Profile.Width = 2 * in }, []measure.Length{3 * in / 4}},
		"strips":          {func(a *takeoff.Assembly) { a.Members[2].Off = in / 4 }, []measure.Length{in / 4}},
		"all at once": {func(a *takeoff.Assembly) { a.Members[2].Off, a.Members[1].Profile.Width = in/4, 3*in }, []measure.Length{
			in / 4, 5 * in / 8}},
	} {
		a := cornice()
		c.spoil(&a)
		var lacks []measure.Length
		for _, f := range take(t, square(), takeoff.Scheme{Assemblies: []takeoff.Assembly{a}}).Findings {
			if f.Code == takeoff.FindingLooseEdge {
				lacks = append(lacks, f.Length.Round(in/1000, measure.RoundHalfEven))
			}
		}
		for i, l := range c.lacks {
			c.lacks[i] = l.Round(in/1000, measure.RoundHalfEven)
		}
		if !slices.Equal(lacks, c.lacks) {
			t.Errorf("%s: %v, want %v", name, lacks, c.lacks)
		}
	}
}

// A cap that stands out beyond base and casing, and a rail on a band, show their ends.
func TestCapBeyondCasing(t *testing.T) {
	const in = measure.Inch
	rail := takeoff.Assembly{Name: "rail", At: 30 * in, Members: []takeoff.Member{
		member(stock.RoleBand, "band", in/2, 5*in, 0), member(stock.RoleChairRail, "rail", in/2, 2*in, in),
	}}
	s := takeoff.Scheme{Casing: board("casing", 5*in/8, 3*in), Assemblies: []takeoff.Assembly{threePieceBase(), rail}}
	fs, err := takeoff.CheckTrim([]takeoff.Room{square()}, s, takeoff.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]measure.Length{}
	for _, f := range fs {
		if f.Code == takeoff.FindingThickBase {
			got[f.Reason[:4]] = f.Length
		}
	}
	if want := map[string]measure.Length{"cap ": in / 16, "rail": 3 * in / 8}; cmp.Diff(want, got) != "" {
		t.Errorf("%v, want %v", got, want)
	}
}

// An assembly as a person writes it, and the errors for a wrong one.
func TestAssemblyJSON(t *testing.T) {
	const text = `{"assemblies": [{"name": "cornice", "from_ceiling": true, "rooms": ["classroom"], "return_to_wall": true, "members": [
		{"profile": {"name": "1x6", "role": "frieze", "thickness": "3/4in", "width": "5-1/2in"}, "at": "3/4in"},
		{"profile": {"name": "1x4", "role": "soffit", "thickness": "3/4in", "width": "3-1/2in"}},
		{"profile": {"name": "bed", "role": "bed molding", "thickness": "9/16in", "width": "1-3/4in", "spring": "45deg"}, "at": "3/4in", "off": "1/16in",
		 "backing": {"profile": {"name": "1x2", "thickness": "3/4in", "width": "1-1/2in"}, "clearance": "1/8in", "block_length": "3in", "spacing": "24in", "hold_back": "3in"}}
	]}]}`
	var s takeoff.Scheme
	if err := measure.UnmarshalStrict([]byte(text), &s); err != nil {
		t.Fatal(err)
	}
	const in = measure.Inch
	bed := member(stock.RoleBed, "bed", 9*in/16, 7*in/4, 3*in/4)
	bed.Profile.Spring, bed.Off = 45*measure.Degree, in/16
	bed.Backing = &takeoff.Backing{Profile: *board("1x2", 3*in/4, 3*in/2), Clearance: in / 8, BlockLength: 3 * in, Spacing: 24 * in, HoldBack: 3 * in}
	want := takeoff.Scheme{Assemblies: []takeoff.Assembly{{
		Name: "cornice", FromCeiling: true, Rooms: []string{"classroom"}, ReturnToWall: true,
		Members: []takeoff.Member{member(stock.RoleFrieze, "1x6", 3*in/4, 11*in/2, 3*in/4), member(stock.RoleSoffit, "1x4", 3*in/4, 7*in/2, 0), bed},
	}}}
	if d := cmp.Diff(want, s); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	roundTrip(t, s, new(takeoff.Scheme))
	for _, name := range []string{"clearance", "hold_back", "spacing"} {
		var b takeoff.Backing
		var fe *measure.FieldError
		if err := json.Unmarshal([]byte(`{"`+name+`": "0in"}`), &b); !errors.As(err, &fe) || fe.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Each field of an assembly that cannot be is named.
func TestAssemblyFaults(t *testing.T) {
	const in = measure.Inch
	for field, spoil := range map[string]func(*takeoff.Scheme){
		"assemblies[0].name":                            func(s *takeoff.Scheme) { s.Assemblies[0].Name = "" },
		"assemblies[1].name":                            func(s *takeoff.Scheme) { s.Assemblies[1].Name = "tall base" },
		"assemblies[1].at":                              func(s *takeoff.Scheme) { s.Assemblies[1].At = -in },
		"assemblies[1].members":                         func(s *takeoff.Scheme) { s.Assemblies[1].Members = nil },
		"assemblies[1].members[0].at":                   func(s *takeoff.Scheme) { s.Assemblies[1].Members[0].At = -1 },
		"assemblies[1].members[0].off":                  func(s *takeoff.Scheme) { s.Assemblies[1].Members[0].Off = math.MaxInt64 },
		"assemblies[1].members[0].profile.role":         func(s *takeoff.Scheme) { s.Assemblies[1].Members[0].Profile.Role = stock.RoleBase },
		"assemblies[0].members[1].profile.role":         func(s *takeoff.Scheme) { s.Assemblies[0].Members[1].Profile.Role = stock.RoleCasing },
		"assemblies[0].members[1].profile.width":        func(s *takeoff.Scheme) { s.Assemblies[0].Members[1].Profile.Width = 0 },
		"assemblies[1].members[2].name":                 func(s *takeoff.Scheme) { s.Assemblies[1].Members[2] = s.Assemblies[1].Members[1] },
		"assemblies[1].members[1].backing":              func(s *takeoff.Scheme) { s.Assemblies[1].Members[1].Backing = s.Assemblies[1].Members[2].Backing },
		"assemblies[1].members[2].backing.profile.name": func(s *takeoff.Scheme) { s.Assemblies[1].Members[2].Backing.Profile.Name = "" },
		"assemblies[1].members[2].backing.clearance":    func(s *takeoff.Scheme) { s.Assemblies[1].Members[2].Backing.Clearance = 3 * in },
		"assemblies[1].members[2].backing.hold_back":    func(s *takeoff.Scheme) { s.Assemblies[1].Members[2].Backing.HoldBack = -in },
		"assemblies[1].members[2].backing.block_length": func(s *takeoff.Scheme) { s.Assemblies[1].Members[2].Backing.BlockLength = -in },
		"assemblies[1].members[2].backing.spacing":      func(s *takeoff.Scheme) { s.Assemblies[1].Members[2].Backing.Spacing = 24 * in },
		"assemblies": func(s *takeoff.Scheme) { s.Assemblies = make([]takeoff.Assembly, 51) },
		"assemblies[0].members[0].profile.material": nil,
		"assemblies[1].members[2].backing.profile.lengths[0]": func(s *takeoff.Scheme) {
			s.Assemblies[1].Members[2].Backing.Profile.Lengths = []measure.Length{-in}
		},
	} {
		c := cornice()
		c.Members[2].Backing = &takeoff.Backing{Profile: *board("2x4", 3*in/2, 7*in/2)}
		s := takeoff.Scheme{Assemblies: []takeoff.Assembly{threePieceBase(), c}}
		var o *takeoff.Options
		if spoil == nil {
			bow := stock.UsualBow()
			s.Assemblies[0].Members[0].Profile.Material, o = "unobtainium", &takeoff.Options{Fit: &stock.Fit{Bow: &bow}}
		} else {
			spoil(&s)
		}
		_, err := takeoff.Take([]takeoff.Room{square()}, s, o)
		found := false
		for fe := range measure.FieldErrors(err) {
			found = found || fe.Field == field && fe.Want != ""
		}
		if !found {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// In an inside corner where the member on the other wall has stopped, as crown at a beam, it goes
// up to the member behind that: to the face of the frieze, 3/4 in from the wall and less than it
// stands off it on strips of 1/4 in. At 135° the frieze's face meets the plane of the crown's back,
// 1 in off, at .75/sin 135° + 1/tan 135° = .06066 in. What stands deeper in the corner goes first.
// Derived.
func TestMemberAtWhatIsBehindTheOther(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	for _, c := range []struct {
		corner measure.Angle
		beam   measure.Length
		short  float64
	}{{90 * measure.Degree, 0, .75}, {135 * measure.Degree, 0, .06066}, {90 * measure.Degree, in / 2, .75}, {90 * measure.Degree, 6 * in, 6}} {
		a := cornice()
		a.Members = []takeoff.Member{member(stock.RoleFrieze, "frieze", 3*in/4, 3*in, 3*in), sprung(stock.RoleCrown, "crown", 21*in/4, 0)}
		a.Members[1].Off = in / 4
		r := between(144*in, takeoff.Corner{Angle: c.corner})
		r.Walls[0].Fixtures = []takeoff.Fixture{{Name: "beam", At: 9 * ft, Width: ft, Bottom: 106 * in, Height: 108 * in, Depth: c.beam}}
		list := take(t, r, takeoff.Scheme{Assemblies: []takeoff.Assembly{a}})
		if run := on(t, list, "crown", "wall"); math.Abs((run.Start-run.Reach).Inches()-c.short) > .00001 {
			t.Errorf("%v, %v: %v, %+v", c.corner, c.beam, run.Start-run.Reach, run.Allowances)
		}
	}
}

// If old base stays, the cap of the new one ends with it and the shoe continues in front of the old
// base, off the wall by its thickness.
func TestCapEndsAtOldBase(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{stretch("N", 12*ft)}}
	r.Walls[0].Stretches = []takeoff.Stretch{{Name: "old base", Role: stock.RoleBase, At: 4 * ft, Width: 3 * ft, Existing: true, Profile: *board("old", 7*in/8, 7*in)}}
	list := take(t, r, takeoff.Scheme{Assemblies: []takeoff.Assembly{threePieceBase()}})
	got := map[string]string{}
	for _, run := range list.Runs {
		got[run.Profile] += run.Start.String() + " to " + (run.Start + run.Net).String() + " off " + run.Standoff.String() + "; "
	}
	want := map[string]string{
		"base": `0" to 4' off 0"; 7' to 12' off 0"; `, "cap": `0" to 4' off 0"; 7' to 12' off 0"; `,
		"shoe": `0" to 4' off 9/16"; 7' to 12' off 9/16"; 4' to 7' off 7/8"; `,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}
