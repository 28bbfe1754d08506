package takeoff_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// fallen is a room of 12 by 8 ft whose floor falls toward the stove in one corner: the line
// is 12 in above the highest corner.
func fallen() takeoff.Room {
	const in, ft = measure.Inch, measure.Foot
	r := rectangle("12ft", "8ft", "12ft", "8ft")
	r.Height = 10 * ft
	r.Walls[0].Floor = scribe.Surface{{At: 0, FromLine: 12 * in}, {At: 4 * ft, FromLine: 97 * in / 8}, {At: 8 * ft, FromLine: 99 * in / 8}, {At: 12 * ft, FromLine: 49 * in / 4}}
	r.Walls[1].Floor = scribe.Surface{{At: 0, FromLine: 49 * in / 4}, {At: 8 * ft, FromLine: 49 * in / 4}}
	r.Walls[2].Floor = scribe.Surface{{At: 0, FromLine: 49 * in / 4}, {At: 12 * ft, FromLine: 12*in + in/8}}
	return r
}

// Derived as for one wall in package scribe: with base of 5 1/4 in on the lowest point, 3/8 in
// below the highest one, the scribes are 3/8, 1/4, 0, 1/8 on the first wall, 1/8 in all along
// the second, 1/8 to 1/4 straight on the third, and on to 3/8 on the fourth.
func TestScribedRoom(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	s := takeoff.Scheme{Base: board("base", 9*in/16, 21*in/4), Shoe: board("shoe", in/2, 3*in/4)}
	s.Base.Symmetry = stock.SymmetryAll
	r := fallen()
	list := take(t, r, s)
	want := map[string][]stock.ScribeMark{
		"N": {{At: 0, Depth: 3 * in / 8}, {At: 4 * ft, Depth: in / 4}, {At: 8 * ft, Depth: 0}, {At: 12 * ft, Depth: in / 8}},
		"E": {{At: 0, Depth: in / 8}, {At: 8 * ft, Depth: in / 8}},
		"S": {{At: 0, Depth: in / 8}, {At: 12 * ft, Depth: in / 4}},
		// Not read: from the corner with S, 1/8 in below the line, to that with N, on it.
		"W": {{At: 0, Depth: in / 4}, {At: 8 * ft, Depth: 3 * in / 8}},
	}
	if got := list.TotalsOf("base").Scribed; got != 40*ft { // all of it
		t.Errorf("%v is scribed", got)
	}
	for _, p := range list.Pieces { // nor is a piece turned that was scribed, even of a flat board
		if p.Symmetry != stock.SymmetryNone {
			t.Errorf("%s may be turned", p.Label)
		}
	}
	slopes := 0
	for _, run := range list.Runs {
		if run.Role == stock.RoleShoe {
			if run.Slope != 0 {
				slopes++
			}
			continue
		}
		if d := cmp.Diff(want[run.Wall], run.Scribe); d != "" || run.Slope != 0 || run.Bottom != 0 {
			t.Errorf("%s: %+v\n%s", run.Wall, run, d)
		}
	}
	if slopes != 3 {
		t.Errorf("%d shoes slope", slopes)
	}
	f := list.Findings
	if len(f) != 1 || f[0].Code != takeoff.FindingFloorLevel || f[0].Severity != takeoff.SeverityAdvice || f[0].Length != 3*in/8 || f[0].Wall != "N" {
		t.Fatalf("%+v", f)
	}
	if want := `the floor is 3/8" higher at 0" of N than at 8' of N, at most 5/16" within 6 ft: more than the 1/4 in per 6 ft that base may follow: set it level, and shoe covers the gap; known by the corners only: W`; f[0].Reason != want {
		t.Errorf("%s\nwant %s", f[0].Reason, want)
	}

	// Level on the highest point the base stands off the floor.
	list, err := takeoff.Take([]takeoff.Room{r}, s, &takeoff.Options{Floor: scribe.FloorShoe})
	if err != nil {
		t.Fatal(err)
	}
	for _, run := range list.Runs {
		if off := map[string]measure.Length{"E": in / 4, "S": in / 4, "W": in / 8}[run.Wall]; run.Role == stock.RoleBase && (run.Bottom != off || run.Scribe != nil || run.Slope != 0) {
			t.Errorf("%+v", run)
		}
	}
	// Followed, it slopes from end to end: 1/4 in down in 12 ft, 1/8 up.
	list, err = takeoff.Take([]takeoff.Room{r}, s, &takeoff.Options{Floor: scribe.FloorFollow})
	if err != nil {
		t.Fatal(err)
	}
	for _, run := range list.Runs {
		want := map[string]float64{"N": -math.Atan(.25/144) * 180 / math.Pi, "S": math.Atan(.125/144) * 180 / math.Pi, "W": math.Atan(.125/96) * 180 / math.Pi}[run.Wall]
		if run.Scribe != nil || run.Bottom != 0 || math.Abs(run.Slope.Degrees()-want) > 1e-7 {
			t.Errorf("%s: %+v", run.Wall, run)
		}
	}
}

// A floor that falls slowly may be followed; if it falls far, a finding says to look at it.
func TestSlowFall(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	for fall, want := range map[measure.Length]string{
		3 * in / 8: `note the floor is 3/8" higher at 0" of N than at 24' of N, at most 3/32" within 6 ft: base may follow it, as up to 1/4 in per 6 ft; known by the corners only: E, W; not read: S`,
		in / 2:     `advice the floor is 1/2" higher at 0" of N than at 24' of N, at most 1/8" within 6 ft: base may follow it, as up to 1/4 in per 6 ft, but is then 1/2" out of level in all, more than 3/8 in: decide between the two; known by the corners only: E, W; not read: S`,
	} {
		r := rectangle("24ft", "8ft", "24ft", "8ft")
		r.Walls[0].Floor = scribe.Surface{{At: 0, FromLine: 30 * in}, {At: 24 * ft, FromLine: 30*in + fall}}
		f := take(t, r, takeoff.Scheme{Base: board("base", in/2, 4*in)}).Findings
		if got := fmt.Sprint(f[0].Severity, " ", f[0].Reason); len(f) != 1 || got != want {
			t.Errorf("%s\nwant %s", got, want)
		}
	}
}

// Base that is not sold high enough, shoe that does not cover, and base that would be cut away
// entirely.
func TestLowBase(t *testing.T) {
	const in = measure.Inch
	r := fallen()
	find := func(s takeoff.Scheme, o takeoff.Options) string {
		t.Helper()
		fs, err := takeoff.Check([]takeoff.Room{r}, s, &o)
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, f := range fs {
			if f.Code == takeoff.FindingBaseHeight || f.Code == takeoff.FindingShoeGap {
				out = append(out, fmt.Sprint(f.Code, " ", f.Severity, " ", f.Length, ": ", f.Reason))
			}
		}
		return strings.Join(out, "\n")
	}
	for _, c := range []struct {
		name string
		s    takeoff.Scheme
		o    takeoff.Options
		want string
	}{
		{"high enough", takeoff.Scheme{Base: board("base", in/2, 3*in/2)}, takeoff.Options{}, ""},
		{"a quarter is too much", takeoff.Scheme{Base: board("base", in/2, 11*in/8)}, takeoff.Options{},
			`base height advice 1/32": scribed by up to 3/8", base base of 1-3/8" keeps 1" where the floor is highest; to keep 1-1/32" it would have to be sold 1-13/32" high`},
		{"as asked", takeoff.Scheme{Base: board("base", in/2, 4*in)}, takeoff.Options{MinBase: 4 * in},
			`base height advice 3/8": scribed by up to 3/8", base base of 4" keeps 3-5/8" where the floor is highest; to keep 4" it would have to be sold 4-3/8" high`},
		{"nothing left", takeoff.Scheme{Base: board("base", in/2, 3*in/8)}, takeoff.Options{},
			`base height doubt 9/32": scribed by up to 3/8", base base of 3/8" keeps 0" where the floor is highest; to keep 9/32" it would have to be sold 21/32" high`},
		{"followed", takeoff.Scheme{Base: board("base", in/2, in)}, takeoff.Options{Floor: scribe.FloorFollow}, ""},
		{"covered", takeoff.Scheme{Base: board("base", in/2, in), Shoe: board("shoe", in/2, 5*in/8)}, takeoff.Options{Floor: scribe.FloorShoe}, ""},
		{"not covered", takeoff.Scheme{Base: board("base", in/2, in), Shoe: board("shoe", in/2, 19*in/32)}, takeoff.Options{Floor: scribe.FloorShoe},
			`shoe gap advice 3/8": base that stands level on the highest point is 3/8" off the floor where it is lowest; shoe shoe of 19/32" has to lap over the base by 1/4 in and does not`},
		{"no shoe", takeoff.Scheme{Base: board("base", in/2, in)}, takeoff.Options{Floor: scribe.FloorShoe},
			`shoe gap advice 3/8": base that stands level on the highest point is 3/8" off the floor where it is lowest; without shoe it shows`},
	} {
		if got := find(c.s, c.o); got != c.want {
			t.Errorf("%s:\n%s\nwant %s", c.name, got, c.want)
		}
	}
	var fe *measure.FieldError
	_, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: board("base", in/2, 3*in/8)}, nil)
	if !errors.As(err, &fe) || fe.Field != "rooms[0].walls[0]" || !errors.As(fe.Err, &fe) || fe.Field != "floor" {
		t.Errorf("%v", err)
	}
}

// The tops of all base that is scribed are at one height above the level line, at every
// mark, however the room is laid out and spliced; splices and lengths are as they would be on
// a level floor.
func TestScribedTopIsLevel(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	rapid.Check(t, func(t *rapid.T) {
		r := rectangle("14ft", "9ft", "14ft", "9ft")
		flat := rectangle("14ft", "9ft", "14ft", "9ft")
		low := measure.Length(0)
		for i := range r.Walls {
			w := &r.Walls[i]
			if rapid.Bool().Draw(t, "outside") && i == 2 { // an open end, to have another corner
				w.Corner.Kind = takeoff.CornerOpen
				flat.Walls[i].Corner = w.Corner
			}
			if rapid.Bool().Draw(t, "door") {
				w.Openings = []takeoff.Opening{{At: measure.Length(rapid.IntRange(2, 48).Draw(t, "at")) * in, Width: 30 * in}}
				flat.Walls[i].Openings = w.Openings
			}
			at := measure.Length(0)
			for at <= w.Length {
				w.Floor = append(w.Floor, scribe.Reading{At: at, FromLine: 10*in + measure.Length(rapid.IntRange(0, 16).Draw(t, "reading"))*in/16})
				low = max(low, w.Floor[len(w.Floor)-1].FromLine)
				at += measure.Length(rapid.IntRange(1, 60).Draw(t, "step")) * in
			}
		}
		base := board("base", 9*in/16, 5*in)
		base.Lengths = []measure.Length{8 * ft, 12 * ft}
		s := takeoff.Scheme{Base: base}
		o := &takeoff.Options{ExactCut: true}
		list, err := takeoff.Take([]takeoff.Room{r}, s, o)
		if err != nil {
			t.Fatal(err)
		}
		level, err := takeoff.Take([]takeoff.Room{flat}, s, o)
		if err != nil {
			t.Fatal(err)
		}
		bare := slices.Clone(list.Pieces)
		for i := range bare {
			bare[i].Notes = nil
		}
		if d := cmp.Diff(level.Pieces, bare); d != "" {
			t.Fatalf("pieces (-level +fallen):\n%s", d)
		}
		walls := map[string]takeoff.Wall{}
		for _, w := range r.Walls {
			walls[w.Name] = w
		}
		for _, run := range list.Runs {
			floor := walls[run.Wall].Floor
			if len(run.Scribe) > 0 && (run.Scribe[0].At != 0 || run.Scribe[len(run.Scribe)-1].At != run.Net) {
				t.Fatalf("%s is scribed from %v to %v", run.Label, run.Scribe[0].At, run.Scribe[len(run.Scribe)-1].At)
			}
			for _, m := range run.Scribe {
				top := base.Width - m.Depth - floor.Line(run.Start+m.At)
				if want := base.Width - low; top-want > 1 || want-top > 1 { // a tick of rounding
					t.Fatalf("%s has its top %v above the line at %v, others %v", run.Label, top, m.At, want)
				}
			}
			if len(run.Scribe) == 0 {
				if near, _ := floor.Extremes(run.Start, run.Start+run.Net); near.FromLine != low {
					t.Fatalf("%s is not scribed where the floor is %v from the line", run.Label, near.FromLine)
				}
			}
		}
	})
}

// Walls that lean make base longer at its top, or shorter: 1/4 in in 48 is .0273 in over
// base of 5 1/4 in (derived in package scribe).
func TestLeaningWalls(t *testing.T) {
	const in = measure.Inch
	r := rectangle("12ft", "8ft", "12ft", "8ft")
	r.Walls[1].Lean = scribe.Lean{Out: in / 4, Over: 48 * in}
	r.Walls[3].Lean = scribe.Lean{Out: -in / 4, Over: 48 * in}
	s := takeoff.Scheme{Base: board("base", 9*in/16, 21*in/4), ChairRail: board("rail", in/2, 2*in)}
	list := take(t, r, s)
	off, err := r.Walls[1].Lean.Offset(21 * in / 4)
	if err != nil || math.Abs(off.Inches()-.0273) > .00005 {
		t.Fatal(off, err)
	}
	for _, run := range list.Runs {
		left, right := run.LeanLeft, run.LeanRight
		longer := measure.Length(0)
		if run.Role == stock.RoleBase {
			switch run.Wall {
			case "N": // from W, which leans in, to E, which leans out
				longer = off
				if left != -off || right != off {
					t.Errorf("%s: %v and %v", run.Label, left, right)
				}
			case "S":
				longer = off
				if left != off || right != -off || run.Reach != off {
					t.Errorf("%s: %v and %v, reach %v", run.Label, left, right, run.Reach)
				}
			}
		} else if left != 0 || right != 0 {
			t.Errorf("%s leans", run.Label)
		}
		sum := measure.Length(0)
		for _, a := range run.Allowances {
			sum += a.Length
		}
		if run.Length != run.Net+longer || sum != run.Length {
			t.Errorf("%s is %v long, its allowances make %v", run.Label, run.Length, sum)
		}
	}
}

// How far a curve leans is not known; a wall beside it ends as if it were plumb.
func TestLeaningBesideCurve(t *testing.T) {
	const in = measure.Inch
	r := roundRoom(60*in, curve.BendConcave)
	for i := range r.Walls {
		r.Walls[i].Lean = scribe.Lean{Out: in, Over: 48 * in}
	}
	list := take(t, r, takeoff.Scheme{Base: board("base", 9*in/16, 5*in)})
	for _, run := range list.Runs {
		beside := run.Wall == "NE"
		if left := beside || run.Wall == "E"; left != (run.LeanLeft == 0) {
			t.Errorf("%s leans %v at the left", run.Label, run.LeanLeft)
		}
		if right := beside || run.Wall == "N"; right != (run.LeanRight == 0) {
			t.Errorf("%s leans %v at the right", run.Label, run.LeanRight)
		}
	}
}

// Ceilings in words, and the choices for the crown. Rolled by 5/16 in it drops 3.64455 + .3125 =
// 3.95705, stands out √(4.625² − 3.95705²) = 2.3942 and springs at acos(3.95705/4.625) = 31.18°
// (derived).
func TestCeilingFindings(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	crown := &stock.Profile{Name: "crown", Thickness: 5 * in / 8, Width: 37 * in / 8}
	for _, c := range []struct {
		dip      measure.Length
		fit      scribe.CeilingFit
		severity takeoff.Severity
		want     string
	}{
		{in / 4, scribe.CeilingFollow, takeoff.SeverityNote, "crown may follow it, as up to 1/4 in per 6 ft"},
		{5 * in / 16, scribe.CeilingFollow, takeoff.SeverityAdvice,
			"more than the 1/4 in per 6 ft that crown may follow; rolled to keep its lower edge level, crown drops about 3-31/32\" there, stands out about 2-13/32\" and springs at 31.2°; keep that drop in the saw"},
		{3 * in / 16, scribe.CeilingLevel, takeoff.SeverityNote, `on a level line crown leaves 3/16" above it, which may be filled`},
		{in / 4, scribe.CeilingLevel, takeoff.SeverityAdvice, `on a level line crown leaves 1/4" above it, more than the 3/16 in that is filled; crown may follow it, as up to 1/4 in per 6 ft`},
		{2 * in, scribe.CeilingRoll, takeoff.SeverityAdvice, `crown crown is too narrow to be rolled so far; on a level line crown leaves 2" above it, more than the 3/16 in that is filled`},
	} {
		r := rectangle("6ft", "8ft", "6ft", "8ft")
		r.Walls[0].Ceiling = scribe.Surface{{At: 0, FromLine: 50 * in}, {At: 6 * ft, FromLine: 50*in + c.dip}}
		s, o := takeoff.Scheme{Crown: crown}, &takeoff.Options{Ceiling: c.fit}
		fs, err := takeoff.Check([]takeoff.Room{r}, s, o)
		if err != nil {
			t.Fatal(err)
		}
		fs = slices.DeleteFunc(fs, func(f takeoff.Finding) bool { return f.Code != takeoff.FindingCeilingLevel })
		if len(fs) != 1 {
			t.Fatalf("%+v", fs)
		}
		f := fs[0]
		if want := ": " + c.want + "; known by the corners only: E, W; not read: S"; f.Code != takeoff.FindingCeilingLevel || f.Severity != c.severity || f.Length != c.dip || !strings.HasSuffix(f.Reason, want) {
			t.Errorf("%v %v %v %s\nwant %s", f.Code, f.Severity, f.Length, f.Reason, want)
		}
		if c.dip > in { // cannot be rolled so far
			continue
		}
		list, err := takeoff.Take([]takeoff.Room{r}, s, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, run := range list.Runs {
			rises := c.fit == scribe.CeilingFollow && run.Wall == "N"
			if rises != (run.Slope > 0) || run.Slope < 0 {
				t.Errorf("%s slopes by %v", run.Label, run.Slope)
			}
		}
	}
}

// Readings in one corner that differ, and a door whose legs will.
func TestReadingsInDoubt(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := fallen()
	r.Walls[1].Floor[0].FromLine += in / 8
	r.Walls[2].Ceiling = scribe.Surface{{At: 12 * ft, FromLine: 90 * in}}
	r.Walls[3].Ceiling = scribe.Surface{{At: 0, FromLine: 91 * in}}
	r.Walls[0].Openings = []takeoff.Opening{{At: 4 * ft, Width: 32 * in}}
	fs, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{Casing: casing(3 * in)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range fs {
		if f.Code == takeoff.FindingCornerReading || f.Code == takeoff.FindingUnevenLegs {
			got = append(got, fmt.Sprint(f.Wall, " ", f.Severity, " ", f.Length, ": ", f.Reason))
		}
	}
	want := []string{
		`N doubt 1/8": in the corner of N and E the floor is 1' 1/4" from the level line on one wall and 1' 3/8" on the other`,
		`S doubt 1": in the corner of S and W the ceiling is 7' 6" from the level line on one wall and 7' 7" on the other`,
		// From 4 ft to 6 ft 8 in of a fall of 1/4 in in 4 ft: 1/6 in.
		`N advice 4.2333375mm: the floor is about 5/32" lower at the right jamb of door: if its head is level, that leg of the casing is so much longer; measure both`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	// 36 + 90 in are 126, and 1/8 in is not worth a finding.
	r.Walls[2].Floor[1].FromLine, r.Walls[2].HeightRight, r.Walls[2].HeightLeft = 36*in, 126*in+in/8, 100*in
	for high, want := range map[measure.Length]string{126*in + in/8: "", 125 * in: `S doubt 1": from the level line down to the floor and up to the ceiling are 10' 6" at the right end of S, and its height there is 10' 5"`} {
		r.Walls[2].HeightRight = high
		fs, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, f := range fs {
			if f.Code == takeoff.FindingHeightReading {
				got += fmt.Sprint(f.Wall, " ", f.Severity, " ", f.Length, ": ", f.Reason)
			}
		}
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	r.Walls[0].Openings[0].RightHeight = 80 * in
	fs, err = takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{Casing: casing(3 * in)}, nil)
	for _, f := range fs {
		if f.Code == takeoff.FindingUnevenLegs || err != nil {
			t.Errorf("%+v, %v", f, err)
		}
	}
}

// Readings in a room file, and their faults.
func TestReadingsInJSON(t *testing.T) {
	r := fallen()
	r.Walls[0].Lean = scribe.Lean{Out: measure.Inch / 4, Over: 4 * measure.Foot}
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var back takeoff.Room
	if err := measure.UnmarshalStrict(text, &back); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(r, back); d != "" {
		t.Error(d)
	}
	r.Walls[0].Floor = scribe.Surface{{At: 0, FromLine: -1}, {At: 13 * measure.Foot}}
	r.Walls[1].Lean.Out = 1
	_, err = takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{}, &takeoff.Options{Floor: 9, Ceiling: 9, ExactCut: true, StraightCut: 1, MinBase: -1})
	var got []string
	for fe := range measure.FieldErrors(err) {
		got = append(got, fe.Field)
	}
	want := []string{"rooms[0].walls[0].floor[0].from_line", "rooms[0].walls[0].floor[1].at", "rooms[0].walls[1].lean.over", "floor", "ceiling", "straight_cut", "min_base"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Crown rolled around a chimney breast, by hand. At the breast's outside corners the ceiling is 5/16 in
// above its lowest point, so the crown stands out 2.3942 in there and not 2.8474 (derived above), and
// an outside miter of 90° adds that projection.
func TestRolledCrown(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	outside := takeoff.Corner{Kind: takeoff.CornerOutside}
	up := func(l, r measure.Length, length measure.Length) scribe.Surface {
		return scribe.Surface{{At: 0, FromLine: 50*in + l}, {At: length, FromLine: 50*in + r}}
	}
	r := takeoff.Room{Name: "teacher's room", Walls: []takeoff.Wall{
		{Name: "left", Length: 4 * ft, Ceiling: up(0, 0, 4*ft)},
		{Name: "side", Length: 14 * in, Corner: outside},
		{Name: "breast", Length: 4 * ft, Corner: outside, Ceiling: up(5*in/16, 5*in/16, 4*ft)},
		{Name: "other side", Length: 14 * in},
		{Name: "right", Length: 4 * ft, Ceiling: up(0, in/8, 4*ft), Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	crown := &stock.Profile{Name: "crown", Thickness: 5 * in / 8, Width: 37 * in / 8}
	list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Crown: crown}, &takeoff.Options{Ceiling: scribe.CeilingRoll})
	if err != nil {
		t.Fatal(err)
	}
	p := *crown
	p.Role = stock.RoleCrown
	roll, err := scribe.NewRoll(p, p.Drop()+5*in/16)
	if err != nil || math.Abs(roll.Projection.Inches()-2.3942) > .00005 {
		t.Fatalf("%+v, %v", roll, err)
	}
	drops := map[string][2]measure.Length{
		"left": {}, "side": {0, roll.Drop}, "breast": {roll.Drop, roll.Drop}, "other side": {roll.Drop, 0}, "right": {0, p.Drop() + in/8},
	}
	for _, run := range list.Runs {
		if got := [2]measure.Length{run.DropLeft, run.DropRight}; got != drops[run.Wall] {
			t.Errorf("%s drops %v, want %v", run.Wall, got, drops[run.Wall])
		}
		if run.Wall == "breast" {
			if off := run.Length - run.Net - 2*roll.Projection; off < -2 || off > 2 || run.Left.Setback-roll.Projection > 1 || roll.Projection-run.Left.Setback > 1 {
				t.Errorf("%+v", run)
			}
		}
	}
	// Too far: by more than the crown is wide less its drop, .98 in.
	r.Walls[2].Ceiling = up(in, in, 4*ft)
	_, err = takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Crown: crown}, &takeoff.Options{Ceiling: scribe.CeilingRoll})
	n := 0
	for fe := range measure.FieldErrors(err) {
		var why *measure.FieldError
		if !errors.As(fe.Err, &why) || why.Field != "ceiling" {
			t.Errorf("%v", fe)
		}
		n++
	}
	if n != 3 { // breast and both sides
		t.Errorf("%v", err)
	}
}

// Around a curved wall in segments each is scribed as the floor lies below it: the depths at
// the ends of all segments lie on one straight line along the arc, as the readings do.
func TestScribedSegments(t *testing.T) {
	const in = measure.Inch
	r := roundRoom(60*in, curve.BendConcave)
	for i, w := range r.Walls {
		if w.Curve == nil {
			continue
		}
		d, err := w.Curve.Arc.Dimensions()
		if err != nil {
			t.Fatal(err)
		}
		r.Walls[i].Floor = scribe.Surface{{At: 0, FromLine: 12 * in}, {At: d.Length, FromLine: 13 * in}}
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: board("base", 9*in/16, 5*in)}, &takeoff.Options{ExactCut: true})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, run := range list.Runs {
			if run.Wall != w.Name {
				continue
			}
			n++
			if len(run.Scribe) != 2 || run.Scribe[0].At != 0 || run.Scribe[1].At != run.Net {
				t.Fatalf("%s: %+v", run.Label, run.Scribe)
			}
			for _, m := range run.Scribe {
				// The segment lies on a part of the arc that is a little longer than it.
				along := run.Start.Inches() + m.At.Inches()/run.Net.Inches()*d.Length.Inches()/float64(segmentsOn(list, w.Name))
				if want := 1 - along/d.Length.Inches(); math.Abs(m.Depth.Inches()-want) > 1e-5 {
					t.Errorf("%s: %v off at %v, want %v", run.Label, m.Depth.Inches(), m.At.Inches(), want)
				}
			}
		}
		if n < 3 {
			t.Errorf("%d segments on %s", n, w.Name)
		}
		r.Walls[i].Floor = nil
	}
}

func segmentsOn(list *takeoff.List, wall string) int {
	n := 0
	for _, run := range list.Runs {
		if run.Wall == wall {
			n++
		}
	}
	return n
}

// At the height of the base the walls of a room are offset by their lean. Their lines are intersected
// here, in rooms with inside, outside and sharp corners: the difference of a wall's length there from
// that at the floor is the lean of its base at both ends.
func TestTopOfLeaningRoom(t *testing.T) {
	const in, deg = measure.Inch, measure.Degree
	rapid.Check(t, func(t *rapid.T) {
		r := rectangle("12ft", "8ft", "12ft", "8ft")
		switch rapid.IntRange(0, 2).Draw(t, "form") {
		case 1: // a parallelogram
			for i, a := range []measure.Angle{80, 100, 80, 100} {
				r.Walls[i].Corner.Angle = a * deg
			}
		case 2: // an L
			r = rectangle("12ft", "8ft", "5ft", "3ft", "7ft", "5ft")
			r.Walls[3].Corner.Kind = takeoff.CornerOutside
		}
		high := measure.Length(rapid.IntRange(4, 20).Draw(t, "high")) * in
		type line struct{ x, y, dx, dy float64 }
		lines := make([]line, len(r.Walls))
		x, y, heading := 0.0, 0.0, 0.0 // clockwise in plan, y downward
		for i := range r.Walls {
			w := &r.Walls[i]
			w.Lean = scribe.Lean{Out: measure.Length(rapid.IntRange(-12, 12).Draw(t, "lean")) * in / 8, Over: 48 * in}
			out := high.Inches() * w.Lean.Out.Inches() / 48
			dx, dy := math.Cos(heading), math.Sin(heading)
			// The left of the direction of travel is away from the room.
			lines[i] = line{x + float64(out*dy), y - float64(out*dx), dx, dy}
			x, y = x+float64(w.Length.Inches()*dx), y+float64(w.Length.Inches()*dy)
			a := 90.0
			if w.Corner.Angle != 0 {
				a = w.Corner.Angle.Degrees()
			}
			if turn := (180 - a) * math.Pi / 180; w.Corner.Kind == takeoff.CornerOutside {
				heading -= turn
			} else {
				heading += turn
			}
		}
		meet := func(a, b line) (x, y float64) {
			det := float64(a.dx*b.dy) - float64(a.dy*b.dx)
			s := (float64((b.x-a.x)*b.dy) - float64((b.y-a.y)*b.dx)) / det
			return a.x + float64(s*a.dx), a.y + float64(s*a.dy)
		}
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: board("base", in/2, high)}, nil)
		if err != nil {
			t.Fatal(err)
		}
		n := len(r.Walls)
		for _, run := range list.Runs {
			i := slices.IndexFunc(r.Walls, func(w takeoff.Wall) bool { return w.Name == run.Wall })
			x0, y0 := meet(lines[(i+n-1)%n], lines[i])
			x1, y1 := meet(lines[i], lines[(i+1)%n])
			top := math.Hypot(x1-x0, y1-y0)
			if got := (r.Walls[i].Length + run.LeanLeft + run.LeanRight).Inches(); math.Abs(got-top) > 1e-5 {
				t.Fatalf("%s is %v long at its top, the wall %v", run.Label, got, top)
			}
			longer := max(0, run.LeanLeft) + max(0, run.LeanRight)
			for _, a := range run.Allowances {
				if strings.HasPrefix(a.Name, "corner out of plumb") {
					longer -= a.Length
				}
			}
			if longer != 0 {
				t.Fatalf("%s: %+v", run.Label, run.Allowances)
			}
		}
	})
}

// Of built-up base only the members that stand on the floor are cut to it; its cap lies on the level
// top, and members that are not run in a room do not affect its height. Everything that hangs from a
// ceiling follows it.
func TestBuiltUpBaseOnFloor(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	member := func(r stock.Role, p *stock.Profile, at measure.Length) takeoff.Member {
		m := takeoff.Member{Profile: *p, At: at}
		m.Profile.Role = r
		return m
	}
	r := fallen()
	r.Walls[0].Ceiling = scribe.Surface{{At: 0, FromLine: 90 * in}, {At: 12 * ft, FromLine: 90*in + in/8}}
	s := takeoff.Scheme{Assemblies: []takeoff.Assembly{
		{Name: "attic base", Rooms: []string{"attic"}, Members: []takeoff.Member{member(stock.RoleBase, board("low", in/2, in/2), 0)}},
		{Name: "tall base", Rooms: []string{"classroom"}, Members: []takeoff.Member{
			member(stock.RoleBase, board("board", 3*in/4, 7*in), 0), member(stock.RoleCap, board("cap", in, in), 7*in),
			member(stock.RoleShoe, board("shoe", in/2, 3*in/4), 0),
		}},
		{Name: "cornice", FromCeiling: true, Members: []takeoff.Member{member(stock.RoleFrieze, board("frieze", 3*in/4, 6*in), 0), member(stock.RoleCrown, board("crown", 5*in/8, 4*in), 0)}},
	}}
	list := take(t, r, s)
	for _, run := range list.Runs {
		if scribed := run.Role == stock.RoleBase; scribed != (len(run.Scribe) > 0) {
			t.Errorf("%s: %+v", run.Label, run.Scribe)
		}
		hangs := run.Role == stock.RoleFrieze || run.Role == stock.RoleCrown
		if rises := hangs && run.Wall == "N"; run.Role != stock.RoleShoe && rises != (run.Slope != 0) || rises && run.Slope < 0 {
			t.Errorf("%s slopes by %v", run.Label, run.Slope)
		}
	}
	for _, f := range list.Findings {
		if f.Code == takeoff.FindingBaseHeight || f.Code == takeoff.FindingFloorLevel && !strings.Contains(f.Reason, "shoe covers the gap") {
			t.Errorf("%+v", f)
		}
	}
}
