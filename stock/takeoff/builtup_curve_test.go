package takeoff_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

// Around a curve in segments the back of a member is as long as the face behind it, piece by piece,
// since both meet the same miters. Around a curve bent in one piece there is no backing.
func TestMembersAroundACurve(t *testing.T) {
	const in = measure.Inch
	for _, bend := range []curve.Bend{curve.BendConcave, curve.BendConvex} {
		for _, method := range []takeoff.CurveMethod{takeoff.CurveSegments, takeoff.CurveFlexible} {
			r := roundRoom(60*in, bend)
			r.Walls[1].Curve.Trim, r.Walls[1].Curve.Crown = method, method
			foot, top := mitered(threePieceBase()), mitered(cornice())
			top.Members[2].Backing = &takeoff.Backing{Profile: *board("2x4", 3*in/2, 7*in/2), HoldBack: in / 4}
			list := take(t, r, takeoff.Scheme{Assemblies: []takeoff.Assembly{foot, top}})
			labels := map[string]bool{}
			of := map[string][]stock.Run{}
			for _, run := range list.Runs {
				if labels[run.Label] {
					t.Fatalf("%s twice", run.Label)
				}
				if labels[run.Label] = true; run.Wall == "NE" {
					of[run.Profile] = append(of[run.Profile], run)
				}
			}
			if n := len(of["2x4"]); method == takeoff.CurveFlexible && n != 0 || method == takeoff.CurveSegments && n != len(of["crown"]) {
				t.Errorf("%v, %v: %d strips", bend, method, n)
			}
			if method == takeoff.CurveFlexible {
				continue
			}
			for _, p := range [][2]string{{"base", "shoe"}, {"frieze", "crown"}} {
				if len(of[p[0]]) < 2 || len(of[p[0]]) != len(of[p[1]]) {
					t.Fatalf("%v: %d of %s, %d of %s", bend, len(of[p[0]]), p[0], len(of[p[1]]), p[1])
				}
				for i, run := range of[p[0]] {
					_, face := backAndFace(run)
					back, _ := backAndFace(of[p[1]][i])
					if d := face - back; d > 1e-6 || d < -1e-6 {
						t.Errorf("%v: %s %d is %v at its face, %s %v at its back", bend, p[0], i, face, p[1], back)
					}
				}
			}
			seen := fmt.Sprint(list.Curves)
			if !strings.Contains(seen, "crown segment 1 of ") && !strings.Contains(seen, "segment 1 of ") {
				t.Errorf("%v", seen)
			}
		}
	}
}

// Whatever is built up, around whatever curve and bullnose in whatever way: every label is
// there once, and the allowances of each run and piece make its length.
func TestBuiltUpAroundAnyCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const in = measure.Inch
		bend := rapid.SampledFrom([]curve.Bend{curve.BendConcave, curve.BendConvex}).Draw(t, "bend")
		r := roundRoom(length(30*in, 80*in).Draw(t, "radius"), bend)
		c := r.Walls[1].Curve
		c.Trim = takeoff.CurveMethod(rapid.IntRange(0, 2).Draw(t, "trim"))
		c.Crown = takeoff.CurveMethod(rapid.IntRange(0, 1).Draw(t, "crown"))
		if c.Trim == takeoff.CurveKerfed {
			c.Kerf = curve.Kerf{Width: in / 8, Depth: in / 8}
		}
		if c.Trim == takeoff.CurveKerfed && bend == curve.BendConcave {
			t.Skip("kerfs open on a concave wall")
		}
		if rapid.Bool().Draw(t, "bullnose") {
			r.Walls[3].Corner, r.Walls[3].Bullnose = takeoff.Corner{Kind: takeoff.CornerOutside}, length(in/2, 2*in).Draw(t, "bead")
		}
		s := takeoff.Scheme{Assemblies: []takeoff.Assembly{stack(t, "foot", false), stack(t, "cornice", true)}}
		for k := range s.Assemblies[1].Members {
			if m := &s.Assemblies[1].Members[k]; m.Profile.Role.Sprung() {
				m.Backing = &takeoff.Backing{Profile: *board("backing", in, in), Clearance: in / 16, HoldBack: in}
			}
		}
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			known(t, err) // the error names trim that cannot go around
			return
		}
		labels := map[string]bool{}
		for _, run := range list.Runs {
			sum, err := total(run.Allowances)
			if err != nil || sum != run.Length || labels[run.Label] || run.Length <= 0 {
				t.Fatalf("%s, %v: %v", run.Label, run.Length, run.Allowances)
			}
			labels[run.Label] = true
		}
		for _, p := range list.Pieces {
			if sum, err := total(p.Allowances); err != nil || sum != p.Length || p.Length <= 0 {
				t.Fatalf("%s, %v: %v", p.Label, p.Length, p.Allowances)
			}
		}
	})
}
