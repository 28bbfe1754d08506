package takeoff_test

import (
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
)

func take(t testing.TB, r takeoff.Room, s takeoff.Scheme) *takeoff.List {
	t.Helper()
	list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// A chimney breast that stands 1 ft into the room: two outside corners, each adding
// the thickness to both of its pieces.
func TestChimneyBreast(t *testing.T) {
	outside := takeoff.Corner{Kind: takeoff.CornerOutside}
	r := takeoff.Room{Name: "teacher's room", Walls: []takeoff.Wall{
		{Name: "left", Length: 4 * measure.Foot},
		{Name: "cheek left", Length: measure.Foot, Corner: outside},
		{Name: "breast", Length: 5 * measure.Foot, Corner: outside},
		{Name: "cheek right", Length: measure.Foot},
		{Name: "right", Length: 4 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}},
	}}
	list := take(t, r, takeoff.Scheme{Base: base()})
	want := []cut{
		{"teacher's room left base", `4'`, stock.EndReturn, stock.EndSquare},
		{"teacher's room left base return", `9/16"`, stock.EndSquare, stock.EndReturn},
		{"teacher's room cheek left base", `1' 9/16"`, stock.EndCope, stock.EndOutsideMiter},
		{"teacher's room breast base", `5' 1-1/8"`, stock.EndOutsideMiter, stock.EndOutsideMiter},
		{"teacher's room cheek right base", `1' 9/16"`, stock.EndOutsideMiter, stock.EndCope},
		{"teacher's room right base", `4'`, stock.EndSquare, stock.EndReturn},
		{"teacher's room right base return", `9/16"`, stock.EndReturn, stock.EndSquare},
	}
	if d := cmp.Diff(want, cuts(list.Pieces)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if want := (takeoff.Joints{Copes: 2, OutsideMiters: 2, Returns: 2}); list.Joints != want {
		t.Errorf("joints %+v, want %+v", list.Joints, want)
	}
	wantAs := []stock.Allowance{
		{Name: "wall breast", Length: 5 * measure.Foot},
		{Name: "outside miter at left", Length: 9 * measure.Inch / 16},
		{Name: "outside miter at right", Length: 9 * measure.Inch / 16},
	}
	if d := cmp.Diff(wantAs, list.Pieces[3].Allowances); d != "" {
		t.Errorf("allowances (-want +got):\n%s", d)
	}
	if !slices.ContainsFunc(list.Findings, func(f takeoff.Finding) bool {
		return f.Code == takeoff.FindingShortReturn && f.Severity == takeoff.SeverityCaution
	}) {
		t.Errorf("no caution about the returns: %+v", list.Findings)
	}
}

// A bay window of three walls at 135°: inside corners are mitered at 22.5°, so the
// walls are the long points and nothing is added.
func TestBay(t *testing.T) {
	bay := takeoff.Corner{Angle: 135 * measure.Degree}
	r := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "bay left", Length: 30 * measure.Inch, Corner: bay},
		{Name: "bay front", Length: 60 * measure.Inch, Corner: bay},
		{Name: "bay right", Length: 30 * measure.Inch, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	list := take(t, r, takeoff.Scheme{Base: base()})
	front := list.Pieces[1]
	if front.Length != 60*measure.Inch || front.Left.Kind != stock.EndInsideMiter || front.Right.Angle != 135*measure.Degree {
		t.Errorf("%+v", front)
	}
	if got := front.Left.Setback.Inches(); got < .23295 || got > .23305 {
		t.Errorf("setback %.4f, want .2330", got)
	}
	if list.Joints.InsideMiters != 2 || list.Joints.Copes != 0 {
		t.Errorf("%+v", list.Joints)
	}
	// Seen from outside, around the same bay, each end adds .2330 in.
	for i := range 2 {
		r.Walls[i].Corner.Kind = takeoff.CornerOutside
	}
	front = take(t, r, takeoff.Scheme{Base: base()}).Pieces[1]
	if got := (front.Length - 60*measure.Inch).Inches(); got < 2*.23295 || got > 2*.23305 {
		t.Errorf("added %.4f, want twice .2330", got)
	}
}

// A fixture stops the trim whose height it reaches, and no other.
func TestHeights(t *testing.T) {
	r := square()
	r.Height = 9 * measure.Foot
	r.Walls[0].Openings = []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 3 * measure.Foot, Width: 3 * measure.Foot, Height: 5 * measure.Foot, Sill: 28 * measure.Inch}}
	r.Walls[1].Fixtures = []takeoff.Fixture{
		{Name: "bench", At: 2 * measure.Foot, Width: 4 * measure.Foot, Height: 18 * measure.Inch},
		{Name: "cupboard", At: 7 * measure.Foot, Width: 2 * measure.Foot, Height: 9 * measure.Foot},
	}
	r.Walls[2].Openings = []takeoff.Opening{{At: 3 * measure.Foot, Width: 3 * measure.Foot}}
	rail := &stock.Profile{Name: "rail", Thickness: 5 * measure.Inch / 8, Width: 5 * measure.Inch / 2}
	crown := &stock.Profile{Name: "crown", Thickness: 11 * measure.Inch / 16, Width: 4 * measure.Inch}
	list := take(t, r, takeoff.Scheme{Base: base(), ChairRail: rail, PictureRail: &stock.Profile{Name: "picture", Thickness: measure.Inch, Width: 2 * measure.Inch}, Crown: crown})
	pieces := map[string]int{}
	for _, run := range list.Runs {
		pieces[run.Wall+" "+run.Role.String()]++
	}
	want := map[string]int{
		"N base": 1, "E base": 3, "S base": 2, "W base": 1,
		"N chair rail": 2, "E chair rail": 2, "S chair rail": 2, "W chair rail": 1,
		"N picture rail": 2, "E picture rail": 2, "S picture rail": 1, "W picture rail": 1,
		"N crown": 1, "E crown": 2, "S crown": 1, "W crown": 1,
	}
	if d := cmp.Diff(want, pieces); d != "" {
		t.Errorf("runs (-want +got):\n%s", d)
	}
}

// A window with only its position and width known stops the rails, not base or crown.
func TestUnmeasuredWindow(t *testing.T) {
	r := square()
	r.Height = 8 * measure.Foot
	r.Walls[0].Openings = []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 3 * measure.Foot, Width: 3 * measure.Foot}}
	s := fullScheme()
	s.Casing = nil
	for _, run := range take(t, r, s).Runs {
		rail := run.Role == stock.RoleChairRail || run.Role == stock.RolePictureRail
		if stopped := run.Net < 10*measure.Foot; run.Wall == "N" && stopped != rail {
			t.Errorf("%s covers %v", run.Label, run.Net)
		}
	}
}

// Shoe runs along the face of the base, so it is short by the base in an inside
// corner and longer by it around an outside one.
func TestShoe(t *testing.T) {
	r := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{
		{Name: "A", Length: 6 * measure.Foot},
		{Name: "B", Length: 6 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}},
		{Name: "C", Length: 6 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	shoe := &stock.Profile{Name: "shoe", Thickness: measure.Inch / 2, Width: 3 * measure.Inch / 4}
	list := take(t, r, takeoff.Scheme{Base: base(), Shoe: shoe})
	var got []string
	for _, p := range list.PiecesOf("shoe") {
		got = append(got, p.Length.String())
	}
	if want := []string{`5' 11-7/16"`, `6' 1/2"`, `6' 1-1/16"`}; !slices.Equal(got, want) {
		t.Errorf("shoe %q, want %q", got, want)
	}
}

// A door in the corner keeps the neighbor's base off its casing, a cabinet in the
// corner keeps it off its side.
func TestWhatStandsInTheCorner(t *testing.T) {
	r := square()
	r.Walls[0].Openings = []takeoff.Opening{{At: 59 * measure.Inch / 16, Width: 3 * measure.Foot}} // casing flush with the corner
	r.Walls[2].Fixtures = []takeoff.Fixture{{Name: "cabinet", Width: 4 * measure.Foot, Depth: 24 * measure.Inch}}
	list := take(t, r, takeoff.Scheme{Base: base(), Casing: casing(7 * measure.Inch / 2)})
	want := []cut{
		{"classroom N base", `6' 4-5/8"`, stock.EndSquare, stock.EndCope},
		{"classroom E base", `8'`, stock.EndSquare, stock.EndSquare},
		{"classroom S base", `6'`, stock.EndSquare, stock.EndSquare},
		{"classroom W base", `9' 11-1/4"`, stock.EndCope, stock.EndSquare},
	}
	if d := cmp.Diff(want, cuts(list.PiecesOf("base"))); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Around a room without a break no piece is coped twice: each once, or twice if a splice gives each
// part one.
func TestCrownAllAround(t *testing.T) {
	crown := &stock.Profile{Name: "crown", Thickness: 11 * measure.Inch / 16, Width: 4 * measure.Inch, Lengths: []measure.Length{12 * measure.Foot}}
	r := square()
	for _, p := range take(t, r, takeoff.Scheme{Crown: crown}).Pieces {
		if p.Left.Kind != stock.EndCope || p.Right.Kind != stock.EndSquare {
			t.Errorf("%s: %v, %v", p.Label, p.Left.Kind, p.Right.Kind)
		}
	}
	r.Walls[1].Length, r.Walls[3].Length = 15*measure.Foot, 15*measure.Foot
	r.Entry = "S"
	var got []string
	for _, p := range take(t, r, takeoff.Scheme{Crown: crown}).Pieces {
		got = append(got, p.Label+": "+p.Left.Kind.String()+", "+p.Right.Kind.String())
	}
	// N faces the entry and comes first; E, in two parts, closes the ring.
	want := []string{
		"classroom N crown: square, square",
		"classroom E crown 1 of 2: cope, scarf over",
		"classroom E crown 2 of 2: scarf under, cope",
		"classroom S crown: square, cope",
		"classroom W crown 1 of 2: square, scarf over",
		"classroom W crown 2 of 2: scarf under, cope",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Stone butts in its inside corners, is never coped or scarfed, and needs no stud.
func TestStone(t *testing.T) {
	stone := &stock.Profile{
		Name: "slate", Thickness: measure.Inch / 2, Width: 4 * measure.Inch, Inside: stock.JointButt, ButtSpliced: true,
		Lengths: []measure.Length{5 * measure.Foot},
	}
	r := square()
	r.Walls[2].Openings = []takeoff.Opening{{At: 4 * measure.Foot, Width: 3 * measure.Foot}}
	list := take(t, r, takeoff.Scheme{Base: stone})
	const corners, splices = 4, 3
	if want := (takeoff.Joints{Butts: corners + splices, Stops: 2}); list.Joints != want {
		t.Errorf("joints %+v, want %+v", list.Joints, want)
	}
	sum := measure.Length(0)
	for _, p := range list.Pieces {
		sum += p.Length
	}
	if want := 37*measure.Foot - 4*measure.Inch/2; sum != want {
		t.Errorf("pieces sum to %v, want %v", sum, want)
	}
}

func TestSuitability(t *testing.T) {
	p := base()
	p.Thickness = 7 * measure.Inch / 8
	list := take(t, square(), takeoff.Scheme{Base: p, Casing: casing(3 * measure.Inch)})
	if len(list.Findings) != 1 || list.Findings[0].Code != takeoff.FindingThickBase || list.Findings[0].Length != measure.Inch/8 {
		t.Errorf("%+v", list.Findings)
	}
}

// A rough end is left long, to be scribed.
func TestScribe(t *testing.T) {
	r := takeoff.Room{Name: "cloakroom", Walls: []takeoff.Wall{{Name: "N", Length: 6 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerRough}, Start: takeoff.Corner{Kind: takeoff.CornerStop}}}}
	list := take(t, r, takeoff.Scheme{Base: base()})
	if p := list.Pieces[0]; p.Length != 72*measure.Inch+measure.Inch/4 || p.Right.Kind != stock.EndScribe || p.Left.Kind != stock.EndSquare {
		t.Errorf("%+v", p)
	}
	if want := (takeoff.Joints{Stops: 1, Scribes: 1}); list.Joints != want {
		t.Errorf("%+v", list.Joints)
	}
}
