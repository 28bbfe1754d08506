package takeoff_test

import (
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func window() takeoff.Opening {
	return takeoff.Opening{Kind: takeoff.OpeningWindow, At: 4 * measure.Foot, Width: 30 * measure.Inch, Height: 60 * measure.Inch, Sill: 28 * measure.Inch}
}

func board(name string, thickness, width measure.Length) *stock.Profile {
	return &stock.Profile{Name: name, Thickness: thickness, Width: width}
}

// A window with stool and apron, by hand: casing of 3 in with a reveal of 3/16 in covers
// 30 + 2·(3/16 + 3) = 36 3/8 in; the stool has a horn of 3/4 in beyond it at either side,
// the legs stand on it: 60 + 3/16 + 3 (derived).
func TestStoolAndApron(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Casing: casing(3 * in), Stool: board("stool", in, 5*in), Apron: board("apron", 3*in/4, 3*in)}
	rooms := doorWall(window())
	list, err := takeoff.Take(rooms, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []cut{
		{"corridor S window stool", `3' 1-7/8"`, stock.EndSquare, stock.EndSquare},
		{"corridor S window apron", `3' 3/8"`, stock.EndSquare, stock.EndSquare},
		{"corridor S window casing leg left", `5' 3-3/16"`, stock.EndSquare, stock.EndFlatMiter},
		{"corridor S window casing leg right", `5' 3-3/16"`, stock.EndFlatMiter, stock.EndSquare},
		{"corridor S window casing head", `3' 3/8"`, stock.EndFlatMiter, stock.EndFlatMiter},
	}
	if d := cmp.Diff(want, cuts(list.Pieces)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if want := (takeoff.Joints{FlatMiters: 2, Butts: 2}); list.Joints != want {
		t.Errorf("%+v", list.Joints)
	}
	list, err = takeoff.Take(rooms, s, &takeoff.Options{ReturnApron: true, Horn: in})
	if err != nil {
		t.Fatal(err)
	}
	if p := list.Pieces[0]; p.Length != measure.MustParse("38-3/8in") {
		t.Errorf("stool %v", p.Length)
	}
	if p := list.Pieces[1]; p.Left.Kind != stock.EndReturn || p.Right.Kind != stock.EndReturn || p.Length != measure.MustParse("36-3/8in") {
		t.Errorf("apron %+v", p)
	}
	if p, q := list.Pieces[2], list.Pieces[3]; p.Length != 3*in/4 || p.Right.Kind != stock.EndReturn || q.Left.Kind != stock.EndReturn || list.Joints.Returns != 2 {
		t.Errorf("returns %+v, %+v", p, q)
	}
	if f := list.Findings; len(f) != 1 || f[0].Code != takeoff.FindingShortReturn {
		t.Errorf("%+v", f)
	}
}

// Parts of a window in the way of a chair rail stop it: the frame, or stool and apron with the horns.
func TestStoolStopsChairRail(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Casing: casing(3 * in), Stool: board("stool", in, 5*in), ChairRail: board("rail", in/2, 2*in), ChairRailAt: 27*in + in/2}
	list, err := takeoff.Take(doorWall(window()), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	// Up to the horn: 48 − 3 3/16 − 3/4.
	if got := list.Pieces[0].Length; got != measure.MustParse("44-1/16in") {
		t.Errorf("rail %v", got)
	}
	s.ChairRailAt = 23 * in // below the stool
	if list, err = takeoff.Take(doorWall(window()), s, nil); err != nil || len(list.PiecesOf("rail")) != 1 {
		t.Errorf("%v, %v", list, err)
	}
	s.Apron = board("apron", in/2, 4*in) // reaches down to 23 in
	if list, err = takeoff.Take(doorWall(window()), s, nil); err != nil || len(list.PiecesOf("rail")) != 2 {
		t.Errorf("%v, %v", list, err)
	}
}

// Plinths and a backband around a door, by hand. The leg is 80 + 3/16 less the plinth of
// 6 in, plus 3 in of casing; base stops at the plinth of 4 in; the backband lies around
// the casing (derived).
func TestPlinthAndBackband(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{
		Base: board("base", in/2, 5*in), Casing: casing(3 * in), Plinth: board("plinth", in, 17*in/4), Backband: board("band", 5*in/4, in),
	}
	list, err := takeoff.Take(doorWall(takeoff.Opening{At: 4 * measure.Foot, Width: 36 * in}), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []cut{
		{"corridor S base A", `3' 7-9/16"`, stock.EndSquare, stock.EndSquare},
		{"corridor S base B", `4' 7-9/16"`, stock.EndSquare, stock.EndSquare},
		{"corridor S door plinth left", `6"`, stock.EndSquare, stock.EndSquare},
		{"corridor S door plinth right", `6"`, stock.EndSquare, stock.EndSquare},
		{"corridor S door casing leg left", `6' 5-3/16"`, stock.EndSquare, stock.EndFlatMiter},
		{"corridor S door casing leg right", `6' 5-3/16"`, stock.EndFlatMiter, stock.EndSquare},
		{"corridor S door casing head", `3' 6-3/8"`, stock.EndFlatMiter, stock.EndFlatMiter},
		{"corridor S door backband leg left", `6' 6-3/16"`, stock.EndSquare, stock.EndFlatMiter},
		{"corridor S door backband leg right", `6' 6-3/16"`, stock.EndFlatMiter, stock.EndSquare},
		{"corridor S door backband head", `3' 8-3/8"`, stock.EndFlatMiter, stock.EndFlatMiter},
	}
	if d := cmp.Diff(want, cuts(list.Pieces)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if want := (takeoff.Joints{FlatMiters: 4, Butts: 2, Stops: 4}); list.Joints != want {
		t.Errorf("%+v", list.Joints)
	}
	for _, p := range list.Pieces {
		if sum, err := total(p.Allowances); err != nil || sum != p.Length {
			t.Errorf("%s: allowances make %v", p.Label, sum)
		}
	}
	s.PlinthHeight = 81 * in
	_, err = takeoff.Take(doorWall(takeoff.Opening{At: 4 * measure.Foot, Width: 36 * in}), s, nil)
	var fe *measure.FieldError
	if !errors.As(err, &fe) || fe.Field != "plinth_height" {
		t.Errorf("%v", err)
	}
}

// Trim beside a door ends at the outer edge of the part at its height: base at the plinth, at the wider
// of plinth and casing if it is higher than the plinth, a rail at the casing.
func TestTrimGoesToWhatStandsAtItsHeight(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		quarter := func(least, most int, label string) measure.Length {
			return measure.Length(rapid.IntRange(4*least, 4*most).Draw(t, label)) * in / 4
		}
		plinth, wide, high, tall := quarter(2, 6, "plinth"), quarter(2, 5, "casing"), quarter(3, 10, "plinth height"), quarter(3, 10, "base")
		s := takeoff.Scheme{
			Base: board("base", in/2, tall), ChairRail: board("rail", in/2, 2*in),
			Casing: casing(wide), Plinth: board("plinth", in, plinth), PlinthHeight: high,
		}
		list, err := takeoff.Take(doorWall(takeoff.Opening{At: 4 * measure.Foot, Width: 36 * in}), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		beside := plinth
		if tall > high {
			beside = max(plinth, wide)
		}
		for profile, want := range map[string]measure.Length{"base": beside, "rail": wide} {
			if got := list.PiecesOf(profile)[0].Length; got != 4*measure.Foot-3*in/16-want {
				t.Errorf("%s of %v, want it to end %v from the reveal", profile, got, want)
			}
		}
	})
}

// A door of 32 by 80 in with a reveal of 3/16 and casing of 3 1/2: a rabbeted backband of
// 1 1/8 that laps by 1/4 makes the head 41 1/8 and the legs 84 9/16, a butted one of 1/2
// 40 3/8 and 84 3/16; base on either side of the door in the middle of 144 in is 51 7/16
// with the first (all derived).
func TestBackband(t *testing.T) {
	const in = measure.Inch
	door := []takeoff.Room{{Name: "room", Walls: []takeoff.Wall{stretch("N", 144*in, takeoff.Opening{At: 56 * in, Width: 32 * in})}}}
	s := takeoff.Scheme{Base: board("base", in/2, 5*in), Casing: casing(7 * in / 2), Backband: board("band", 5*in/4, 9*in/8), BackbandLap: in / 4}
	list, err := takeoff.Take(door, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	band, sides := list.PiecesOf("band"), list.PiecesOf("base")
	for i, want := range []string{"84-9/16in", "84-9/16in", "41-1/8in"} {
		if l := measure.MustParse(want); band[i].Length != l {
			t.Errorf("%s is %v, want %v", band[i].Label, band[i].Length, l)
		}
	}
	if l := measure.MustParse("51-7/16in"); sides[0].Length != l || sides[1].Length != l {
		t.Errorf("base %v and %v", sides[0].Length, sides[1].Length)
	}
	s.Backband, s.BackbandLap = board("band", 5*in/4, in/2), 0
	if list, err = takeoff.Take(door, s, nil); err != nil {
		t.Fatal(err)
	}
	band = list.PiecesOf("band")
	if band[0].Length != measure.MustParse("84-3/16in") || band[2].Length != measure.MustParse("40-3/8in") {
		t.Errorf("%v, %v", band[0].Length, band[2].Length)
	}
}

// Base dies into the backband's outer edge; the inner edge is on the casing, as far from its edge as it
// laps; an impossible lap is rejected.
func TestBackbandLap(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		s := takeoff.Scheme{
			Base:        board("base", in/2, 5*in),
			Casing:      casing(length(2*in, 5*in).Draw(t, "casing")),
			Backband:    board("band", 5*in/4, length(in/2, 6*in).Draw(t, "backband")),
			BackbandLap: length(0, 6*in).Draw(t, "lap"),
		}
		wide := length(24*in, 40*in).Draw(t, "door")
		room := takeoff.Room{Name: "room", Walls: []takeoff.Wall{stretch("N", 144*in, takeoff.Opening{At: 48 * in, Width: wide})}}
		list, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		var fe *measure.FieldError
		if bad := s.BackbandLap >= s.Backband.Width || s.BackbandLap > s.Casing.Width; bad || err != nil {
			if !bad || !errors.As(err, &fe) || fe.Field != "backband_lap" {
				t.Fatal(err)
			}
			return
		}
		head := list.PiecesOf("band")[2]
		sides := list.PiecesOf("base")
		if outer := 144*in - sides[0].Length - sides[1].Length; head.Length != outer {
			t.Fatalf("the head is %v, base leaves %v", head.Length, outer)
		}
		inner := head.Length - head.Left.Setback - head.Right.Setback
		if want := list.PiecesOf("casing")[2].Length - 2*s.BackbandLap; inner != want {
			t.Fatalf("the head is %v within, want %v", inner, want)
		}
		if sum, err := total(head.Allowances); err != nil || sum != head.Length {
			t.Fatalf("allowances make %v of %v", sum, head.Length)
		}
	})
	var fe *measure.FieldError
	if _, err := takeoff.Take(nil, takeoff.Scheme{Casing: casing(3 * in), BackbandLap: in}, nil); !errors.As(err, &fe) || fe.Field != "backband_lap" {
		t.Errorf("%v", err)
	}
}

// An opening that is out of square gets legs and a head of different lengths.
func TestOpeningMeasuredTwice(t *testing.T) {
	const in = measure.Inch
	o := takeoff.Opening{At: 3 * measure.Foot, Width: 36 * in, TopWidth: 36*in + in/2, Height: 80 * in, RightHeight: 80*in - 3*in/8}
	list, err := takeoff.Take(doorWall(o), takeoff.Scheme{Casing: casing(3 * in)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"83-3/16in", "82-13/16in", "42-7/8in"} {
		if list.Pieces[i].Length != measure.MustParse(want) {
			t.Errorf("%s is %v, want %s", list.Pieces[i].Label, list.Pieces[i].Length, want)
		}
	}
	fs, err := takeoff.Check(doorWall(o), takeoff.Scheme{}, nil)
	if err != nil || len(fs) != 2 || fs[0].Code != takeoff.FindingOutOfSquare || fs[0].Length != in/2 || fs[1].Length != 3*in/8 {
		t.Errorf("%+v, %v", fs, err)
	}
}

// A leaning wall is longer at the ceiling: a rail gets a length in between, in proportion to its
// height, and a floor out of level is noted.
func TestWallMeasuredTwice(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := square()
	r.Height = 8 * ft
	r.Walls[0].TopLength = 10*ft + in
	r.Walls[1].HeightLeft = 8*ft - in/2
	s := takeoff.Scheme{
		Base: board("base", in/2, 5*in), ChairRail: board("rail", in/2, 2*in), ChairRailAt: 24 * in,
		Crown: &stock.Profile{Name: "crown", Thickness: in / 2, Width: 3 * in},
	}
	for _, run := range take(t, r, s).Runs {
		want := 10 * ft
		if run.Wall == "N" {
			want += map[stock.Role]measure.Length{stock.RoleChairRail: in / 4, stock.RoleCrown: in}[run.Role]
		}
		if run.Net != want {
			t.Errorf("%s covers %v, want %v", run.Label, run.Net, want)
		}
	}
	var ks []takeoff.FindingCode
	for _, f := range find(t, r, s) {
		if f.Code != takeoff.FindingClosure {
			ks = append(ks, f.Code)
		}
	}
	if d := cmp.Diff([]takeoff.FindingCode{takeoff.FindingTopBottom, takeoff.FindingOutOfLevel}, ks); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}
