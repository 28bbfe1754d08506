package takeoff_test

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

func slopeOf(t testing.TB, rise, run measure.Length) measure.Slope {
	t.Helper()
	s, err := measure.NewSlope(rise, run)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// schoolStair is a stair of 14 risers of 7-1/2 in by 10 in, whose slope is that of a triangle
// of 3, 4 and 5.
func schoolStair() *takeoff.Stair {
	const in = measure.Inch
	return &takeoff.Stair{Flight: stair.Flight{Risers: 14, Rise: 15 * in / 2, Run: 10 * in}, At: 48 * in}
}

func stairWall(s *takeoff.Stair) []takeoff.Room {
	return []takeoff.Room{{Name: "classroom", Walls: []takeoff.Wall{{Name: "W", Length: 20 * measure.Foot, Stair: s, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}}
}

// Derived: at cos 4/5 and tan 3/4 the rake of 13 runs is 162-1/2 in; a board of 9-1/4 in has
// plumb ends 6-15/16 in longer; with a base of 5-1/2 in, joined plumb, its foot lies
// (11.5625 − 5.5)/.75 = 8.0833 in before the first riser on the floor, which is 8.0833·.8
// along the slope. A miter with base of 9-1/4 in turns 18.435°, so that both are
// 9.25·tan 18.435° = 3.0833 in shorter at their upper edges.
func TestStairRuns(t *testing.T) {
	const in = measure.Inch
	run := func(s takeoff.Scheme, st *takeoff.Stair, label string) stock.Run {
		t.Helper()
		list, err := takeoff.Take(stairWall(st), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(list.Runs, func(r stock.Run) bool { return r.Label == "classroom W "+label })
		if i < 0 {
			t.Fatalf("no %s in %+v", label, list.Runs)
		}
		return list.Runs[i]
	}
	about := func(what string, got measure.Length, want float64) {
		t.Helper()
		if math.Abs(got.Inches()-want) > 6e-5 {
			t.Errorf("%s is %v, want %f in", what, got, want)
		}
	}
	wide := board("skirt", 3*in/4, 37*in/4)
	plain := run(takeoff.Scheme{Skirt: wide}, schoolStair(), "skirt")
	if plain.Length != 2711*in/16 || plain.Start != 48*in || plain.Bottom != 0 || plain.Reach != 0 || plain.Role != stock.RoleSkirt {
		t.Errorf("plumb ends: %+v", plain)
	}
	st := schoolStair()
	st.Joint = stair.JointPlumb
	s := takeoff.Scheme{Skirt: wide, Base: board("base", 3*in/4, 11*in/2), Shoe: board("shoe", in/2, in)}
	about("skirt", run(s, st, "skirt").Length, 169.4375+8.0833333*.8)
	if base := run(s, st, "base A"); base.Right != (stock.End{}) {
		t.Errorf("base ends %+v", base.Right)
	} else {
		about("base", base.Length, 48-8.0833333)
	}
	if shoe := run(s, st, "shoe A"); shoe.Length != 48*in {
		t.Errorf("shoe of %v", shoe.Length)
	}
	s.Base = board("base", 3*in/4, 37*in/4)
	base := run(s, schoolStair(), "base A")
	if base.Length != 48*in || base.Right.Kind != stock.EndRake || base.Right.LongPoint() != "lower edge" {
		t.Errorf("mitered base: %+v", base)
	}
	about("the short point", base.Right.Setback, 9.25/3)

	// The chair rail: 14 runs along the slope, 175 in, and the miter or the plumb cut at its
	// head, 2.5·tan 18.435° or 2.5·.75.
	s = takeoff.Scheme{ChairRail: board("rail", in, 5*in/2)}
	about("rail", run(s, schoolStair(), "chair rail rake").Length, 175+2.5*.75)
	st = schoolStair()
	st.Head = 5 * in
	about("rail that goes on", run(s, st, "chair rail rake").Length, 175+2.5/3)
	if level := run(s, st, "chair rail"); level.Length != 38*in || level.Right.Kind != stock.EndRake {
		t.Errorf("rail before the stair: %+v", level)
	}
}

// A long skirt is scarfed on a stud, as the studs lie along the slope.
func TestSkirtIsSplicedOnStuds(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	skirt := board("skirt", 3*in/4, 37*in/4)
	skirt.Lengths = []measure.Length{12 * ft}
	for _, left := range []bool{false, true} {
		st := schoolStair()
		if st.RisesLeft = left; left {
			st.At = 190 * in
		}
		list, err := takeoff.Take(stairWall(st), takeoff.Scheme{Skirt: skirt}, nil)
		if err != nil {
			t.Fatal(err)
		}
		r := list.Runs[0]
		if len(r.Splices) != 1 || len(list.Pieces) != 2 || list.Joints.Scarfs != 1 {
			t.Fatalf("%+v", r)
		}
		// Back on the level: .8 of it, and 16 in apart.
		x := float64((r.Splices[0]-r.Reach).Inches()*.8) + r.Start.Inches()
		if off := math.Abs(x/16 - math.Round(x/16)); off > 1e-4 {
			t.Errorf("spliced %f in from the left end of the wall, %f off a stud", x, off)
		}
	}
	skirt.Lengths = []measure.Length{4 * ft}
	_, err := takeoff.Take(stairWall(schoolStair()), takeoff.Scheme{Skirt: skirt}, &takeoff.Options{Clear: 30 * in, MinPart: 40 * in})
	var se *takeoff.SpliceError
	if !errors.As(err, &se) || se.Run != "classroom W skirt" {
		t.Errorf("%v", err)
	}
}

func TestStairFindings(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	skirt := func(width measure.Length) *stock.Profile { return board("skirt board", 3*in/4, width) }
	base := board("base", 3*in/4, 4*in)
	for _, c := range []struct {
		name   string
		change func(*takeoff.Wall, *takeoff.Scheme)
		want   string // a part of the reason; none if empty
	}{
		{"all is well", func(*takeoff.Wall, *takeoff.Scheme) {}, ""},
		{"narrow", func(w *takeoff.Wall, s *takeoff.Scheme) { w.Stair.Flight.Nosing, s.Skirt = in, skirt(7*in) }, "ends 0.4\" above the nosings; a board that is"},
		{"steep miter", func(w *takeoff.Wall, s *takeoff.Scheme) {
			s.Skirt, s.Base, w.Stair.Joint = skirt(12*in), base, stair.JointBisect
		}, "from square, more than most saws reach; a plumb joint is simpler"},
		{"level cut", func(w *takeoff.Wall, s *takeoff.Scheme) {
			s.Base, w.Stair.Joint = board("base", in/2, 11*in/2), stair.JointPlumb
		}, `bears about 8-3/32" on the floor, cut level`},
		{"notch", func(w *takeoff.Wall, s *takeoff.Scheme) { w.Stair.Head = 37 * in / 4 }, `is notched at its head: 7-1/2" up the last riser, then 10" along the upper floor`},
		{"thick base", func(w *takeoff.Wall, s *takeoff.Scheme) { s.Base = board("base", in, 37*in/4) }, `base is 1/4" thicker than skirt board that it meets`},
		{"high base", func(w *takeoff.Wall, s *takeoff.Scheme) {
			s.Base, w.Stair.Joint = board("base", in, 14*in), stair.JointPlumb
		}, "base stands 2-7/16\" above skirt board at its foot"},
		{"wide skirt", func(w *takeoff.Wall, s *takeoff.Scheme) {
			w.Stair.Joint, w.Stair.Head, s.Skirt = stair.JointPlumb, 3*in, skirt(12*in)
		}, "stands 4-1/2\" above the base at its head"},
		{"door", func(w *takeoff.Wall, s *takeoff.Scheme) { w.Openings = []takeoff.Opening{{At: 3 * ft, Width: 3 * ft}} }, "the stair covers 2' of door"},
		{"window", func(w *takeoff.Wall, s *takeoff.Scheme) {
			w.Openings = []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 10 * ft, Width: 3 * ft, Height: 4 * ft, Sill: 5 * ft}}
		}, "the stair covers 3' of window"},
		{"high window", func(w *takeoff.Wall, s *takeoff.Scheme) {
			w.Openings = []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 5 * ft, Width: 3 * ft, Height: 3 * ft, Sill: 5 * ft}}
		}, ""},
		{"corner on the rake", func(w *takeoff.Wall, s *takeoff.Scheme) {
			w.Corner, w.Length, s.ChairRail = takeoff.Corner{}, 180*in, board("rail", in, 5*in/2)
		}, "cut in three planes at once and does not meet its counterpart; rail needs to be 2\" wide on the rake"},
	} {
		rooms := stairWall(schoolStair())
		rooms[0].Walls = append(rooms[0].Walls, takeoff.Wall{Name: "N", Length: 10 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}})
		s := takeoff.Scheme{Skirt: skirt(37 * in / 4)}
		c.change(&rooms[0].Walls[0], &s)
		list, err := takeoff.Take(rooms, s, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		checked, err := takeoff.Check(rooms, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, fs := range [][]takeoff.Finding{list.Findings, checked} {
			if i == 1 && (c.name == "level cut" || c.name == "notch") { // how it is cut, not a doubt
				c.want = ""
			}
			var reasons []string
			for _, f := range fs {
				if f.Code == takeoff.FindingStairFit {
					reasons = append(reasons, f.Reason)
				}
			}
			if all := strings.Join(reasons, "\n"); c.want == "" && all != "" || !strings.Contains(all, c.want) {
				t.Errorf("%s: %q, want %q", c.name, all, c.want)
			}
		}
	}
}

// At 12 in 12 crown with a spring of 45° has no way around the low corner: doubt, and pieces
// that are cut to the corner.
func TestNoWayUpTheRake(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	room := takeoff.Room{Name: "loft", Height: 5 * ft, Walls: []takeoff.Wall{
		{Name: "S", Length: 10 * ft}, {Name: "W", Length: 6 * ft, Pitch: slopeOf(t, 12, 12), Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
	crown := &stock.Profile{Name: "crown", Thickness: in / 2, Width: 4 * in, Spring: 45 * measure.Degree}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Crown: crown}, nil)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(list.Findings, func(f takeoff.Finding) bool { return f.Code == takeoff.FindingRake })
	if i < 0 {
		t.Fatalf("%+v", list.Findings)
	}
	f := list.Findings[i]
	// It misses by H·√2 + P − H = P·√2 if P and H are equal: 4 in.
	if f.Severity != takeoff.SeverityDoubt || f.Angle != 45*measure.Degree || math.Abs(f.Length.Inches()-4) > 1e-5 || !strings.Contains(f.Reason, "both are cut to the corner") {
		t.Errorf("%+v", f)
	}
	if len(list.Runs) != 2 || list.Runs[1].Slope != 45*measure.Degree || list.Runs[1].Left.Kind != stock.EndPlumb || list.Runs[1].Right.Kind != stock.EndPlumb {
		t.Errorf("%+v", list.Runs)
	}

	// Two rakes in a corner.
	room.Walls[0].Pitch = slopeOf(t, -6, 12)
	list, err = takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Crown: crown}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(list.Findings, func(f takeoff.Finding) bool {
		return f.Code == takeoff.FindingRake && strings.Contains(f.Reason, "two rakes meet")
	}) {
		t.Errorf("%+v", list.Findings)
	}
}

// A return on the rake would have to be of another profile. Derived: at the low end of a slope
// of 3, 4 and 5 that rises from it, crown of 4 in with a spring of 45° meets an outside return
// whose drop is H/cos − P·tan = 2.8284·(1.25 − .75), so that it misses by 1.4142; at the high end
// its drop is 2.8284·2, and it misses by 2.8284.
func TestReturnOnARake(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	open := takeoff.Corner{Kind: takeoff.CornerOpen}
	room := takeoff.Room{Name: "loft", Height: 6 * ft, Walls: []takeoff.Wall{{Name: "W", Length: 8 * ft, Pitch: slopeOf(t, 3, 4), Corner: open, Start: open}}}
	crown := &stock.Profile{Name: "crown", Thickness: in / 2, Width: 4 * in, Spring: 45 * measure.Degree}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Crown: crown}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var miss []float64
	for _, f := range list.Findings {
		if f.Code == takeoff.FindingRake && strings.Contains(f.Reason, "is returned to W on a slope of 36.9") {
			miss = append(miss, f.Length.Inches())
		}
	}
	root := math.Sqrt2
	if len(miss) != 2 || math.Abs(miss[0]-root) > 1e-5 || math.Abs(miss[1]-2*root) > 1e-5 {
		t.Errorf("returns miss by %v: %+v", miss, list.Findings)
	}
}

// A door higher than the low end of a raked wall does not obstruct crown where the ceiling is high, but
// does where it is low.
func TestCrownPassesAboveADoorUnderTheSlope(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	for at, runs := range map[measure.Length]int{1 * ft: 2, 10 * ft: 1} {
		room := takeoff.Room{Name: "loft", Walls: []takeoff.Wall{{
			Name: "W", Length: 14 * ft, HeightLeft: 6 * ft, HeightRight: 11 * ft, Raked: true, Corner: stop,
			Openings: []takeoff.Opening{{At: at, Width: 30 * in, Height: 78 * in}}}}}
		list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Crown: &stock.Profile{Name: "crown", Thickness: in / 2, Width: 4 * in}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(list.Runs) != runs {
			t.Errorf("door at %v: %d runs of crown, want %d", at.About(), len(list.Runs), runs)
		}
	}
}

func TestSlopeFaults(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	for _, c := range []struct {
		field string
		spoil func(*takeoff.Room)
	}{
		{"rooms[0].walls[0].pitch", func(r *takeoff.Room) { r.Walls[0].Pitch = slopeOf(t, 21, 1) }},
		{"rooms[0].walls[0].pitch", func(r *takeoff.Room) { r.Walls[0].Pitch, r.Walls[0].HeightLeft = slopeOf(t, -12, 12), 8*ft }},
		{"rooms[0].walls[0].ceiling", func(r *takeoff.Room) {
			r.Walls[0].Pitch, r.Walls[0].Ceiling = slopeOf(t, 1, 12), scribe.Surface{{}, {At: 10 * ft}}
		}},
		{"rooms[0].walls[0].raked", func(r *takeoff.Room) { r.Walls[0].Raked, r.Walls[0].HeightLeft = true, 8*ft }},
		{"rooms[0].walls[0].height_right", func(r *takeoff.Room) {
			r.Walls[0].Raked, r.Walls[0].Length, r.Walls[0].HeightLeft, r.Walls[0].HeightRight = true, 2*in, in, 9*ft
			r.Walls[0].Stair = nil
		}},
		{"rooms[0].walls[0].stair.flight.risers", func(r *takeoff.Room) { r.Walls[0].Stair.Flight.Risers = 1 }},
		{"rooms[0].walls[0].stair.at", func(r *takeoff.Room) { r.Walls[0].Stair.At = -in }},
		{"rooms[0].walls[0].stair.at", func(r *takeoff.Room) { r.Walls[0].Stair.At = 12 * ft }},
		{"rooms[0].walls[0].stair.at", func(r *takeoff.Room) { r.Walls[0].Stair.RisesLeft = true }},
		{"rooms[0].walls[0].stair.width", func(r *takeoff.Room) { r.Walls[0].Stair.Width = -in }},
		{"rooms[0].walls[0].stair.head", func(r *takeoff.Room) { r.Walls[0].Stair.Head = -in }},
		{"rooms[0].walls[0].stair.joint", func(r *takeoff.Room) { r.Walls[0].Stair.Joint = 9 }},
		{"rooms[0].walls[0].stair.skirts", func(r *takeoff.Room) { r.Walls[0].Stair.Skirts = 3 }},
		{"rooms[0].walls[0]", func(r *takeoff.Room) { r.Walls[0].Stair.Flight.Rise = 30 * in }}, // deeper than the board is wide
	} {
		rooms := stairWall(schoolStair())
		c.spoil(&rooms[0])
		_, err := takeoff.Take(rooms, takeoff.Scheme{Skirt: board("skirt", in, 37*in/4)}, nil)
		var fe *measure.FieldError
		if !errors.As(err, &fe) || fe.Field != c.field || fe.Want == "" {
			t.Errorf("want a fault of %s: %v", c.field, err)
		}
	}
}

// A curved wall has neither.
func TestNoSlopeOnACurve(t *testing.T) {
	rooms := stairWall(schoolStair())
	w := &rooms[0].Walls[0]
	w.Curve, w.Raked, w.Pitch = &takeoff.Curve{}, true, slopeOf(t, 1, 2)
	_, err := takeoff.Take(rooms, takeoff.Scheme{}, nil)
	var got []string
	for f := range measure.FieldErrors(err) {
		if f.Value == "on a curved wall" {
			got = append(got, f.Field)
		}
	}
	if want := []string{"rooms[0].walls[0].pitch", "rooms[0].walls[0].raked", "rooms[0].walls[0].stair"}; !slices.Equal(got, want) {
		t.Errorf("faults of %q, want %q: %v", got, want, err)
	}
}

func TestStairJSON(t *testing.T) {
	const text = `{"name":"classroom","height":"10ft","walls":[{"name":"W","length":"20ft","pitch":"6 in 12","raked":true,"height_left":"8ft","height_right":"18ft",` +
		`"stair":{"flight":{"risers":14,"rise":"7-1/2in","run":"10in","nosing":"1in"},"at":"4ft","rises_left":false,"width":"3ft","head":"5-1/2in","joint":"plumb","skirts":2}}]}`
	var r takeoff.Room
	if err := measure.UnmarshalStrict([]byte(text), &r); err != nil {
		t.Fatal(err)
	}
	want := schoolStair()
	want.Flight.Nosing, want.Width, want.Head, want.Joint, want.Skirts = measure.Inch, 3*measure.Foot, 11*measure.Inch/2, stair.JointPlumb, 2
	if w := r.Walls[0]; !reflect.DeepEqual(w.Stair, want) || w.Pitch != slopeOf(t, 6, 12) || !w.Raked {
		t.Errorf("%+v", w)
	}
	out, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var back takeoff.Room
	if err := json.Unmarshal(out, &back); err != nil || !reflect.DeepEqual(r, back) {
		t.Errorf("%s, %v", out, err)
	}
	if plain, err := json.Marshal(takeoff.Wall{Name: "N", Length: measure.Foot}); err != nil || strings.Contains(string(plain), "stair") || strings.Contains(string(plain), "pitch") {
		t.Errorf("%s, %v", plain, err)
	}
}

// Whatever stair stands in whatever room, the takeoff answers or names the field.
func TestStairsNeverPanic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		any := func(name string) measure.Length {
			return measure.Length(rapid.OneOf(rapid.Int64Range(0, int64(20*measure.Foot)), rapid.Int64(), rapid.SampledFrom([]int64{0, 1, math.MaxInt64, math.MinInt64})).Draw(t, name))
		}
		var room takeoff.Room
		room.Name, room.Height = "r", any("height")
		for i := range rapid.IntRange(1, 4).Draw(t, "walls") {
			w := takeoff.Wall{
				Name: string(rune('A' + i)), Length: any("length"), TopLength: any("top"), HeightLeft: any("left"), HeightRight: any("right"), Raked: rapid.Bool().Draw(t, "raked"),
				Corner: takeoff.Corner{Kind: takeoff.CornerKind(rapid.IntRange(0, 4).Draw(t, "corner")), Angle: measure.Angle(rapid.Int64Range(0, 180).Draw(t, "angle")) * measure.Degree},
			}
			if s, err := measure.NewSlope(any("rise"), any("run")); err == nil && rapid.Bool().Draw(t, "pitch") {
				w.Pitch = s
			}
			if rapid.Bool().Draw(t, "stair") {
				w.Stair = &takeoff.Stair{
					Flight: stair.Flight{Risers: rapid.IntRange(-1, 30).Draw(t, "risers"), Rise: any("rise"), Run: any("run"), Nosing: any("nosing")},
					At:     any("at"), Width: any("width"), Head: any("head"), RisesLeft: rapid.Bool().Draw(t, "left"),
					Joint: stair.Joint(rapid.IntRange(0, 1).Draw(t, "joint")), Skirts: rapid.IntRange(0, 3).Draw(t, "skirts"),
				}
			}
			room.Walls = append(room.Walls, w)
		}
		in := measure.Inch
		s := takeoff.Scheme{
			Base: board("base", in/2, 5*in), Shoe: board("shoe", in/2, in), ChairRail: board("rail", in, 3*in), PictureRail: board("picture", in, 2*in),
			Crown: &stock.Profile{Name: "crown", Thickness: in / 2, Width: 4 * in}, Skirt: board("skirt", in, 10*in),
		}
		list, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		if err != nil {
			n := 0
			for f := range measure.FieldErrors(err) {
				if n++; f.Field == "" || f.Want == "" {
					t.Fatalf("%+v", f)
				}
			}
			if n == 0 {
				t.Fatalf("%T %v", err, err)
			}
		} else {
			for _, p := range list.Pieces {
				var sum measure.Length
				for _, a := range p.Allowances {
					sum += a.Length
				}
				if sum != p.Length || p.Length <= 0 {
					t.Fatalf("%+v", p)
				}
			}
		}
		if _, err := takeoff.Check([]takeoff.Room{room}, s, nil); err != nil {
			for f := range measure.FieldErrors(err) {
				if f.Want == "" {
					t.Fatalf("%+v", f)
				}
			}
		}
	})
}

// Fifty rooms with a stair, a sloped ceiling and all trim.
func BenchmarkStairsAndSlopes(b *testing.B) {
	const in = measure.Inch
	var rooms []takeoff.Room
	for i := range 50 {
		r := loftRoom(b)
		r.Name += " " + string(rune('a'+i%26)) + string(rune('a'+i/26))
		rooms = append(rooms, r)
	}
	s := takeoff.Scheme{
		Base: board("base", in/2, 5*in), Shoe: board("shoe", in/2, in), ChairRail: board("rail", in, 3*in), Casing: board("casing", in, 3*in),
		Crown: &stock.Profile{Name: "crown", Thickness: in / 2, Width: 4 * in}, Skirt: board("skirt", in, 10*in),
	}
	for range b.N {
		if _, err := takeoff.Take(rooms, s, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// loftRoom is a room under a shed roof with a stair up from it.
func loftRoom(t testing.TB) takeoff.Room {
	const ft = measure.Foot
	return takeoff.Room{Name: "loft", Height: 7 * ft, Walls: []takeoff.Wall{
		{Name: "N", Length: 14 * ft, HeightLeft: 12 * ft, HeightRight: 12 * ft, Openings: []takeoff.Opening{{At: 4 * ft, Width: 3 * ft}}},
		{Name: "E", Length: 10 * ft, Pitch: slopeOf(t, -6, 12)},
		{Name: "S", Length: 14 * ft, Stair: &takeoff.Stair{Flight: stair.Flight{Risers: 10, Rise: 15 * measure.Inch / 2, Run: 10 * measure.Inch}, At: 2 * ft}},
		{Name: "W", Length: 10 * ft, HeightLeft: 7 * ft, HeightRight: 12 * ft, Raked: true},
	}}
}

// Backing of crown on a rake lies along it: on a slope of 3, 4 and 5, 120 in of wall are 150 in.
func TestBackingOnARake(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	room := takeoff.Room{Name: "loft", Height: 6 * ft, Walls: []takeoff.Wall{{Name: "W", Length: 10 * ft, Pitch: slopeOf(t, 3, 4), Corner: stop}}}
	for _, block := range []measure.Length{0, 6 * in} {
		s := takeoff.Scheme{Assemblies: []takeoff.Assembly{{Name: "crown", FromCeiling: true, Members: []takeoff.Member{{
			Profile: stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: in / 2, Width: 4 * in},
			Backing: &takeoff.Backing{Profile: stock.Profile{Name: "2x4", Thickness: 3 * in / 2, Width: 7 * in / 2}, HoldBack: 5 * in, BlockLength: block},
		}}}}}
		list, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		var back []stock.Run
		for _, r := range list.Runs {
			if r.Role == stock.RoleBacking {
				back = append(back, r)
			}
		}
		if len(back) == 0 {
			t.Fatalf("%+v", list.Runs)
		}
		first, last := back[0], back[len(back)-1]
		end := last.Start.Inches() + last.Length.Inches()*.8 // on the level
		if first.Start != 4*in || math.Abs(end-116) > 1e-5 || block == 0 && first.Length != 140*in || first.Slope != slopeOf(t, 3, 4).Angle() {
			t.Errorf("backing from %v to %f: %+v", first.Start, end, first)
		}
		// Both ends of the strips are as far below the ceiling.
		for i, r := range back {
			if off := (r.Bottom - first.Bottom).Inches() - (r.Start-first.Start).Inches()*.75; math.Abs(off) > 1e-5 {
				t.Errorf("block %d is %f off the slope", i, off)
			}
		}
	}
}

// Flat trim that hangs from the ceiling goes up the rake, too, at its distance square to the slope; the
// level piece is coped to it, and a finding gives the width that its like would need: 2-1/2·cos of
// 26.565°, 2.2361 in. Crown on a frieze has no rule.
func TestFlatTrimUpTheRake(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Assemblies: []takeoff.Assembly{{Name: "rail", At: 12 * in, FromCeiling: true, Members: []takeoff.Member{
		{Profile: stock.Profile{Name: "picture rail", Role: stock.RolePictureRail, Thickness: 3 * in / 4, Width: 5 * in / 2}},
	}}}}
	room := loftRoom(t)
	room.Walls[2].Stair, room.Walls[0].Openings = nil, nil
	list, err := takeoff.Take([]takeoff.Room{room}, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range list.Runs {
		want, kind := measure.Angle(0), stock.EndCope
		switch r.Wall {
		case "E":
			want, kind = -slopeOf(t, 6, 12).Angle(), stock.EndPlumb
		case "W":
			want, kind = slopeOf(t, 6, 12).Angle(), stock.EndPlumb
		}
		if r.Slope != want || r.Left.Kind != kind || r.Right.Kind != kind {
			t.Errorf("%s: %v, %v, %v, want %v, %v", r.Label, r.Slope, r.Left.Kind, r.Right.Kind, want, kind)
		}
		if r.Wall == "W" { // 14-1/2 in square to the slope below 7 ft
			if off := r.Bottom.Inches() - (84 - 14.5*math.Sqrt(1.25)); math.Abs(off) > 1e-5 {
				t.Errorf("%s begins %v up", r.Label, r.Bottom)
			}
		}
	}
	n := 0
	for _, f := range list.Findings {
		if f.Code == takeoff.FindingRake && strings.Contains(f.Reason, `2-1/2" wide on the level it has to be about 2-1/4" wide on the slope of 26.6`) {
			n++
		}
	}
	if n != 4 || list.Joints.Copes != 4 {
		t.Errorf("%d findings, %d copes: %+v", n, list.Joints.Copes, list.Findings)
	}

	s.Assemblies = []takeoff.Assembly{{Name: "cornice", FromCeiling: true, Members: []takeoff.Member{
		{Profile: stock.Profile{Name: "frieze", Role: stock.RoleFrieze, Thickness: 3 * in / 4, Width: 8 * in}},
		{Profile: stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: in / 2, Width: 4 * in}},
	}}}
	list, err = takeoff.Take([]takeoff.Room{room}, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(list.Findings, func(f takeoff.Finding) bool {
		return f.Code == takeoff.FindingRake && strings.Contains(f.Reason, "crown, which stands off wall or ceiling, cannot turn")
	}) {
		t.Errorf("%+v", list.Findings)
	}
}

// What runs above the floor ends where it meets the upper edge of the skirt, or the line of the
// nosings without one. Derived: the edge is 11.5625 in above the foot of the first riser and
// rises 3 in 4, so that it is 84 in up (84 − 11.5625)/.75 beyond it; the line of the nosings
// begins one riser up. A rail above all of the steps passes.
func TestRailsEndAtAStair(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	for _, c := range []struct {
		skirt *stock.Profile
		at    measure.Length
		left  bool
		want  []float64 // where its runs end, from the first riser the way the flight rises
	}{
		{board("skirt", in, 37*in/4), 84 * in, false, []float64{(84 - 11.5625) / .75}},
		{nil, 84 * in, false, []float64{(84 - 7.5) / .75}},
		{nil, 84 * in, true, []float64{(84 - 7.5) / .75}},
		{nil, 9 * ft, false, nil},
	} {
		st := schoolStair()
		if st.RisesLeft = c.left; c.left {
			st.At = 190 * in
		}
		rooms := stairWall(st)
		list, err := takeoff.Take(rooms, takeoff.Scheme{PictureRail: board("rail", in, 2*in), PictureRailAt: c.at, Skirt: c.skirt}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var ends []float64
		for _, r := range list.Runs {
			if r.Role != stock.RolePictureRail {
				continue
			}
			end := r.Start + r.Net - st.At
			if c.left {
				end = st.At - r.Start
			}
			if x := end.Inches(); x > 0 && x < 130 {
				ends = append(ends, x)
			}
		}
		if len(ends) != len(c.want) || len(ends) > 0 && math.Abs(ends[0]-c.want[0]) > 1e-5 {
			t.Errorf("rail at %v: ends at %v, want %v", c.at, ends, c.want)
		}
	}
}

// Flat trim that is butted is butted to the rake; around an outside corner no rule is known.
func TestOtherCornersOnARake(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	take := func(c takeoff.CornerKind, p stock.Profile) *takeoff.List {
		t.Helper()
		room := takeoff.Room{Name: "loft", Height: 7 * ft, Walls: []takeoff.Wall{
			{Name: "S", Length: 10 * ft, Corner: takeoff.Corner{Kind: c}}, {Name: "W", Length: 8 * ft, Pitch: slopeOf(t, 6, 12), Corner: stop},
		}}
		list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Assemblies: []takeoff.Assembly{{Name: "top", FromCeiling: true, Members: []takeoff.Member{{Profile: p}}}}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	frieze := stock.Profile{Name: "frieze", Role: stock.RoleFrieze, Thickness: 3 * in / 4, Width: 5 * in, Inside: stock.JointButt}
	list := take(takeoff.CornerInside, frieze)
	if r := list.Runs[0]; r.Right.Kind != stock.EndButt || r.Length != 10*ft-3*in/4 || list.Runs[1].Left.Kind != stock.EndPlumb {
		t.Errorf("%+v", list.Runs)
	}
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: in / 2, Width: 4 * in}
	list = take(takeoff.CornerOutside, crown)
	if l, r := list.Runs[0], list.Runs[1]; l.Right.Kind != stock.EndOutsideMiter || r.Left.Kind != stock.EndPlumb {
		t.Errorf("%+v", list.Runs)
	}
	if !slices.ContainsFunc(list.Findings, func(f takeoff.Finding) bool {
		return f.Code == takeoff.FindingRake && f.Severity == takeoff.SeverityDoubt && strings.Contains(f.Reason, "it would end before it begins")
	}) {
		t.Errorf("%+v", list.Findings)
	}
}
