package takeoff_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

// stack draws an assembly that stands on the floor or hangs from the ceiling: members in front
// of each other and one above the other.
func stack(t *rapid.T, name string, ceiling bool) takeoff.Assembly {
	const in = measure.Inch
	a := takeoff.Assembly{Name: name, FromCeiling: ceiling, ReturnToWall: rapid.Bool().Draw(t, "to the wall")}
	roles := []stock.Role{stock.RoleBase, stock.RoleCap, stock.RoleBand, stock.RoleShoe, stock.RoleBacking}
	if ceiling {
		roles = []stock.Role{stock.RoleFrieze, stock.RoleSoffit, stock.RoleBand, stock.RoleBed, stock.RoleCrown}
	}
	for i, role := range roles {
		if i > 0 && rapid.IntRange(0, 3).Draw(t, "left out") == 0 {
			continue
		}
		m := member(role, fmt.Sprintf("%s %v", name, role), length(in/4, in).Draw(t, "thick"), length(in/2, 4*in).Draw(t, "wide"), length(0, 4*in).Draw(t, "at"))
		m.Profile.Inside = stock.InsideJoint(rapid.IntRange(0, 2).Draw(t, "inside"))
		if role.Sprung() {
			m.Profile.Spring = 45 * measure.Degree
		}
		if rapid.IntRange(0, 3).Draw(t, "on strips") == 0 {
			m.Off = in / 4
		}
		a.Members = append(a.Members, m)
	}
	return a
}

// chain draws walls one after the other that are far longer than trim is thick, with corners of
// any angle but very sharp ones, and things on them.
func chain(t *rapid.T) takeoff.Room {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Height: 9 * ft}
	n := rapid.IntRange(2, 5).Draw(t, "walls")
	for i := range n {
		w := takeoff.Wall{Name: fmt.Sprintf("w%d", i), Length: length(12*ft, 16*ft).Draw(t, "long")}
		w.Corner = takeoff.Corner{Kind: takeoff.CornerKind(rapid.IntRange(0, 1).Draw(t, "outside")), Angle: measure.Angle(rapid.IntRange(40, 179).Draw(t, "angle")) * measure.Degree}
		if rapid.Bool().Draw(t, "square") {
			w.Corner.Angle = 0
		}
		if i == n-1 {
			w.Corner = takeoff.Corner{Kind: rapid.SampledFrom([]takeoff.CornerKind{takeoff.CornerOpen, takeoff.CornerStop}).Draw(t, "end")}
		}
		switch rapid.IntRange(0, 6).Draw(t, "on the wall") {
		case 2:
			w.Openings = []takeoff.Opening{{
				Kind: rapid.SampledFrom([]takeoff.OpeningKind{takeoff.OpeningWindow, takeoff.OpeningDoor}).Draw(t, "opening"), At: 4 * ft, Width: 3 * ft,
				Height: length(ft, 8*ft).Draw(t, "high"), Sill: length(6*in, 3*ft).Draw(t, "sill"),
			}}
		case 0:
			w.Openings = []takeoff.Opening{{Kind: takeoff.OpeningPlain, At: 4 * ft, Width: 3 * ft, Height: length(6*ft, 9*ft).Draw(t, "high")}}
		case 1: // in the corner, of some height
			low := length(0, 8*ft).Draw(t, "low")
			w.Fixtures = []takeoff.Fixture{{
				Name: "built-in", At: w.Length - 2*ft, Width: 2 * ft, Bottom: low, Height: low + length(in, ft).Draw(t, "high"), Depth: length(in, 2*ft).Draw(t, "deep"),
				Ends: rapid.SampledFrom([]stock.EndKind{stock.EndSquare, stock.EndReturn}).Draw(t, "ends"),
			}}
		}
		r.Walls = append(r.Walls, w)
	}
	return r
}

// memberShadows cuts every run of the list from the data of the list alone: position, length, standoff
// and ends.
func memberShadows(r takeoff.Room, list *takeoff.List, a takeoff.Assembly) (solids []shadow, lo, hi []measure.Length) {
	g := groundOf(r)
	n := len(r.Walls)
	for _, m := range a.Members {
		var returns []stock.Piece
		for _, p := range list.Pieces {
			if p.Profile == m.Profile.Name && p.Run == "" {
				returns = append(returns, p)
			}
		}
		for _, run := range list.Runs {
			if run.Profile != m.Profile.Name {
				continue
			}
			i := slices.IndexFunc(r.Walls, func(w takeoff.Wall) bool { return w.Name == run.Wall })
			back, face := run.Standoff.Inches(), (run.Standoff + m.Profile.Projection()).Inches()
			left := (run.Start - run.Reach).Inches()
			right := left + run.Length.Inches()
			lb, lf, rb, rf := left, left, right, right
			cut := func(e stock.End, b, f *float64, sign float64) {
				switch e.LongPoint() {
				case "back":
					*f += sign * e.Setback.Inches()
				case "face":
					*b += sign * e.Setback.Inches()
				}
			}
			if run.Left.Kind != stock.EndCope {
				cut(run.Left, &lb, &lf, 1)
			}
			if run.Right.Kind != stock.EndCope {
				cut(run.Right, &rb, &rf, -1)
			}
			outline := []place{g.at(i, lb, back), g.at(i, rb, back), g.at(i, rf, face), g.at(i, lf, face)}
			if before := (i + n - 1) % n; run.Left.Kind == stock.EndCope {
				outline = sawn(outline, g.at(before, 0, face), g.at(before, 1, face))
			}
			if after := (i + 1) % n; run.Right.Kind == stock.EndCope {
				outline = sawn(outline, g.at(after, 0, face), g.at(after, 1, face))
			}
			add := func(label string, outline ...place) {
				solids = append(solids, shadow{label, i, outline})
				lo, hi = append(lo, run.Bottom), append(hi, run.Bottom+m.Profile.Drop())
			}
			add(run.Label, outline...)
			// The returns of a profile come in the order of its ends, from left to right.
			to := 0.0 // how near to the wall the return goes
			next := func() {
				to = face - returns[0].Length.Inches()
				returns = returns[1:]
			}
			if run.Left.Kind == stock.EndReturn {
				next()
				add(run.Label+" return", g.at(i, lf, to), g.at(i, lb, to), g.at(i, lb, back), g.at(i, lf, face))
			}
			if run.Right.Kind == stock.EndReturn {
				next()
				add(run.Label+" return", g.at(i, rb, to), g.at(i, rf, to), g.at(i, rf, face), g.at(i, rb, back))
			}
		}
	}
	return solids, lo, hi
}

// Members are cut in plan from the list, each at its own height, and compared with each other: no two
// overlap, nor do they overlap a wall or fixtures, and in each corner that a member goes around its two
// pieces touch.
func TestMembersAreApart(t *testing.T) {
	const touch, share = .0001, .004 // in inches: the effect of rounding, and the least overlap that a finding reports
	rapid.Check(t, func(t *rapid.T) {
		ceiling := rapid.Bool().Draw(t, "from the ceiling")
		a := stack(t, "stack", ceiling)
		r := chain(t)
		const in = measure.Inch
		trim := map[stock.Role]*stock.Profile{stock.RoleCasing: board("casing", 3*in/4, 3*in), stock.RoleStool: board("stool", in, 4*in), stock.RoleApron: board("apron", in/2, 2*in)}
		s := takeoff.Scheme{Assemblies: []takeoff.Assembly{a}, Casing: trim[stock.RoleCasing]}
		if rapid.Bool().Draw(t, "with stools") {
			s.Stool, s.Apron = trim[stock.RoleStool], trim[stock.RoleApron]
		}
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		told := map[string]bool{}
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingSliver && f.Severity == takeoff.SeverityDoubt {
				told[strings.Join(f.Suspects, " ")] = true
			}
		}
		g := groundOf(r)
		solids, lo, hi := memberShadows(r, list, a)
		apart := func(i, j int, a, b string, d float64) {
			if j != i && j != i+1 && i != j+1 {
				return // the chain may cross itself
			}
			if i > j {
				i, j = j, i
			}
			if d > share && !told[r.Walls[i].Name+" "+r.Walls[j].Name] {
				t.Fatalf("%s and %s share %.4f in without a finding: %+v", a, b, d, list.Findings)
			}
		}
		for i, s := range solids {
			for k := range i {
				if o := solids[k]; lo[i] < hi[k] && lo[k] < hi[i] {
					apart(s.wall, o.wall, s.label, o.label, depth(s.outline, o.outline))
				}
			}
			for w, wall := range r.Walls {
				if w == s.wall || w == s.wall+1 || w == s.wall-1 {
					apart(s.wall, w, s.label, wall.Name, depth(s.outline, g.wall(w)))
				}
				for _, f := range wall.Fixtures {
					if f.Bottom < hi[i] && lo[i] < f.Height {
						x, y, d := f.At.Inches(), (f.At + f.Width).Inches(), f.Depth.Inches()
						apart(s.wall, w, s.label, f.Name, depth(s.outline, []place{g.at(w, x, 0), g.at(w, y, 0), g.at(w, y, d), g.at(w, x, d)}))
					}
				}
			}
		}
		// Casing, stools and aprons at their positions in the list.
		for _, run := range list.Runs {
			p := trim[run.Role]
			if p == nil || run.Assembly != "" {
				continue
			}
			w := slices.IndexFunc(r.Walls, func(w takeoff.Wall) bool { return w.Name == run.Wall })
			along, up, out := run.Length, p.Width, p.Thickness
			switch {
			case run.Slope == 90*measure.Degree || run.Slope == -90*measure.Degree:
				along, up = up, along
			case run.Role == stock.RoleStool:
				up, out = out, up
			}
			x, y, d := run.Start.Inches(), (run.Start + along).Inches(), out.Inches()
			for i, s := range solids {
				if s.wall == w && run.Bottom < hi[i] && lo[i] < run.Bottom+up {
					apart(w, w, s.label, run.Label, depth(s.outline, []place{g.at(w, x, 0), g.at(w, y, 0), g.at(w, y, d), g.at(w, x, d)}))
				}
			}
		}
		// In the corners, and where the faces of the mitered pieces meet.
		for _, m := range a.Members {
			for w := range len(r.Walls) - 1 {
				var ends []shadow
				var runs []stock.Run
				for _, run := range list.Runs {
					if run.Profile != m.Profile.Name {
						continue
					}
					right := run.Wall == r.Walls[w].Name && run.Start+run.Net == r.Walls[w].Length
					if left := run.Wall == r.Walls[w+1].Name && run.Start == 0; left || right {
						runs = append(runs, run)
						ends = append(ends, solids[slices.IndexFunc(solids, func(s shadow) bool { return s.label == run.Label })])
					}
				}
				if len(runs) != 2 {
					continue
				}
				if d := depth(ends[0].outline, ends[1].outline); d < -touch {
					t.Fatalf("%s and %s are %.4f in apart: %+v %+v", runs[0].Label, runs[1].Label, -d, runs[0], runs[1])
				}
				if k := runs[0].Right.Kind; k != stock.EndOutsideMiter && k != stock.EndInsideMiter {
					continue
				}
				right, left := ends[0].outline, ends[1].outline // back left, back right, face right, face left
				for _, p := range [][2]place{{right[1], left[0]}, {right[2], left[3]}} {
					if d := math.Hypot(p[0].x-p[1].x, p[0].y-p[1].y); d > touch {
						t.Fatalf("%s and %s miss each other by %.4f in", runs[0].Label, runs[1].Label, d)
					}
				}
			}
		}
	})
}

// Returns leave no hole: at an open end the returns of the members that share a height lie against each
// other, the outermost ends where the wall does.
func TestReturnsCloseTheEnd(t *testing.T) {
	const touch = .0001
	rapid.Check(t, func(t *rapid.T) {
		a := stack(t, "stack", false)
		a.ReturnToWall = true
		for i := range a.Members {
			a.Members[i].Off = 0 // no room behind
		}
		r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: 96 * measure.Inch, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}, Start: takeoff.Corner{Kind: takeoff.CornerStop}}}}
		list := taken(t, r, takeoff.Scheme{Assemblies: []takeoff.Assembly{a}})
		// Each member ends as far from the plane of the returned base as its face does from that of
		// its face: the end is the profile of the stack once more.
		var out measure.Length
		for _, m := range a.Members {
			run := list.Runs[slices.IndexFunc(list.Runs, func(x stock.Run) bool { return x.Profile == m.Profile.Name })]
			out = max(out, run.Standoff+m.Profile.Thickness)
		}
		for _, m := range a.Members {
			run := list.Runs[slices.IndexFunc(list.Runs, func(x stock.Run) bool { return x.Profile == m.Profile.Name })]
			end := run.Start - run.Reach + run.Length
			if face := run.Standoff + m.Profile.Thickness; 96*measure.Inch-end != out-face {
				t.Fatalf("%s stands out %v and ends at %v, where the outermost stands out %v", m.Profile.Name, face, end, out)
			}
		}
		for _, p := range list.Pieces {
			if strings.HasSuffix(p.Label, "return") {
				run := list.Runs[slices.IndexFunc(list.Runs, func(x stock.Run) bool { return x.Profile == p.Profile })]
				if back := p.Length - p.Left.Setback - p.Right.Setback; math.Abs((back - run.Standoff).Inches()) > touch {
					t.Fatalf("%s is %v at its back, where it stands off %v", p.Label, back, run.Standoff)
				}
			}
		}
	})
}

func taken(t *rapid.T, r takeoff.Room, s takeoff.Scheme) *takeoff.List {
	list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return list
}
