package takeoff_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// rolled returns a profile for a role.
func rolled(role stock.Role, name string, thickness, width measure.Length) *stock.Profile {
	return &stock.Profile{Name: name, Role: role, Thickness: thickness, Width: width}
}

// entablature is a head of fillet, frieze, crown and cap over butted legs: the crown goes
// around the frieze, the cap lies on both.
func entablature() takeoff.CasingStyle {
	const in = measure.Inch
	crown := rolled(stock.RoleCrown, "cornice", 9*in/16, 3*in)
	crown.Spring = 30 * measure.Degree // reaches 1 1/2 in into the room
	return takeoff.CasingStyle{Name: "entablature", Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{
		{Profile: rolled(stock.RoleFillet, "fillet", 5*in/4, in/2), Overhang: in / 2},
		{Profile: rolled(stock.RoleFrieze, "frieze", 3*in/4, 11*in/2)},
		{Profile: crown},
		{Profile: rolled(stock.RoleCap, "cap", 3*in, 3*in/4), Overhang: 2 * in},
	}}
}

// The door of the check values: 32 by 80 in, a reveal of 3/16 in, casing of 3 1/2 in, in the
// middle of a wall of 144 in.
func checkDoor(s takeoff.Scheme, c takeoff.CasingStyle) (*takeoff.List, error) {
	const in = measure.Inch
	s.Casing = board("casing", 3*in/4, 7*in/2)
	c.Name = "style"
	s.CasingStyles = []takeoff.CasingStyle{c}
	return takeoff.Take(doorWall(takeoff.Opening{At: 56 * in, Width: 32 * in, Height: 80 * in}), s, nil)
}

// lengthsOf returns the lengths of the pieces by the ends of their labels.
func lengthsOf(list *takeoff.List) map[string]string {
	got := map[string]string{}
	for _, p := range list.Pieces {
		got[strings.TrimPrefix(strings.TrimPrefix(p.Label, "corridor S "), "door ")] = p.Length.String()
	}
	return got
}

// Derived, each from o = 32, h = 80, r = 3/16, c = 3 1/2, with D = o + 2r + 2c = 39 3/8. Short
// points are long points less the setback of the miter, 3 1/2.
func TestStyleLengths(t *testing.T) {
	const in = measure.Inch
	backband := board("band", 9*in/8, 9*in/8)
	for _, tt := range []struct {
		name   string
		scheme takeoff.Scheme
		style  takeoff.CasingStyle
		want   map[string]string
		joints takeoff.Joints
	}{
		{"mitered", takeoff.Scheme{}, takeoff.CasingStyle{},
			map[string]string{"casing leg left": "83.6875in", "casing leg right": "83.6875in", "casing head": "39.375in"},
			takeoff.Joints{FlatMiters: 2}},
		{"butted flush", takeoff.Scheme{}, takeoff.CasingStyle{Joint: takeoff.CasingButt},
			map[string]string{"casing leg left": "80.1875in", "casing leg right": "80.1875in", "casing head": "39.375in"},
			takeoff.Joints{Butts: 2}},
		{"butted, overhang 1/2", takeoff.Scheme{}, takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Overhang: in / 2}}},
			map[string]string{"casing leg left": "80.1875in", "casing leg right": "80.1875in", "casing head": "40.375in"},
			takeoff.Joints{Butts: 2}},
		{"blocks of 3 3/4", takeoff.Scheme{}, takeoff.CasingStyle{Joint: takeoff.CasingBlock, Block: board("block", 7*in/8, 15*in/4)},
			map[string]string{"casing leg left": "80.0625in", "casing leg right": "80.0625in", "casing head": "32.125in", "block left": "3.75in", "block right": "3.75in"},
			takeoff.Joints{Butts: 4}},
		{"plinth of 8", takeoff.Scheme{}, takeoff.CasingStyle{Plinth: board("plinth", in, 4*in), PlinthHeight: 8 * in},
			map[string]string{"casing leg left": "75.6875in", "casing leg right": "75.6875in", "casing head": "39.375in", "plinth left": "8in", "plinth right": "8in"},
			takeoff.Joints{FlatMiters: 2, Butts: 2}},
		{"backband 1 1/8, lap 1/4", takeoff.Scheme{Base: board("base", in/2, 5*in)}, takeoff.CasingStyle{Backband: backband, BackbandLap: in / 4},
			map[string]string{"casing leg left": "83.6875in", "casing leg right": "83.6875in", "casing head": "39.375in",
				"backband leg left": "84.5625in", "backband leg right": "84.5625in", "backband head": "41.125in",
				"base A": "51.4375in", "base B": "51.4375in"},
			takeoff.Joints{FlatMiters: 4, Stops: 4}},
		{"backband butted, 1/2", takeoff.Scheme{}, takeoff.CasingStyle{Backband: board("band", 9*in/8, in/2)},
			map[string]string{"casing leg left": "83.6875in", "casing leg right": "83.6875in", "casing head": "39.375in",
				"backband leg left": "84.1875in", "backband leg right": "84.1875in", "backband head": "40.375in"},
			takeoff.Joints{FlatMiters: 4}},
		// The frieze is cut flush with the outer edges of the casing, and the fillet hangs over
		// ("Assembling Craftsman Trim", Journal of Light Construction); the crown is as long as
		// the frieze at its back and 2 · 1 1/2 longer at its face; the returns are 3/4 + 1 1/2.
		{"entablature", takeoff.Scheme{}, entablature(),
			map[string]string{"casing leg left": "80.1875in", "casing leg right": "80.1875in",
				"fillet head": "40.375in", "frieze head": "39.375in", "crown head": "42.375in", "cap head": "43.375in",
				"crown head return 1 of 2": "2.25in", "crown head return 2 of 2": "2.25in"},
			takeoff.Joints{Butts: 2, Returns: 2}},
		// Over a mitered casing the frieze begins above the head; its length is the same.
		{"frieze over a mitered head", takeoff.Scheme{}, takeoff.CasingStyle{Head: []takeoff.HeadMember{
			{Profile: rolled(stock.RoleFrieze, "frieze", 3*in/4, 5*in)}, {Profile: rolled(stock.RoleCap, "cap", 2*in, 3*in/4), Overhang: in, Return: true}}},
			map[string]string{"casing leg left": "83.6875in", "casing leg right": "83.6875in", "casing head": "39.375in",
				"frieze head": "39.375in", "cap head": "41.375in", "cap head return 1 of 2": "2in", "cap head return 2 of 2": "2in"},
			takeoff.Joints{FlatMiters: 2, Returns: 2}},
		// The backband goes up the legs to the head and makes it wider.
		{"butted with a backband", takeoff.Scheme{}, takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Overhang: in}}, Backband: backband, BackbandLap: in / 4},
			map[string]string{"casing leg left": "80.1875in", "casing leg right": "80.1875in", "casing head": "43.125in",
				"backband leg left": "80.1875in", "backband leg right": "80.1875in"},
			takeoff.Joints{Butts: 2}},
		// Without an overhang it goes around the butted head as around a mitered one.
		{"butted flush in a backband", takeoff.Scheme{}, takeoff.CasingStyle{Joint: takeoff.CasingButt, Backband: backband, BackbandLap: in / 4},
			map[string]string{"casing leg left": "80.1875in", "casing leg right": "80.1875in", "casing head": "39.375in",
				"backband leg left": "84.5625in", "backband leg right": "84.5625in", "backband head": "41.125in"},
			takeoff.Joints{Butts: 2, FlatMiters: 2}},
	} {
		list, err := checkDoor(tt.scheme, tt.style)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		want := map[string]string{}
		for k, v := range tt.want {
			want[k] = measure.MustParse(v).String()
		}
		if d := cmp.Diff(want, lengthsOf(list)); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, d)
		}
		if list.Joints != tt.joints {
			t.Errorf("%s: joints %+v, want %+v", tt.name, list.Joints, tt.joints)
		}
		for _, p := range list.Pieces {
			if p.Left.Kind == stock.EndFlatMiter && p.Profile == "casing" && p.Left.Setback != 7*in/2 {
				t.Errorf("%s: %s: %+v", tt.name, p.Label, p.Left)
			}
			if sum, err := total(p.Allowances); err != nil || sum != p.Length {
				t.Errorf("%s: %s: %v is not %v", tt.name, p.Label, p.Allowances, p.Length)
			}
		}
	}
}

// Casing of 3 1/2 in with reveals of 1/4 in at the jambs and at the ends of the stool: the
// stool is 8 in longer than the opening, and the jamb is 4 in from each of its ends
// ("Production Jamb Extensions", Journal of Light Construction). The apron is as long as
// the casing is wide over all (NAVEDTRA 14044, Builder 3 & 2, chapter 6).
func TestPublishedStool(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{
		Casing: board("casing", 3*in/4, 7*in/2), Stool: board("stool", in, 5*in), Apron: board("apron", 3*in/4, 3*in),
	}
	window := takeoff.Opening{Kind: takeoff.OpeningWindow, At: 40 * in, Width: 30 * in, Height: 50 * in, Sill: 30 * in, Reveal: in / 4}
	for _, joint := range []takeoff.CasingJoint{takeoff.CasingMiter, takeoff.CasingButt} {
		s.CasingStyles = []takeoff.CasingStyle{{Name: "window", Kinds: []takeoff.OpeningKind{takeoff.OpeningWindow}, Joint: joint}}
		list, err := takeoff.Take(doorWall(window), s, &takeoff.Options{Horn: in / 4})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range list.Runs {
			switch r.Role {
			case stock.RoleStool:
				if r.Length != 38*in || window.At-r.Start != 4*in || r.Bottom != 29*in {
					t.Errorf("%v: stool %v from %v at %v", joint, r.Length, r.Start, r.Bottom)
				}
			case stock.RoleApron:
				if r.Length != 75*in/2 || r.Start != 40*in-15*in/4 {
					t.Errorf("%v: apron %v from %v", joint, r.Length, r.Start)
				}
			}
		}
	}
}

// Legs follow the head jamb if the floor is out of level: each has its own length, both up to the line
// of the reveal.
func TestStyleOutOfLevel(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Casing: board("casing", 3*in/4, 7*in/2), CasingStyles: []takeoff.CasingStyle{entablature()}}
	list, err := takeoff.Take(doorWall(takeoff.Opening{At: 56 * in, Width: 32 * in, Height: 80 * in, RightHeight: 80*in + 3*in/8}), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	got := lengthsOf(list)
	if got["casing leg left"] != measure.MustParse("80-3/16in").String() || got["casing leg right"] != measure.MustParse("80-9/16in").String() {
		t.Errorf("%v", got)
	}
}

// If the floor falls from one jamb to the other, the parts that stand on it begin lower there and end
// at the same height.
func TestLegsOnASlope(t *testing.T) {
	const in = measure.Inch
	for _, falls := range []measure.Length{3 * in / 8, -in / 2} {
		for _, c := range []takeoff.CasingStyle{{}, entablature(), {Joint: takeoff.CasingBlock, Block: board("block", in, 4*in)}, {Backband: board("band", in, in), Joint: takeoff.CasingButt}} {
			for _, plinth := range []*stock.Profile{nil, board("plinth", in, 4*in)} {
				c.Name, c.Plinth, c.Mullion = "style", plinth, board("mullion", 3*in/4, 6*in)
				s := takeoff.Scheme{Casing: board("casing", 3*in/4, 7*in/2), CasingStyles: []takeoff.CasingStyle{c}}
				left := takeoff.Opening{At: 10 * in, Width: 30 * in, Height: 80 * in, RightHeight: 80*in + falls/2, Joined: true}
				right := takeoff.Opening{At: 46 * in, Width: 30 * in, Height: 80*in + falls/2, RightHeight: 80*in + falls}
				list, err := takeoff.Take(doorWall(left, right), s, &takeoff.Options{FloorGap: in / 4})
				if err != nil {
					t.Fatal(err)
				}
				foot := map[string]measure.Length{}
				top := map[string]measure.Length{}
				for _, r := range list.Runs {
					name := strings.TrimPrefix(r.Label, "corridor S door 1 ")
					foot[name], top[name] = r.Bottom, r.Bottom+r.Length
				}
				if top["casing leg left"] != top["casing leg right"] || top["backband leg left"] != top["backband leg right"] || foot["casing leg left"]-foot["casing leg right"] != falls {
					t.Errorf("%v, %v: from %v to %v", c.Joint, falls, foot, top)
				}
				if plinth != nil && (foot["plinth left"]-foot["plinth right"] != falls || top["plinth right"] != foot["casing leg right"]) {
					t.Errorf("%v, %v: plinths from %v to %v", c.Joint, falls, foot, top)
				}
				if head := 80*in + 3*in/16; top["casing mullion"] != head || foot["casing mullion"] != in/4-falls/2 {
					t.Errorf("%v, %v: mullion from %v to %v", c.Joint, falls, foot["casing mullion"], top["casing mullion"])
				}
			}
		}
	}
}

// The style of each opening: the one that it names, else the first for its kind.
func TestStyleOfAnOpening(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{
		Casing: board("casing", 3*in/4, 3*in), Plinth: board("plinth", in, 4*in),
		CasingStyles: []takeoff.CasingStyle{
			{Name: "butted windows", Kinds: []takeoff.OpeningKind{takeoff.OpeningWindow}, Joint: takeoff.CasingButt},
			{Name: "wide", Kinds: []takeoff.OpeningKind{takeoff.OpeningCased}, Casing: board("wide casing", in, 5*in), Without: []stock.Role{stock.RolePlinth}},
			{Name: "plain", Kinds: []takeoff.OpeningKind{}, Without: []stock.Role{stock.RolePlinth, stock.RoleBackband}},
		},
	}
	for _, tt := range []struct {
		o    takeoff.Opening
		want takeoff.Joints
	}{
		{takeoff.Opening{Kind: takeoff.OpeningWindow, Height: 40 * in}, takeoff.Joints{Butts: 4}},
		{takeoff.Opening{Kind: takeoff.OpeningCased}, takeoff.Joints{FlatMiters: 2}},
		{takeoff.Opening{Kind: takeoff.OpeningDoor}, takeoff.Joints{FlatMiters: 2}},
		{takeoff.Opening{Kind: takeoff.OpeningDoor, Style: "butted windows"}, takeoff.Joints{Butts: 4}},
		{takeoff.Opening{Kind: takeoff.OpeningPlain, Style: "wide"}, takeoff.Joints{}},
		{takeoff.Opening{ExistingWidth: 4 * in, Style: "wide"}, takeoff.Joints{}},
	} {
		tt.o.At, tt.o.Width = 30*in, 30*in
		list, err := takeoff.Take(doorWall(tt.o), s, nil)
		if err != nil || list.Joints != tt.want {
			t.Errorf("%+v: %+v, %v", tt.o, list, err)
		}
	}
	s.CasingStyles = s.CasingStyles[:2]
	if list, err := takeoff.Take(doorWall(takeoff.Opening{At: 30 * in, Width: 30 * in}), s, nil); err != nil || list.TotalsOf("plinth").Pieces != 2 {
		t.Errorf("a door without a style: %+v, %v", list, err)
	}
	var fe *measure.FieldError
	wrong := doorWall(takeoff.Opening{At: 30 * in, Width: 30 * in, Style: "gothic"})
	for name, call := range map[string]func() error{
		"Take":      func() error { _, err := takeoff.Take(wrong, s, nil); return err },
		"Check":     func() error { _, err := takeoff.Check(wrong, s, nil); return err },
		"CheckTrim": func() error { _, err := takeoff.CheckTrim(wrong, s, takeoff.Conditions{}); return err },
	} {
		if err := call(); !errors.As(err, &fe) || fe.Field != "rooms[0].walls[0].openings[0].style" || fe.Value != "gothic" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A style without a part has none, even if the scheme has it.
func TestStyleWithout(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{
		Casing: board("casing", 3*in/4, 3*in), Stool: board("stool", in, 5*in), Apron: board("apron", in/2, 3*in),
		Plinth: board("plinth", in, 4*in), Backband: board("band", in, in), BackbandLap: in / 4,
	}
	on := []takeoff.Opening{{At: 20 * in, Width: 30 * in}, {Kind: takeoff.OpeningWindow, At: 80 * in, Width: 30 * in, Height: 40 * in, Sill: 30 * in}}
	for _, tt := range []struct {
		without []stock.Role
		want    int // pieces
	}{
		{nil, 2 + 3 + 3 + 2 + 3 + 3},
		{[]stock.Role{stock.RolePlinth}, 3 + 3 + 2 + 3 + 3},
		{[]stock.Role{stock.RoleApron}, 2 + 3 + 3 + 1 + 3 + 3},
		{[]stock.Role{stock.RoleStool}, 2 + 3 + 3 + 4 + 4},
		{[]stock.Role{stock.RoleBackband}, 2 + 3 + 2 + 3},
		{[]stock.Role{stock.RoleBackband, stock.RolePlinth, stock.RoleStool}, 3 + 4},
	} {
		s.CasingStyles = []takeoff.CasingStyle{{Name: "style", Without: tt.without}}
		if list, err := takeoff.Take(doorWall(on...), s, nil); err != nil || len(list.Pieces) != tt.want {
			t.Errorf("without %v: %v, %v, want %d pieces", tt.without, list, err, tt.want)
		}
	}
}

// A piece of a style that no stick is long enough for is an error that names it.
func TestStyleTooShort(t *testing.T) {
	const in = measure.Inch
	for want, change := range map[string]func(c *takeoff.CasingStyle, p *stock.Profile){
		"casing leg left":   func(c *takeoff.CasingStyle, p *stock.Profile) { c.Casing = p },
		"casing head":       func(c *takeoff.CasingStyle, p *stock.Profile) { c.Head = []takeoff.HeadMember{{Profile: p}} },
		"stool":             func(c *takeoff.CasingStyle, p *stock.Profile) { c.Stool = p },
		"apron":             func(c *takeoff.CasingStyle, p *stock.Profile) { c.Stool, c.Apron = board("stool", in, 4*in), p },
		"casing mullion":    func(c *takeoff.CasingStyle, p *stock.Profile) { c.Mullion = p },
		"backband leg left": func(c *takeoff.CasingStyle, p *stock.Profile) { c.Backband = p },
		"block left": func(c *takeoff.CasingStyle, p *stock.Profile) {
			c.Joint, c.Block, c.BlockHeight = takeoff.CasingBlock, p, 7*in
		},
	} {
		p := rolled(stock.RoleCasing, "short", in, 6*in)
		p.Lengths = []measure.Length{6*in + in/2}
		c := takeoff.CasingStyle{Name: "style", Joint: takeoff.CasingButt, Mullion: board("mullion", in, 6*in)}
		change(&c, p)
		s := takeoff.Scheme{Casing: board("casing", in, 3*in), CasingStyles: []takeoff.CasingStyle{c}}
		_, err := takeoff.Take(doorWall(joinedWindows()...), s, nil)
		var se *takeoff.SpliceError
		if !errors.As(err, &se) || se.Run != "corridor S window 1 "+want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// Trim stops at the part of an opening at its own height: the base at the plinth, the chair rail at the
// leg, a picture rail at the widest part of the head that it meets.
func TestStopsAtItsHeight(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{
		Base: board("base", in/2, 6*in), ChairRail: board("chair rail", in/2, 2*in), PictureRail: board("picture rail", in/2, 2*in),
		Casing: board("casing", 3*in/4, 7*in/2), Plinth: board("plinth", in, 15*in/4), PlinthHeight: 8 * in,
		CasingStyles: []takeoff.CasingStyle{entablature()},
	}
	// The head: fillet from 80 3/16 to 80 11/16, frieze to 86 3/16, crown its upper 2.598 in, cap
	// to 86 15/16. Half of the wall, 56 in, less reveal and casing, 3 11/16, is 52 5/16.
	for at, want := range map[measure.Length]string{
		81 * in: "52.3125in", // the frieze alone
		80 * in: "51.8125in", // leg, fillet and frieze: the fillet hangs over by 1/2
		83 * in: "50.8125in", // frieze and crown: by 1 1/2
		85 * in: "50.3125in", // crown and cap: by 2
		87 * in: "144in",     // it passes above
	} {
		s.PictureRailAt = at
		list, err := takeoff.Take(doorWall(takeoff.Opening{At: 56 * in, Width: 32 * in, Height: 80 * in}), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := map[stock.Role]string{}
		for _, r := range list.Runs {
			if _, ok := got[r.Role]; !ok {
				got[r.Role] = r.Length.String()
			}
		}
		if got[stock.RoleBase] != measure.MustParse("52.0625in").String() || got[stock.RoleChairRail] != measure.MustParse("52.3125in").String() {
			t.Errorf("base %s, chair rail %s", got[stock.RoleBase], got[stock.RoleChairRail])
		}
		if got[stock.RolePictureRail] != measure.MustParse(want).String() {
			t.Errorf("picture rail at %v: %s, want %s", at, got[stock.RolePictureRail], want)
		}
	}
}

// A style is a page of JSON, and reads back as it was written.
func TestStyleAsJSON(t *testing.T) {
	const page = `{
		"casing": {"name": "flat casing", "thickness": "3/4in", "width": "3-1/2in"},
		"casing_styles": [
			{"name": "entablature", "kinds": ["door", "cased opening"], "joint": "butt",
			 "head": [
				{"profile": {"name": "fillet", "role": "fillet", "thickness": "1-1/4in", "width": "1/2in"}, "overhang": "1/2in"},
				{"profile": {"name": "frieze", "role": "frieze", "thickness": "3/4in", "width": "5-1/2in"}},
				{"profile": {"name": "cornice", "role": "crown", "thickness": "9/16in", "width": "3in", "spring": "30"}},
				{"profile": {"name": "cap", "role": "cap", "thickness": "3in", "width": "3/4in"}, "overhang": "2in"}],
			 "plinth": {"name": "plinth", "thickness": "1in", "width": "3-3/4in"}, "plinth_height": "8in"},
			{"name": "rosettes", "joint": "block", "block": {"name": "rosette", "thickness": "7/8in", "width": "3-3/4in"}, "without": ["plinth"]}
		]}`
	var s, back takeoff.Scheme
	if err := measure.UnmarshalStrict([]byte(page), &s); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	if err := measure.UnmarshalStrict(text, &back); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(s, back); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	want := entablature()
	want.Kinds = []takeoff.OpeningKind{takeoff.OpeningDoor, takeoff.OpeningCased}
	want.Plinth, want.PlinthHeight = board("plinth", measure.Inch, 15*measure.Inch/4), 8*measure.Inch
	if d := cmp.Diff(want, s.CasingStyles[0]); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	for field, text := range map[string]string{
		"casing_styles[0].block_height":  `{"casing_styles": [{"name": "a", "block_height": "0in"}]}`,
		"casing_styles[0].plinth_height": `{"casing_styles": [{"name": "a", "plinth_height": "0in"}]}`,
		"casing_styles[0].joint":         `{"casing_styles": [{"name": "a", "joint": "dovetail"}]}`,
	} {
		var fe *measure.FieldError
		if err := measure.UnmarshalStrict([]byte(text), &back); !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", text, err)
		}
		if err := json.Unmarshal([]byte(text), &back); !errors.As(err, &fe) {
			t.Errorf("%s: accepted, as by encoding/json: %v", text, err)
		}
	}
}

// Impossible styles are reported at their fields, all at once.
func TestStyleFaults(t *testing.T) {
	const in = measure.Inch
	casing, frieze := board("casing", 3*in/4, 3*in), rolled(stock.RoleFrieze, "frieze", 3*in/4, 2*in)
	crown := rolled(stock.RoleCrown, "crown", in/2, 3*in)
	for want, c := range map[string]takeoff.CasingStyle{
		"name":                   {Name: " "[1:]},
		"kinds[1]":               {Kinds: []takeoff.OpeningKind{0, 9}},
		"joint":                  {Joint: 7},
		"block":                  {Joint: takeoff.CasingBlock},
		"block.width":            {Joint: takeoff.CasingBlock, Block: board("block", in, 2*in)},
		"block.name":             {Joint: takeoff.CasingBlock, Block: board("", in, 4*in)},
		"block_height":           {Joint: takeoff.CasingBlock, Block: board("block", in, 4*in), BlockHeight: 3 * in},
		"head":                   {Joint: takeoff.CasingBlock, Block: board("block", in, 4*in), Head: []takeoff.HeadMember{{}}},
		"head[0]":                {Head: []takeoff.HeadMember{{Profile: crown}}},
		"head[1].profile.width":  {Head: []takeoff.HeadMember{{Profile: frieze}, {Profile: crown}}},
		"head[1].overhang":       {Head: []takeoff.HeadMember{{Profile: frieze}, {Profile: rolled(stock.RoleBed, "bed", in/2, in), Overhang: 1}}},
		"head[1].return":         {Head: []takeoff.HeadMember{{Profile: frieze}, {Profile: rolled(stock.RoleBand, "cove", in/2, in), Around: true, Return: true}}},
		"head[0].profile.role":   {Head: []takeoff.HeadMember{{Profile: casing, Overhang: -1}, {Profile: board("base", in, in)}}},
		"head[0].overhang":       {Head: []takeoff.HeadMember{{Overhang: -1}}},
		"head[0].profile.width ": {Head: []takeoff.HeadMember{{Profile: rolled(stock.RoleCap, "cap", in, 0)}}},
		"plinth_height":          {PlinthHeight: in},
		"backband_lap":           {BackbandLap: in},
		"backband_lap ":          {Backband: board("band", in, in), BackbandLap: 2 * in},
		"flat_edge":              {FlatEdge: -1},
		"without[0]":             {Without: []stock.Role{stock.RoleCrown}},
		"casing.thickness":       {Casing: board("thin", 0, in)},
		"head ":                  {Head: make([]takeoff.HeadMember, 21)},
	} {
		want = "casing_styles[0]." + strings.TrimSpace(want)
		if want != "casing_styles[0].name" {
			c.Name = "style"
		}
		_, err := takeoff.Take(nil, takeoff.Scheme{Casing: casing, CasingStyles: []takeoff.CasingStyle{c}}, nil)
		var fields []string
		for fe := range measure.FieldErrors(err) {
			fields = append(fields, fe.Field)
		}
		if !strings.Contains(strings.Join(fields, " ")+" ", want+" ") {
			t.Errorf("%q, want %s: %v", fields, want, err)
		}
	}
	two := []takeoff.CasingStyle{{Name: "a"}, {Name: "a"}}
	var fe *measure.FieldError
	if _, err := takeoff.Take(nil, takeoff.Scheme{Casing: casing, CasingStyles: two}, nil); !errors.As(err, &fe) || fe.Field != "casing_styles[1].name" {
		t.Errorf("two with the same name: %v", err)
	}
	if _, err := takeoff.Take(nil, takeoff.Scheme{CasingStyles: two[:1]}, nil); !errors.As(err, &fe) || fe.Field != "casing_styles[0].casing" {
		t.Errorf("no casing: %v", err)
	}
	if _, err := takeoff.Take(nil, takeoff.Scheme{Casing: casing, CasingStyles: make([]takeoff.CasingStyle, 101)}, nil); !errors.As(err, &fe) || fe.Field != "casing_styles" {
		t.Errorf("too many: %v", err)
	}
	// A block so wide that nothing of the leg or the head is left.
	block := takeoff.CasingStyle{Name: "a", Joint: takeoff.CasingBlock, Block: board("block", in, 80*in)}
	if _, err := takeoff.Take(doorWall(takeoff.Opening{At: 56 * in, Width: 32 * in}), takeoff.Scheme{Casing: casing, CasingStyles: []takeoff.CasingStyle{block}}, nil); !errors.As(err, &fe) || fe.Field != "rooms[0].walls[0].openings[0]" {
		t.Errorf("a huge block: %v", err)
	}
	plinth := takeoff.CasingStyle{Name: "a", Plinth: board("plinth", in, 4*in), PlinthHeight: 90 * in}
	if _, err := takeoff.Take(doorWall(takeoff.Opening{At: 56 * in, Width: 32 * in}), takeoff.Scheme{Casing: casing, CasingStyles: []takeoff.CasingStyle{plinth}}, nil); !errors.As(err, &fe) || fe.Field != "casing_styles[0].plinth_height" {
		t.Errorf("a plinth higher than the door: %v", err)
	}
}
