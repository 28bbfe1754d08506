package takeoff_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

func find(t rapid.TB, r takeoff.Room, s takeoff.Scheme) []takeoff.Finding {
	t.Helper()
	fs, err := takeoff.Check([]takeoff.Room{r}, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return fs
}

func kinds(fs []takeoff.Finding) (ks []takeoff.FindingCode) {
	for _, f := range fs {
		ks = append(ks, f.Code)
	}
	return ks
}

// rectangle returns a room with walls of the given lengths, all corners square.
func rectangle(ls ...string) takeoff.Room {
	r := takeoff.Room{Name: "classroom"}
	for i, l := range ls {
		r.Walls = append(r.Walls, takeoff.Wall{Name: string("NESWABCD"[i]), Length: measure.MustParse(l)})
	}
	return r
}

func TestClosureFindings(t *testing.T) {
	for _, c := range []struct {
		name     string
		room     takeoff.Room
		kinds    []takeoff.FindingCode
		severity takeoff.Severity
		length   string
		suspects []string
	}{
		{"closes", rectangle("24ft", "18ft", "24ft", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure}, takeoff.SeverityNote, "0in", nil},
		{"closes as well as a tape can tell", rectangle("24ft", "18ft", "24ft 1/8in", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure}, takeoff.SeverityNote, "1/8in", nil},
		{"missed inch", rectangle("24ft", "18ft", "24ft 1in", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingOpposite, takeoff.FindingMissedInch}, takeoff.SeverityDoubt, "1in", []string{"S", "N"}},
		{"missed inch and a sixteenth", rectangle("24ft", "18ft 1-1/16in", "24ft", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingOpposite, takeoff.FindingMissedInch}, takeoff.SeverityDoubt, "1-1/16in", []string{"E", "W"}},
		{"missed foot", rectangle("24ft", "18ft", "23ft", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingOpposite, takeoff.FindingMissedFoot}, takeoff.SeverityDoubt, "12in", []string{"N", "S"}},
		// Each of the two is the other with two digits swapped: one cannot tell which.
		{"swapped digits", rectangle("141-1/2in", "18ft", "114-1/2in", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingOpposite, takeoff.FindingSwappedDigits}, takeoff.SeverityDoubt, "27in", []string{"N", "S"}},
		{"swapped digits of feet", rectangle("14ft", "18ft", "41ft", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingOpposite, takeoff.FindingSwappedDigits}, takeoff.SeverityDoubt, "27ft", []string{"S", "N"}},
		{"neither", rectangle("24ft", "18ft", "23ft 7in", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingOpposite}, takeoff.SeverityDoubt, "5in", []string{"N", "S"}},
		{"two walls", rectangle("24ft", "18ft 4in", "24ft 3in", "18ft"),
			[]takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingOpposite, takeoff.FindingOpposite}, takeoff.SeverityDoubt, "5in", nil},
	} {
		fs := find(t, c.room, takeoff.Scheme{})
		if !slices.Equal(kinds(fs), c.kinds) {
			t.Errorf("%s: %v, want %v", c.name, kinds(fs), c.kinds)
			continue
		}
		if f := fs[0]; f.Severity != c.severity || f.Length != measure.MustParse(c.length) || !slices.Equal(f.Suspects, c.suspects) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// In an L one wall of three has digits that can be swapped.
func TestSwappedDigitsAreNamed(t *testing.T) {
	r := rectangle("260-1/2in", "15ft", "141-1/2in", "6ft", "146in", "9ft")
	r.Walls[3].Corner.Kind = takeoff.CornerOutside
	named := func(f takeoff.Finding) bool {
		return f.Code == takeoff.FindingSwappedDigits && f.Wall == "S" && f.Instead == measure.MustParse("114-1/2in")
	}
	if fs := find(t, r, takeoff.Scheme{}); fs[0].Wall != "S" || !slices.ContainsFunc(fs, named) {
		t.Errorf("%+v", fs)
	}
	for i, l := range []string{"22ft", "15ft", "41ft", "6ft", "8ft", "9ft"} { // 41 for 14
		r.Walls[i].Length = measure.MustParse(l)
	}
	named = func(f takeoff.Finding) bool {
		return f.Code == takeoff.FindingSwappedDigits && f.Wall == "S" && f.Instead == 14*measure.Foot
	}
	if fs := find(t, r, takeoff.Scheme{}); fs[0].Wall != "S" || !slices.ContainsFunc(fs, named) {
		t.Errorf("%+v", fs)
	}
}

// Digits are swapped as they are written on the tape that was read: 22 ft 6 in is 6,858 mm, which
// nobody who reads inches writes as 6,885, and 4,115 mm is next to 162 in.
func TestSwappedDigitsAreThoseOfTheTape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		metric := rapid.Bool().Draw(t, "metric")
		unit, least := measure.Inch/16, 60*16
		if metric {
			unit, least = measure.Millimeter, 1500
		}
		side := rapid.IntRange(least, 6*least)
		a, b := measure.Length(side.Draw(t, "a"))*unit, measure.Length(side.Draw(t, "b"))*unit
		if !metric {
			a = a.Round(6*measure.Inch, measure.RoundHalfEven) // often a whole number of millimeters too
		} else if a%(measure.Inch/64) == 0 && b%(measure.Inch/64) == 0 {
			t.Skip("either tape")
		}
		r := takeoff.Room{Name: "room"}
		for i, l := range []measure.Length{a, b, a, b} {
			r.Walls = append(r.Walls, takeoff.Wall{Name: string("NESW"[i]), Length: l})
		}
		r.Walls[2].Length += measure.Length(rapid.IntRange(8, 400).Draw(t, "wrong by")) * unit
		for _, f := range find(t, r, takeoff.Scheme{}) {
			if f.Code == takeoff.FindingSwappedDigits && !metric && strings.Contains(f.Reason, "mm") {
				t.Fatalf("%+v", f)
			}
			if f.Code == takeoff.FindingSwappedDigits && metric && f.Length%(9*measure.Millimeter) != 0 {
				t.Fatalf("%+v", f)
			}
		}
	})
}

// Of two pairs of opposite walls only the one that explains why the room does not close is
// in doubt. Corners that were measured out of square make the other differ as well.
func TestOppositeWallsInDoubt(t *testing.T) {
	r := rectangle("144in", "120in", "144in", "122in") // a south wall that leans by 0.8°
	for i, a := range []string{"90", "90.8", "89.2", "90"} {
		if err := r.Walls[i].Corner.UnmarshalText([]byte("inside " + a)); err != nil {
			t.Fatal(err)
		}
	}
	severities := func() (out []takeoff.Severity) {
		for _, f := range find(t, r, takeoff.Scheme{}) {
			if f.Code == takeoff.FindingOpposite {
				out = append(out, f.Severity)
			}
		}
		return out
	}
	if got := severities(); !slices.Equal(got, []takeoff.Severity{takeoff.SeverityNote}) {
		t.Errorf("as measured: %v", got)
	}
	r.Walls[0].Length += measure.Foot
	if got := severities(); !slices.Equal(got, []takeoff.Severity{takeoff.SeverityDoubt, takeoff.SeverityNote}) {
		t.Errorf("a foot off: %v", got)
	}
}

func TestAngleFindings(t *testing.T) {
	// Six square inside corners cannot be: one of an L has to be outside.
	l := rectangle("20ft", "10ft", "8ft", "5ft", "12ft", "15ft")
	fs := find(t, l, takeoff.Scheme{})
	if len(fs) != 1 || fs[0].Code != takeoff.FindingAngleSum || fs[0].Severity != takeoff.SeverityDoubt || fs[0].Angle != 180*measure.Degree {
		t.Errorf("%+v", fs)
	}
	l.Walls[2].Corner.Kind = takeoff.CornerOutside
	if fs = find(t, l, takeoff.Scheme{}); len(fs) != 1 || fs[0].Code != takeoff.FindingClosure || fs[0].Length != 0 {
		t.Errorf("%+v", fs)
	}
	// A corner read as 91° is distributed; the walls then close to within the allowance for oblique
	// corners.
	r := rectangle("12ft", "10ft", "12ft", "10ft")
	r.Walls[0].Corner.Angle = 91 * measure.Degree
	fs = find(t, r, takeoff.Scheme{})
	if !slices.Equal(kinds(fs), []takeoff.FindingCode{takeoff.FindingClosure, takeoff.FindingAngleSum, takeoff.FindingWeakCheck}) || fs[1].Angle != -measure.Degree || fs[1].Severity != takeoff.SeverityAdvice {
		t.Errorf("%+v", fs)
	}
	// A chain that ends open has nothing to close.
	r.Walls[3].Corner.Kind = takeoff.CornerOpen
	if fs = find(t, r, takeoff.Scheme{}); len(fs) != 0 {
		t.Errorf("%+v", fs)
	}
}

func TestFittingFindings(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	scheme := takeoff.Scheme{
		Casing: casing(7 * in / 2),
		Crown:  &stock.Profile{Name: "crown", Thickness: 11 * in / 16, Width: 4 * in, Spring: 30 * measure.Degree},
	}
	r := rectangle("24ft", "18ft", "24ft", "18ft")
	r.Height = 8 * ft
	r.Walls[1].TopLength = 18*ft - in
	r.Walls[2].Openings = []takeoff.Opening{
		{Name: "left", At: 3 * in, Width: 3 * ft},                        // casing 11/16 in too wide for the corner
		{Name: "right", At: 3*ft + 9*in, Width: 3 * ft},                  // and 1 3/8 in too wide for the other
		{Name: "tall", At: 12 * ft, Width: 3 * ft, Height: 8*ft - in},    // casing into the ceiling
		{Name: "taller", At: 18 * ft, Width: 3 * ft, Height: 9 * ft},     // beyond it
		{Name: "transom", At: 22 * ft, Width: 1 * ft, Height: 89*in + 0}, // casing into the crown
	}
	r.Walls[2].Fixtures = []takeoff.Fixture{{Name: "bench", At: 4 * ft, Width: ft}}
	var got []string
	for _, f := range find(t, r, scheme) {
		if f.Code != takeoff.FindingClosure {
			got = append(got, string(f.Code)+" "+f.Wall+" "+f.Length.Round(in/16, measure.RoundHalfEven).String())
		}
	}
	want := []string{
		`top and bottom E 1"`,
		`casing fit S 11/16"`, `casing fit S 1-3/8"`, `casing fit S 2-11/16"`,
		`opening fit S 1'`, `opening fit S 1'`,
		`high crown S 1/8"`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

// convex returns a closed room whose corners lie on an ellipse, so that it is closed
// up to the rounding of its walls and angles.
func convex(t *rapid.T) takeoff.Room {
	n := rapid.IntRange(3, 9).Draw(t, "walls")
	a, b := rapid.Float64Range(60, 600).Draw(t, "a"), rapid.Float64Range(60, 600).Draw(t, "b")
	at := make([]float64, n)
	for i := range at { // spread around, so that no wall vanishes
		at[i] = 2 * math.Pi * (float64(i) + rapid.Float64Range(0, .7).Draw(t, "spread")) / float64(n)
	}
	point := func(i int) (x, y float64) {
		p := at[(i+n)%n]
		return a * math.Cos(p), b * math.Sin(p)
	}
	r := takeoff.Room{Name: "bay"}
	for i := range n {
		x0, y0 := point(i)
		x1, y1 := point(i + 1)
		x2, y2 := point(i + 2)
		turn := math.Atan2(y2-y1, x2-x1) - math.Atan2(y1-y0, x1-x0)
		for turn < 0 {
			turn += 2 * math.Pi
		}
		l, err := measure.FromInches(math.Hypot(x1-x0, y1-y0))
		if err != nil {
			t.Fatal(err)
		}
		corner, err := measure.FromDegrees(180 - turn*180/math.Pi)
		if err != nil {
			t.Fatal(err)
		}
		r.Walls = append(r.Walls, takeoff.Wall{Name: string(rune('A' + i)), Length: l, Corner: takeoff.Corner{Angle: corner}})
	}
	return r
}

// An angle is off by half a microarcsecond and a wall by half a tick: over nine walls of
// a thousand inches together, less than a hundred ticks.
const rounding = 100

func TestConstructedRoomCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := convex(t)
		got, err := r.Traverse()
		if err != nil {
			t.Fatal(err)
		}
		if !got.Closed || got.Misclosure > rounding || got.Turn < -rounding || got.Turn > rounding {
			t.Fatalf("%+v", got)
		}
		// One wall wrong by e: the error is e and, if it is more than careful readings
		// may add up to, that wall is among the suspects.
		i := rapid.IntRange(0, len(r.Walls)-1).Draw(t, "wrong wall")
		e := measure.Length(rapid.Int64Range(int64(measure.Inch), int64(3*measure.Foot)).Draw(t, "wrong by"))
		r.Walls[i].Length += e
		wrong, err := r.Traverse()
		if err != nil {
			t.Fatal(err)
		}
		if d := wrong.Misclosure - e; d < -rounding || d > rounding {
			t.Fatalf("error %v, want %v", wrong.Misclosure, e)
		}
		fs, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range fs {
			if f.Code == takeoff.FindingClosure && (wrong.Misclosure <= wrong.Tolerance) == (f.Severity == takeoff.SeverityNote) &&
				(f.Severity == takeoff.SeverityNote || slices.Contains(f.Suspects, r.Walls[i].Name)) {
				return
			}
		}
		t.Fatalf("%s is not suspected in %+v of %+v", r.Walls[i].Name, fs, wrong)
	})
}

func TestRegularPolygonCloses(t *testing.T) {
	for n := 3; n <= 12; n++ {
		corner, err := joint.PolygonCorner(n)
		if err != nil {
			t.Fatal(err)
		}
		r := takeoff.Room{Name: "bay"}
		for i := range n {
			r.Walls = append(r.Walls, takeoff.Wall{Name: string(rune('A' + i)), Length: 4 * measure.Foot, Corner: takeoff.Corner{Angle: corner}})
		}
		if got, err := r.Traverse(); err != nil || !got.Closed || got.Misclosure > rounding {
			t.Errorf("%d sides: %+v, %v", n, got, err)
		}
	}
}

// With square corners the error is exact to the tick.
func TestSquareRoomsCloseExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Int64Range(1, int64(500*measure.Foot))
		a, b := measure.Length(l.Draw(t, "a")), measure.Length(l.Draw(t, "b"))
		c, d := measure.Length(l.Draw(t, "c")), measure.Length(l.Draw(t, "d"))
		// An L: east a+c, south b+d, west c, north d (outside corner), west a, north b.
		r := takeoff.Room{Name: "cloakroom"}
		for i, l := range []measure.Length{a + c, b + d, c, d, a, b} {
			r.Walls = append(r.Walls, takeoff.Wall{Name: string(rune('A' + i)), Length: l})
		}
		r.Walls[3].Corner.Kind = takeoff.CornerOutside
		got, err := r.Traverse()
		if err != nil || got.Misclosure != 0 || got.East != 0 || got.South != 0 || got.Turn != 0 || got.Perimeter != 2*(a+b+c+d) {
			t.Fatalf("%+v, %v", got, err)
		}
		i, e := rapid.IntRange(0, 5).Draw(t, "wrong wall"), measure.Length(rapid.Int64Range(1, 1<<30).Draw(t, "e"))
		r.Walls[i].Length += e
		if got, err = r.Traverse(); err != nil || got.Misclosure != e {
			t.Fatalf("error %v, want %v, %v", got.Misclosure, e, err)
		}
	})
}
