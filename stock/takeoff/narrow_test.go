package takeoff_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Between two casings, or a casing and an outside corner, nothing is taken away from trim: it
// is run there however far it reaches into the room, as a bead on furring and a cornice do. In
// an inside corner the neighbor's trim takes up the wall.
func TestDeepTrimBesideCasing(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	deep := takeoff.Scheme{
		Casing: board("casing", in, 3*in),
		Assemblies: []takeoff.Assembly{{Name: "rail", At: 3 * ft, Members: []takeoff.Member{
			{Profile: stock.Profile{Name: "bead", Role: stock.RoleBand, Thickness: in / 2, Width: in, Inside: stock.JointMiter}, Off: 9 * in},
		}}},
	}
	door := func(at measure.Length) takeoff.Opening {
		return takeoff.Opening{Name: at.String(), At: at, Width: 30 * in, Flush: true}
	}
	for _, c := range []struct {
		name         string
		before       takeoff.CornerKind
		openings     []takeoff.Opening
		from, length measure.Length // of the stretch left between obstacles
		want         bool
	}{
		{"between casings", takeoff.CornerInside, []takeoff.Opening{door(30 * in), door(74 * in)}, 63 * in, 8 * in, true},
		{"less than it is thick", takeoff.CornerInside, []takeoff.Opening{door(30 * in), door(66*in + in/4)}, 63 * in, in / 4, false},
		{"between returns", takeoff.CornerInside, []takeoff.Opening{
			{Name: "a", Kind: takeoff.OpeningPlain, At: 30 * in, Width: 30 * in}, {Name: "b", Kind: takeoff.OpeningPlain, At: 68 * in, Width: 30 * in},
		}, 60 * in, 8 * in, true},
		{"at an outside corner", takeoff.CornerOutside, []takeoff.Opening{door(11 * in)}, -9*in - in/2, 8*in + 9*in + in/2, true},
		{"at an inside corner", takeoff.CornerInside, []takeoff.Opening{door(11 * in)}, 0, 8 * in, false},
	} {
		room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
			{Name: "W", Length: 12 * ft, Corner: takeoff.Corner{Kind: c.before}},
			{Name: "N", Length: 16 * ft, Openings: c.openings, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
		}}
		list, err := takeoff.Take([]takeoff.Room{room}, deep, nil)
		if err != nil {
			t.Fatal(c.name, err)
		}
		got := false
		for _, r := range list.Runs {
			got = got || r.Wall == "N" && r.Profile == "bead" && r.Start-r.Reach == c.from && r.Length == c.length
		}
		told := false
		for _, f := range list.Findings {
			told = told || f.Code == takeoff.FindingSliver && f.Wall == "N" && f.Severity == takeoff.SeverityAdvice
		}
		if got != c.want || told == c.want {
			t.Errorf("%s: run %v, sliver reported %v, want a run %v: %+v", c.name, got, told, c.want, list.Runs)
		}
	}
}

// If an assembly is returned to the wall, its section turns the corner as it would around an outside
// one: each member ends short of the opening by the difference between its projection and the largest
// one.
func TestReturnToWallTurnsTheSection(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	a := threePieceBase()
	a.ReturnToWall = true
	list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Walls: []takeoff.Wall{{
		Name: "N", Length: 16 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{Kind: takeoff.OpeningPlain, At: 8 * ft, Width: 4 * ft}},
	}}}}, takeoff.Scheme{Assemblies: []takeoff.Assembly{a}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	far := measure.Length(0)
	out := map[string]measure.Length{}
	for _, m := range list.Runs {
		for _, q := range a.Members {
			if q.Profile.Name == m.Profile {
				out[m.Profile] = m.Standoff + q.Profile.Projection()
				far = max(far, out[m.Profile])
			}
		}
	}
	if len(out) != 3 {
		t.Fatalf("%d members of %d run", len(out), len(a.Members))
	}
	for _, r := range list.Runs {
		if r.Right.Kind == stock.EndReturn && r.Start-r.Reach+r.Length != 8*ft-(far-out[r.Profile]) {
			t.Errorf("%s ends at %v", r.Label, r.Start-r.Reach+r.Length)
		}
		if r.Left.Kind == stock.EndReturn && r.Start-r.Reach != 12*ft+(far-out[r.Profile]) {
			t.Errorf("%s begins at %v", r.Label, r.Start-r.Reach)
		}
	}
}
