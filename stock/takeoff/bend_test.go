package takeoff_test

import (
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/takeoff"
)

// coded returns the findings of a code.
func coded(fs []takeoff.Finding, code takeoff.FindingCode) (out []takeoff.Finding) {
	for _, f := range fs {
		if f.Code == code {
			out = append(out, f)
		}
	}
	return out
}

// Segments too short to hold get one caution per curve, whatever trim goes around it, in the words for
// returns. A wider tolerance makes them long enough: at R 60 in the quarter circle is 94.25 in along,
// so 18 segments within 1/16 in are about 5 1/4 in, seven within 1/2 in about 13 1/2 in: R·(1 - cos
// 90°/2n) is 0.0571 and 0.3776 in. Derived.
func TestShortSegments(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Base: board("base", 9*in/16, 5*in), Shoe: board("shoe", in/2, 3*in/4)}
	for _, bend := range []curve.Bend{curve.BendConcave, curve.BendConvex} {
		r := roundRoom(60*in, bend)
		list := take(t, r, s)
		found := coded(list.Findings, takeoff.FindingShortReturn)
		if len(found) != 1 {
			t.Fatalf("%v: %+v", bend, found)
		}
		var least measure.Length
		for _, run := range list.Runs {
			if run.Wall == "NE" && (least == 0 || run.Length < least) {
				least = run.Length
			}
		}
		f := found[0]
		if f.Severity != takeoff.SeverityCaution || f.Room != "entry" || f.Wall != "NE" || f.Length != least {
			t.Errorf("%v: %+v, want %v", bend, f, least)
		}
		for _, part := range []string{"all 36 segments around NE", "too short to hold at the saw", "off the end of a longer piece, let the blade stop"} {
			if !strings.Contains(f.Reason, part) {
				t.Errorf("%v: %q does not contain %q", bend, f.Reason, part)
			}
		}
		r.Walls[1].Curve.Tolerance = in / 2
		list = take(t, r, s)
		if found = coded(list.Findings, takeoff.FindingShortReturn); len(found) != 0 || list.Curves[0].Segments.Count != 7 {
			t.Errorf("%v: long segments: %+v", bend, found)
		}
		r.Walls[1].Curve.Tolerance, r.Walls[1].Curve.Trim = 0, takeoff.CurveFlexible
		if found = coded(take(t, r, s).Findings, takeoff.FindingShortReturn); len(found) != 0 {
			t.Errorf("%v: it is one piece: %+v", bend, found)
		}
	}
}

// The piece around a bullnose corner is as short, and gets the same words.
func TestShortBullnose(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}, Bullnose: 3 * in / 4},
		{Name: "E", Length: 8 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	found := coded(take(t, r, takeoff.Scheme{Base: board("base", in/2, 5*in)}).Findings, takeoff.FindingShortReturn)
	if len(found) != 1 || found[0].Wall != "N" || !strings.Contains(found[0].Reason, "is too short to hold at the saw: cut it off") {
		t.Errorf("%+v", found)
	}
}

// Trim that has to bend but is ordinary stock is found, once per wall and profile; not if flexible
// stock is named for its use, nor in segments or kerfed.
func TestRigidTrim(t *testing.T) {
	const in = measure.Inch
	flexible := func(name string, like *stock.Profile, role stock.Role) stock.Profile {
		p := *like
		p.Name, p.Role = name, role
		return p
	}
	base, band, rigid := board("base", 9*in/16, 5*in), board("band", 5*in/4, in), board("casing", 3*in/4, 7*in/2)

	r := roundRoom(60*in, curve.BendConvex)
	s := takeoff.Scheme{Base: base, Shoe: board("shoe", in/2, 3*in/4)}
	for _, m := range []takeoff.CurveMethod{takeoff.CurveSegments, takeoff.CurveKerfed} {
		r.Walls[1].Curve.Trim, r.Walls[1].Curve.Kerf = m, curve.Kerf{Width: in / 8}
		if found := coded(take(t, r, s).Findings, takeoff.FindingRigidTrim); len(found) != 0 {
			t.Errorf("%v: %+v", m, found)
		}
	}
	r.Walls[1].Curve.Trim = takeoff.CurveFlexible
	found := coded(take(t, r, s).Findings, takeoff.FindingRigidTrim)
	if len(found) != 2 || found[0].Severity != takeoff.SeverityAdvice || found[0].Wall != "NE" || found[0].Room != "entry" || found[0].Length != 60*in ||
		!strings.Contains(found[0].Reason, "base") || !strings.Contains(found[1].Reason, "shoe") {
		t.Errorf("curved wall: %+v", found)
	}
	s.Flexible = []stock.Profile{flexible("flexible base", base, stock.RoleBase)}
	if found = coded(take(t, r, s).Findings, takeoff.FindingRigidTrim); len(found) != 1 || !strings.Contains(found[0].Reason, "shoe") {
		t.Errorf("base that bends: %+v", found)
	}

	s = takeoff.Scheme{Casing: rigid, Backband: band}
	door := takeoff.Opening{At: 12 * in, Width: 32 * in, Height: 70 * in, ArchRise: 16 * in}
	next := door
	next.At = 72 * in
	arched := doorWall(door, next)
	if found = coded(take(t, arched[0], s).Findings, takeoff.FindingRigidTrim); len(found) != 2 {
		t.Errorf("arched heads: %+v", found)
	}
	s.Flexible = []stock.Profile{flexible("flexible casing", rigid, stock.RoleCasing), flexible("flexible band", band, stock.RoleBackband)}
	if found = coded(take(t, arched[0], s).Findings, takeoff.FindingRigidTrim); len(found) != 0 {
		t.Errorf("arched heads of flexible stock: %+v", found)
	}
	door.ArchRise = 0
	s.Flexible = nil
	if found = coded(take(t, doorWall(door)[0], s).Findings, takeoff.FindingRigidTrim); len(found) != 0 {
		t.Errorf("a straight head: %+v", found)
	}
}
