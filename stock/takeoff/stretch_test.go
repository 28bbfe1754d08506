package takeoff_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/takeoff"
)

// bookRoom is one wall of 20 ft between two stops, with the given things on it.
func bookRoom(stretches []takeoff.Stretch, fixtures ...takeoff.Fixture) []takeoff.Room {
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	return []takeoff.Room{{Name: "book room", Height: 10 * measure.Foot, Walls: []takeoff.Wall{
		{Name: "N", Length: 20 * measure.Foot, Start: stop, Corner: stop, Stretches: stretches, Fixtures: fixtures},
	}}}
}

// Derived: 3/4 - 9/16 = 3/16, chamfered over 3/16·cot 45° = 3/16 or 3/16·cot 15° = .6998. A return
// stays off the casing by 1/8 in. Casing of 3 1/2 in with a reveal of 3/16 in begins 3 11/16 in
// before the jamb.
func TestThickEnds(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4), Casing: board("casing", 9*in/16, 7*in/2)}
	rooms := bookRoom(nil)
	rooms[0].Walls[0].Openings = []takeoff.Opening{{At: 100 * in, Width: 32 * in}}
	for _, c := range []struct {
		how     takeoff.Meet
		angle   measure.Angle
		chamfer float64
		from    measure.Length // where the base right of the door begins
	}{
		{takeoff.MeetSquare, 0, 0, 135*in + 11*in/16}, {takeoff.MeetChamfer, 0, .1875, 135*in + 11*in/16},
		{takeoff.MeetChamfer, 15 * measure.Degree, .6998, 135*in + 11*in/16}, {takeoff.MeetReturn, 0, 0, 135*in + 13*in/16},
	} {
		s.ThickEnd = c.how
		list, err := takeoff.Take(rooms, s, &takeoff.Options{Chamfer: c.angle})
		if err != nil {
			t.Fatal(err)
		}
		if thick := hasCode(list.Findings, takeoff.FindingThickBase); thick != (c.how == takeoff.MeetSquare) {
			t.Errorf("%v: thick base found: %v", c.how, thick)
		}
		if right := list.Runs[1]; right.Start != c.from || right.Net != 240*in-c.from || (right.Left.Kind == stock.EndReturn) != (c.how == takeoff.MeetReturn) {
			t.Errorf("%v: %+v", c.how, right)
		}
		if c.how == takeoff.MeetSquare {
			if len(list.Transitions) != 0 {
				t.Errorf("%+v", list.Transitions)
			}
			continue
		}
		if len(list.Transitions) != 2 {
			t.Fatalf("%v: %+v", c.how, list.Transitions)
		}
		for i, side := range []joint.Side{joint.SideRight, joint.SideLeft} {
			if v := list.Transitions[i]; v.Side != side || v.Meet != c.how || v.Excess != 3*in/16 || !closeTo(v.Chamfer, c.chamfer) || v.Other != "door casing" {
				t.Errorf("%+v", v)
			}
		}
	}
}

// Old casing that stays, measured with its paint at 5/8, is thinner by 1/8 than base of 3/4; if not
// measured, its thickness is unknown.
func TestOldCasing(t *testing.T) {
	const in = measure.Inch
	rooms := bookRoom(nil)
	s := takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4)}
	rooms[0].Walls[0].Openings = []takeoff.Opening{{At: 100 * in, Width: 32 * in, ExistingWidth: 4 * in, ExistingThickness: 5 * in / 8}}
	list, err := takeoff.Take(rooms, s, nil)
	if err != nil || len(list.Findings) != 1 || list.Findings[0].Code != takeoff.FindingThickBase || list.Findings[0].Length != in/8 || list.Findings[0].Wall != "N" {
		t.Errorf("%+v, %v", list, err)
	}
	s.ThickEnd = takeoff.MeetChamfer
	if list, err = takeoff.Take(rooms, s, nil); err != nil || len(list.Findings) != 0 || len(list.Transitions) != 2 || list.Transitions[0].Chamfer != in/8 {
		t.Errorf("%+v, %v", list, err)
	}
	s.ThickEnd, rooms[0].Walls[0].Openings[0].ExistingThickness = takeoff.MeetSquare, 0
	if list, err = takeoff.Take(rooms, s, nil); err != nil || len(list.Findings) != 0 {
		t.Errorf("%+v, %v", list, err)
	}
	rooms[0].Walls[0].Openings[0] = takeoff.Opening{At: 100 * in, Width: 32 * in, ExistingThickness: in}
	if _, err = takeoff.Take(rooms, s, nil); !namesField(err, "rooms[0].walls[0].openings[0].existing_thickness") {
		t.Error(err)
	}
}

// Derived: for 3/4 by 5 1/4 and 9/16 by 3 1/4 a block with reveals of 1/8 is 7/8 thick and 5 3/8
// high.
func TestTransitionBlock(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	old := takeoff.Stretch{
		Name: "old base", At: 8 * ft, Width: 4 * ft, Profile: *board("old", 9*in/16, 13*in/4), Existing: true,
		Left: takeoff.MeetBlock, Right: takeoff.MeetBlock,
	}
	s := takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4), Block: board("block", 7*in/8, 2*in)}
	list, err := takeoff.Take(bookRoom([]takeoff.Stretch{old}), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(list.Transitions) != 2 || len(list.Findings) != 0 {
		t.Fatalf("%+v, %+v", list.Transitions, list.Findings)
	}
	for _, v := range list.Transitions {
		if v.Meet != takeoff.MeetBlock || v.Thickness != 7*in/8 || v.Height != 43*in/8 || v.Excess != 3*in/16 || v.Step != 2*in {
			t.Errorf("%+v", v)
		}
	}
	type place struct{ start, net measure.Length }
	got := map[string]place{}
	for _, r := range list.Runs {
		got[r.Label] = place{r.Start, r.Net}
	}
	want := map[string]place{
		"book room N base A": {0, 94 * in}, "book room N base B": {146 * in, 94 * in},
		"book room N base A block right": {94 * in, 43 * in / 8}, "book room N base B block left": {144 * in, 43 * in / 8},
	}
	if d := gocmp.Diff(want, got, gocmp.AllowUnexported(place{})); d != "" {
		t.Error(d)
	}
	s.Block = board("block", 3*in/4, 2*in) // too thin by the reveal
	if list, err = takeoff.Take(bookRoom([]takeoff.Stretch{old}), s, nil); err != nil || len(list.Findings) != 2 || list.Findings[0].Length != in/8 {
		t.Errorf("%+v, %v", list, err)
	}
}

// A base with a cap ends at old base as a unit: the cap where the base does, at a block higher than
// both, or returned like it. Derived: 4 and 1 1/4 in with a reveal of 1/8 are 5 3/8; the cap stands out
// 7/8.
func TestBuiltUpMeetsOld(t *testing.T) {
	const in = measure.Inch
	member := func(name string, r stock.Role, thickness, width measure.Length) takeoff.Member {
		p := *board(name, thickness, width)
		p.Role = r
		return takeoff.Member{Profile: p}
	}
	base, cap := member("base", stock.RoleBase, 3*in/4, 4*in), member("cap", stock.RoleCap, 7*in/8, 5*in/4)
	cap.At = 4 * in
	s := takeoff.Scheme{Assemblies: []takeoff.Assembly{{Name: "tall base", Members: []takeoff.Member{base, cap, member("shoe", stock.RoleShoe, in/2, 3*in/4)}}}, Block: board("block", in, 2*in)}
	old := takeoff.Stretch{Name: "old base", At: 120 * in, Profile: *board("old", 9*in/16, 3*in), Existing: true, Left: takeoff.MeetBlock}
	for _, how := range []takeoff.Meet{takeoff.MeetBlock, takeoff.MeetReturn} {
		old.Left = how
		list, err := takeoff.Take(bookRoom([]takeoff.Stretch{old}), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		end, ends, members := 118*in, stock.EndSquare, 0
		if how == takeoff.MeetReturn {
			end, ends = 120*in, stock.EndReturn
		}
		for _, r := range list.Runs {
			switch r.Role {
			case stock.RoleBase, stock.RoleCap:
				if members++; r.Start != 0 || r.Net != end || r.Right.Kind != ends {
					t.Errorf("%v: %+v", how, r)
				}
			case stock.RoleBlock:
				if r.Length != 43*in/8 || r.Start != 118*in {
					t.Errorf("block %+v", r)
				}
			}
		}
		if members != 2 || len(list.Transitions) != 1 || list.Transitions[0].Step != 9*in/4 || how == takeoff.MeetBlock && list.Transitions[0].Thickness != in {
			t.Errorf("%v: %d members, %+v", how, members, list.Transitions)
		}
	}
}

// Derived: eight coats of 1.75/1000 in are .014 in, about 1/64, and a groove is .028 narrower. In
// mid-wall the new base is 3/4 - (5/8 + .014) thicker and 5 1/4 - (5 1/4 + .014) lower.
func TestPaint(t *testing.T) {
	const in = measure.Inch
	paint := takeoff.Paint{Coats: 8}
	if paint.Film() != 14*in/1000 || 2*paint.Film() != 28*in/1000 {
		t.Errorf("film %v", paint.Film().Inches())
	}
	old := takeoff.Stretch{Name: "old base", At: 100 * in, Profile: *board("old", 5*in/8, 21*in/4), Existing: true, Paint: paint, Left: takeoff.MeetChamfer}
	list, err := takeoff.Take(bookRoom([]takeoff.Stretch{old}), takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4)}, nil)
	if err != nil || len(list.Transitions) != 1 || len(list.Runs) != 1 {
		t.Fatalf("%+v, %v", list, err)
	}
	if v := list.Transitions[0]; v.Excess != 111*in/1000 || v.Step != -14*in/1000 || v.Chamfer != v.Excess {
		t.Errorf("%+v", v)
	}
	if len(list.Findings) != 1 || list.Findings[0].Code != takeoff.FindingMidWall || list.Findings[0].Length != 111*in/1000 {
		t.Errorf("%+v", list.Findings)
	}
	for _, bad := range []takeoff.Paint{{Coats: -1}, {Coats: 101}, {Coat: -1}, {Coats: 1, Coat: 2 * in}} {
		if bad.Film() != 0 {
			t.Errorf("%+v: %v", bad, bad.Film())
		}
	}
}

// Where two new bases meet, the taller is returned, the lower scribed and the thicker chamfered,
// whichever of them the scheme has.
func TestNewMeetsNew(t *testing.T) {
	const in = measure.Inch
	high, low := board("high", 3*in/4, 7*in), board("low", 9*in/16, 4*in)
	for _, c := range []struct {
		how           takeoff.Meet
		ofHigh, ofLow stock.EndKind
	}{
		{how: takeoff.MeetSquare}, {how: takeoff.MeetReturn, ofHigh: stock.EndReturn}, {how: takeoff.MeetScribe, ofLow: stock.EndScribe}, {how: takeoff.MeetChamfer},
	} {
		for _, swap := range []bool{false, true} {
			scheme, other := high, low
			if swap {
				scheme, other = low, high
			}
			list, err := takeoff.Take(bookRoom([]takeoff.Stretch{{Name: "other", At: 120 * in, Profile: *other, Left: c.how}}), takeoff.Scheme{Base: scheme}, nil)
			if err != nil || len(list.Runs) != 2 {
				t.Fatalf("%+v, %v", list, err)
			}
			main, more := list.Runs[0], list.Runs[1]
			if main.Profile != scheme.Name || more.Profile != other.Name || main.Net != 120*in || more.Net != 120*in || more.Start != 120*in || more.Label != "book room N base of "+other.Name {
				t.Errorf("%v: %+v, %+v", c.how, main, more)
			}
			ends := map[string]stock.EndKind{main.Profile: main.Right.Kind, more.Profile: more.Left.Kind}
			if ends["high"] != c.ofHigh || ends["low"] != c.ofLow {
				t.Errorf("%v, %s in the scheme: ends %v", c.how, scheme.Name, ends)
			}
			var chamfered []string
			for _, v := range list.Transitions {
				if v.Chamfer != 0 {
					chamfered = append(chamfered, v.Run)
				}
			}
			if c.how == takeoff.MeetChamfer {
				want := main.Label
				if swap {
					want = more.Label
				}
				if !slices.Equal(chamfered, []string{want}) {
					t.Errorf("%s in the scheme: chamfered %v, want %s", scheme.Name, chamfered, want)
				}
			}
		}
	}
}

// A profile that changes at a door meets nothing in mid-wall: each dies into its side of the casing,
// and the thicker of them is reported.
func TestChangeAtDoor(t *testing.T) {
	const in = measure.Inch
	rooms := bookRoom([]takeoff.Stretch{{Name: "tall base", At: 116 * in, Profile: *board("tall", in, 7*in)}})
	rooms[0].Walls[0].Openings = []takeoff.Opening{{At: 100 * in, Width: 32 * in, Flush: true}}
	s := takeoff.Scheme{Base: board("base", in/2, 5*in), Casing: board("casing", 3*in/4, 3*in)}
	list, err := takeoff.Take(rooms, s, nil)
	if err != nil || len(list.Runs) != 5 || len(list.Transitions) != 0 {
		t.Fatalf("%+v, %v", list, err)
	}
	if base, tall := list.Runs[0], list.Runs[1]; base.Net != 97*in || tall.Start != 135*in || tall.Net != 105*in || tall.Profile != "tall" {
		t.Errorf("%+v, %+v", base, tall)
	}
	if len(list.Findings) != 1 || list.Findings[0].Code != takeoff.FindingThickBase || list.Findings[0].Length != in/4 || !strings.Contains(list.Findings[0].Reason, "plinth 1-1/8\" thick") {
		t.Errorf("%+v", list.Findings)
	}
}

// A register 4 in high below a base of 5 1/4 leaves 1 1/8 above a notch with 1/8 around: it is
// notched. With 5 in it leaves 1/8: the base stops 1/8 before it on both sides and is returned. An
// outlet's box in the base leaves enough below.
func TestNotches(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4)}
	register := takeoff.Fixture{Name: "register", At: 60 * in, Width: 12 * in, Height: 4 * in, Notch: in / 8}
	list, err := takeoff.Take(bookRoom(nil, register), s, nil)
	if err != nil || len(list.Runs) != 1 || len(list.Notches) != 1 {
		t.Fatalf("%+v, %v", list, err)
	}
	want := takeoff.Notch{Room: "book room", Wall: "N", Run: "book room N base", Fixture: "register", At: 60*in - in/8, Width: 12*in + in/4, Top: 33 * in / 8}
	if list.Notches[0] != want {
		t.Errorf("%+v", list.Notches)
	}
	register.Height = 5 * in
	if list, err = takeoff.Take(bookRoom(nil, register), s, nil); err != nil || len(list.Runs) != 2 || len(list.Notches) != 0 {
		t.Fatalf("%+v, %v", list, err)
	}
	left, right := list.Runs[0], list.Runs[1]
	if left.Net != 60*in-in/8 || right.Start != 72*in+in/8 || left.Right.Kind != stock.EndReturn || right.Left.Kind != stock.EndReturn {
		t.Errorf("%+v, %+v", left, right)
	}
	register.Ends = stock.EndScribe
	if list, err = takeoff.Take(bookRoom(nil, register), s, nil); err != nil || list.Runs[0].Right.Kind != stock.EndScribe {
		t.Errorf("%+v, %v", list, err)
	}
	box := takeoff.Fixture{Name: "outlet", At: 60 * in, Width: 9 * in / 4, Bottom: 3 * in / 2, Height: 5 * in, Notch: in / 8}
	if list, err = takeoff.Take(bookRoom(nil, box), s, nil); err != nil || len(list.Notches) != 1 || list.Notches[0].Bottom != 11*in/8 || list.Notches[0].Top != 41*in/8 {
		t.Errorf("%+v, %v", list, err)
	}
}

// Old base in the corner: the new one on the next wall dies into its face, film and all.
func TestOldBaseInCorner(t *testing.T) {
	const in = measure.Inch
	rooms := bookRoom(nil)
	rooms[0].Walls = []takeoff.Wall{
		{Name: "N", Length: 120 * in, Start: takeoff.Corner{Kind: takeoff.CornerStop}},
		{Name: "E", Length: 90 * in, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Stretches: []takeoff.Stretch{
			{Name: "old base", Profile: *board("old", in, 9*in), Existing: true, Paint: takeoff.Paint{Coats: 4}},
		}},
	}
	list, err := takeoff.Take(rooms, takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4), Shoe: board("shoe", in/2, 3*in/4)}, nil)
	if err != nil || len(list.Runs) != 3 || len(list.Findings) != 0 {
		t.Fatalf("%+v, %v", list, err)
	}
	base, shoe, before := list.Runs[0], list.Runs[1], list.Runs[2]
	if film := 7 * in / 1000; base.Net != 119*in-film || before.Standoff != in+film || before.Label != "book room E shoe before old base" || shoe.Standoff != 3*in/4 {
		t.Errorf("%+v, %+v, %+v", base, shoe, before)
	}
}

// However stretches, fixtures and transitions combine on a wall, new and old trim, blocks and fixtures
// lie side by side in plan: nothing overlaps, and no more is bare than the reveal beside a casing, or a
// reported sliver. Lengths follow from the ends.
func TestStretchesTile(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		s := takeoff.Scheme{
			Base: board("base", length(in/4, in).Draw(t, "thick"), length(3*in, 8*in).Draw(t, "high")), Block: board("block", in, 2*in),
			Casing: board("casing", 9*in/16, 3*in), ThickEnd: rapid.SampledFrom([]takeoff.Meet{takeoff.MeetSquare, takeoff.MeetChamfer, takeoff.MeetReturn}).Draw(t, "thick end"),
		}
		meet := rapid.IntRange(0, 4)
		rooms := bookRoom(nil)
		w := &rooms[0].Walls[0]
		type span struct {
			from, to measure.Length
			what     string
		}
		var spans []span
		for at := length(10*in, 40*in).Draw(t, "first"); ; at += length(10*in, 40*in).Draw(t, "next") {
			width := length(10*in, 40*in).Draw(t, "width")
			if at+width > w.Length-10*in {
				break
			}
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				notch := length(0, in/4).Draw(t, "notch")
				w.Fixtures = append(w.Fixtures, takeoff.Fixture{Name: "register", At: at, Width: width, Height: length(in, 8*in).Draw(t, "height"), Notch: notch})
			case 1:
				w.Openings = append(w.Openings, takeoff.Opening{At: at, Width: width, Flush: true})
			default:
				v := takeoff.Stretch{
					Name: "other", At: at, Width: width, Existing: rapid.Bool().Draw(t, "old"), Left: takeoff.Meet(meet.Draw(t, "left")), Right: takeoff.Meet(meet.Draw(t, "right")),
				}
				v.Profile = *board("other "+letter(len(w.Stretches)), length(in/4, in).Draw(t, "other thick"), length(3*in, 8*in).Draw(t, "other high"))
				if v.Existing {
					v.Paint.Coats = rapid.IntRange(0, 9).Draw(t, "coats")
					spans = append(spans, span{at, at + width, "old"})
				}
				w.Stretches = append(w.Stretches, v)
			}
			at += width
		}
		list, err := takeoff.Take(rooms, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		notched := map[measure.Length]bool{}
		for _, n := range list.Notches {
			notched[n.At] = true
			if n.Top > s.Base.Width && !strings.Contains(n.Run, "other") || n.Bottom != 0 {
				t.Fatalf("%+v", n)
			}
		}
		for _, f := range w.Fixtures {
			if !notched[f.At-f.Notch] && f.Height > 0 {
				spans = append(spans, span{f.At - f.Notch, f.At + f.Width + f.Notch, "register"})
			}
		}
		for _, o := range w.Openings {
			spans = append(spans, span{o.At - 3*in, o.At + o.Width + 3*in, "door"})
		}
		for _, r := range list.Runs {
			switch r.Role {
			case stock.RoleBase:
				spans = append(spans, span{r.Start, r.Start + r.Net, r.Label})
				sum := measure.Length(0)
				for _, a := range r.Allowances {
					sum += a.Length
				}
				if sum != r.Length {
					t.Fatalf("%s: %v, allowances %v", r.Label, r.Length, r.Allowances)
				}
			case stock.RoleBlock:
				spans = append(spans, span{r.Start, r.Start + 2*in, r.Label})
			}
		}
		slices.SortFunc(spans, func(a, b span) int { return int(a.from - b.from) })
		at := measure.Length(0)
		sliver := hasCode(list.Findings, takeoff.FindingSliver)
		for _, v := range append(spans, span{w.Length, w.Length, "end"}) {
			gap := v.from - at
			if gap < 0 || gap != 0 && gap != in/8 && !sliver {
				t.Fatalf("%s begins at %v, where the reach is %v: %+v", v.what, v.from, at, spans)
			}
			at = max(at, v.to)
		}
		for _, v := range list.Transitions {
			if v.Meet == takeoff.MeetChamfer && math.Abs(float64(v.Chamfer)-math.Abs(float64(v.Excess))) > 0 { // at 45°
				t.Fatalf("%+v", v)
			}
			if v.Meet == takeoff.MeetBlock && (v.Thickness < s.Base.Thickness+in/8 || v.Height < s.Base.Width+in/8) {
				t.Fatalf("%+v", v)
			}
		}
	})
}

func letter(i int) string { return string(rune('A' + i)) }

func TestStretchErrors(t *testing.T) {
	const in = measure.Inch
	good := takeoff.Stretch{Name: "old base", At: 60 * in, Width: 30 * in, Profile: *board("old", in, 9*in), Existing: true}
	for _, c := range []struct {
		field string
		spoil func(*takeoff.Stretch, *takeoff.Scheme)
	}{
		{"name", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Name = "" }},
		{"name", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Name = strings.Repeat("x", 2000) }},
		{"role", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Role = stock.RoleCrown }},
		{"at", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.At = -1 }},
		{"at", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.At, v.Width = 240*in, 0 }},
		{"width", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Width = math.MaxInt64 }},
		{"", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Width = 200 * in }},
		{"profile.thickness", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Profile.Thickness = 0 }},
		{"profile.name", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Existing, v.Profile.Name = false, "base" }},
		{"paint", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Existing, v.Paint.Coats = false, 1 }},
		{"paint.coats", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Paint.Coats = -1 }},
		{"left", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Left = 9 }},
		{"right", func(v *takeoff.Stretch, _ *takeoff.Scheme) { v.Right = takeoff.MeetBlock }},
	} {
		v, s := good, takeoff.Scheme{Base: board("base", 3*in/4, 5*in)}
		c.spoil(&v, &s)
		_, err := takeoff.Take(bookRoom([]takeoff.Stretch{v}), s, nil)
		field := strings.TrimSuffix("rooms[0].walls[0].stretches[0]."+c.field, ".")
		if !namesField(err, field) {
			t.Errorf("%s: %v", field, err)
		}
	}
	if _, err := takeoff.Take(bookRoom([]takeoff.Stretch{good, good}), takeoff.Scheme{}, nil); !namesField(err, "rooms[0].walls[0].stretches[1].at") {
		t.Error(err)
	}
	if _, err := takeoff.Take(bookRoom(nil), takeoff.Scheme{ThickEnd: takeoff.MeetBlock}, &takeoff.Options{Chamfer: -1, MeetReveal: -1}); !namesField(err, "thick_end") || !namesField(err, "chamfer") || !namesField(err, "meet_reveal") {
		t.Error(err)
	}
	if _, err := takeoff.Take(bookRoom(nil, takeoff.Fixture{Name: "x", Width: in, Notch: -1}), takeoff.Scheme{}, nil); !namesField(err, "rooms[0].walls[0].fixtures[0].notch") {
		t.Error(err)
	}
	if _, err := takeoff.Meet(9).MarshalText(); err == nil {
		t.Error("an unknown Meet was marshaled")
	}
}

func namesField(err error, field string) bool {
	for e := range measure.FieldErrors(err) {
		if e.Field == field {
			return true
		}
	}
	return false
}

func TestStretchJSON(t *testing.T) {
	text := `{"name":"N","length":"20ft","stretches":[{"name":"old base","role":"base","at":"5ft","profile":{"name":"old","thickness":"1in","width":"9in"},
		"existing":true,"paint":{"coats":8,"coat":"0.002in"},"left":"block","right":"scribe"}],
		"fixtures":[{"name":"register","at":"1ft","width":"1ft","height":"4in","notch":"1/8in"}]}`
	var w, again takeoff.Wall
	if err := measure.UnmarshalStrict([]byte(text), &w); err != nil {
		t.Fatal(err)
	}
	if v := w.Stretches[0]; v.Left != takeoff.MeetBlock || v.Right != takeoff.MeetScribe || v.Paint.Film() != 16*measure.Inch/1000 {
		t.Errorf("%+v", v)
	}
	out, err := json.Marshal(w)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out, &again); err != nil || gocmp.Diff(w, again) != "" {
		t.Errorf("%s: %v %s", out, err, gocmp.Diff(w, again))
	}
	for _, bad := range []string{`{"paint":{"coats":8,"coat":"0in"}}`, `{"left":"glue"}`} {
		var v takeoff.Stretch
		if err := json.Unmarshal([]byte(bad), &v); err == nil {
			t.Errorf("%s is read", bad)
		}
	}
}

// No stretch, notch or arch makes a takeoff panic, on straight walls or curved ones; the result
// explains its lengths and has unique labels.
func TestWildStretches(t *testing.T) {
	const in = measure.Inch
	lists, all := 0, 0
	defer func() {
		if 4*lists < all {
			t.Errorf("only %d of %d rooms could be taken off", lists, all)
		}
	}()
	rapid.Check(t, func(t *rapid.T) {
		mild := rapid.IntRange(0, 3).Draw(t, "mild") > 0
		wild := rapid.SampledFrom([]measure.Length{0, 1, -1, in, 5 * in, measure.Foot, 20 * measure.Foot, 1 << 62, math.MinInt64, math.MaxInt64})
		some := func(name string, lo, hi measure.Length) measure.Length {
			if mild || rapid.IntRange(0, 9).Draw(t, name+" mild") > 0 {
				return length(lo, hi).Draw(t, name)
			}
			return wild.Draw(t, name)
		}
		most := 4
		if !mild {
			most = 5
		}
		r := walls(t, everyCorner...)
		if rapid.Bool().Draw(t, "curved") {
			r.Walls[0].Curve = &takeoff.Curve{Arc: curve.Arc{Radius: 80 * in, Angle: 120 * measure.Degree}, Bend: curve.Bend(rapid.IntRange(0, 1).Draw(t, "bend")), Trim: takeoff.CurveMethod(rapid.IntRange(0, 1).Draw(t, "trim"))}
			r.Walls[0].Openings, r.Walls[0].Fixtures = nil, nil
		}
		s := fullScheme()
		s.Block, s.ThickEnd = board("block", in, 2*in), takeoff.Meet(rapid.IntRange(0, 2).Draw(t, "thick end"))
		for i := range r.Walls {
			w := &r.Walls[i]
			for k := range w.Fixtures {
				w.Fixtures[k].Notch, w.Fixtures[k].Height = some("notch", 0, in), some("height", 0, 50*in)
			}
			for k := range w.Openings {
				if rapid.IntRange(0, 4).Draw(t, "arched") == 0 {
					w.Openings[k].ArchRise = some("rise", in, 6*in)
				}
			}
			at := measure.Length(0)
			for range rapid.IntRange(0, 2).Draw(t, "stretches") {
				at += some("at", 0, 60*in)
				v := takeoff.Stretch{Name: "other", At: at, Width: some("width", in, 60*in), Existing: rapid.Bool().Draw(t, "old")}
				v.Role = rapid.SampledFrom([]stock.Role{stock.RoleBase, stock.RoleChairRail, stock.RolePictureRail}).Draw(t, "use")
				v.Left, v.Right = takeoff.Meet(rapid.IntRange(0, most).Draw(t, "left")), takeoff.Meet(rapid.IntRange(0, most).Draw(t, "right"))
				v.Profile = *board("other "+letter(i)+letter(len(w.Stretches)), some("thick", in/4, 2*in), some("high", in, 8*in))
				if v.Existing {
					v.Paint = takeoff.Paint{Coats: rapid.IntRange(0, 20).Draw(t, "coats")}
				}
				if at += v.Width; mild && at > w.Length {
					break
				}
				w.Stretches = append(w.Stretches, v)
			}
		}
		list, err := takeoff.Take([]takeoff.Room{r}, s, &takeoff.Options{Chamfer: measure.Angle(some("chamfer", 0, 1))})
		all++
		if err != nil {
		}
		if (list == nil) != (err != nil) {
			t.Fatal(list, err)
		}
		if _, err := takeoff.Check([]takeoff.Room{r}, s, nil); err != nil && list != nil {
			t.Fatal(err)
		}
		if _, err := takeoff.CheckTrim([]takeoff.Room{r}, s, takeoff.Conditions{}); err != nil && list != nil {
			t.Fatal(err)
		}
		if list == nil {
			return
		}
		lists++
		labels := map[string]bool{}
		for _, p := range list.Pieces {
			if sum, err := total(p.Allowances); err != nil || sum != p.Length || p.Length <= 0 {
				t.Fatalf("%s: length %v, allowances %v", p.Label, p.Length, p.Allowances)
			}
			if labels[p.Label] {
				t.Fatalf("label %q is used twice", p.Label)
			}
			labels[p.Label] = true
		}
		for _, v := range list.Transitions {
			if !slices.ContainsFunc(list.Runs, func(r stock.Run) bool { return r.Label == v.Run }) {
				t.Fatalf("no run for %+v", v)
			}
		}
	})
}
