package takeoff_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
)

// A stool is notched from the end of its horn to the jamb, by hand: the horn is 3/16 + 3 +
// 3/4 = 3 15/16 in, and 1/16 in is left free at the sash. With jambs that are extended the
// stool is 3/8 in longer and goes between the jambs all the same.
func TestNotchedStool(t *testing.T) {
	const in = measure.Inch
	o := window()
	o.Sash = &scribe.SashDepths{LeftJamb: 3 * in, LeftHorn: 25 * in / 8, RightJamb: 49 * in / 16}
	s := takeoff.Scheme{Casing: casing(3 * in), Stool: board("stool", in, 5*in)}
	for _, extended := range []bool{false, true} {
		horn := 63 * in / 16
		if extended {
			o.Depths = depths(in, in, in, in)
			s.Extension = pine()
			horn += 3 * in / 16
		}
		list, err := takeoff.Take(doorWall(o), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := []stock.ScribeMark{
			{At: 0, Depth: 49 * in / 16}, {At: horn, Depth: 47 * in / 16}, {At: horn, Depth: 0},
			{At: horn + o.Width, Depth: 0}, {At: horn + o.Width, Depth: 3 * in}, {At: 2*horn + o.Width, Depth: 3 * in},
		}
		n := 0
		for _, r := range list.Runs {
			if r.Role != stock.RoleStool {
				continue
			}
			n++
			if d := cmp.Diff(want, r.Scribe); d != "" || r.Length != 2*horn+o.Width {
				t.Errorf("%v long\n%s", r.Length, d)
			}
		}
		if n != 1 || len(list.Findings) != 0 {
			t.Errorf("%d stools, %+v", n, list.Findings)
		}
	}
	// 3 1/16 to the wall, 3/4 of casing and 3/4 before it: 4 9/16. On 3 13/16 it ends at the casing.
	for width, severity := range map[measure.Length]takeoff.Severity{73 * in / 16: 0, 36 * in / 8: takeoff.SeverityAdvice, 61 * in / 16: takeoff.SeverityDoubt} {
		s.Stool.Width = width
		fs, err := takeoff.Check(doorWall(o), s, nil)
		if err != nil {
			t.Fatal(err)
		}
		lacks := 73*in/16 - width
		if lacks == 0 && len(fs) != 0 || lacks > 0 && (len(fs) != 1 || fs[0].Code != takeoff.FindingStoolWidth || fs[0].Severity != severity || fs[0].Length != lacks) {
			t.Errorf("%v: %+v", width, fs)
		}
	}
	o.Sash.RightJamb = 0
	_, err := takeoff.Take(doorWall(o), s, nil)
	var got []string
	for fe := range measure.FieldErrors(err) {
		got = append(got, fe.Field)
	}
	const opening = "rooms[0].walls[0].openings[0].sash."
	if d := cmp.Diff([]string{opening + "right_jamb", opening + "right_horn"}, got); d != "" {
		t.Error(d)
	}
}

// Two joined windows have one stool, which is notched around the wall between them.
func TestNotchedStoolOfJoinedWindows(t *testing.T) {
	const in = measure.Inch
	left, right := window(), window()
	left.Joined = true
	left.Sash = &scribe.SashDepths{LeftJamb: 3 * in, RightJamb: 25 * in / 8}
	right.At = left.At + left.Width + 3*in
	right.Sash = &scribe.SashDepths{LeftJamb: 13 * in / 4, RightJamb: 27 * in / 8}
	s := takeoff.Scheme{Casing: casing(3 * in), Stool: board("stool", in, 5*in)}
	list, err := takeoff.Take(doorWall(right, left), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	horn := 63 * in / 16
	want := []stock.ScribeMark{
		{At: 0, Depth: 47 * in / 16}, {At: horn, Depth: 47 * in / 16}, {At: horn, Depth: 0},
		{At: horn + 30*in, Depth: 0}, {At: horn + 30*in, Depth: 49 * in / 16}, {At: horn + 33*in, Depth: 51 * in / 16}, {At: horn + 33*in, Depth: 0},
		{At: horn + 63*in, Depth: 0}, {At: horn + 63*in, Depth: 53 * in / 16}, {At: 2*horn + 63*in, Depth: 53 * in / 16},
	}
	stools := 0
	for _, r := range list.Runs {
		if r.Role != stock.RoleStool {
			continue
		}
		stools++
		if d := cmp.Diff(want, r.Scribe); d != "" {
			t.Errorf("%s: %s", r.Label, d)
		}
	}
	if stools != 1 {
		t.Errorf("%d stools", stools)
	}
}
