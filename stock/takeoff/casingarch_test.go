package takeoff_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Derived in TestArch of package curve: around half a circle over 32 in the legs end square where
// the jambs do, and the head is 61.8501 along its outer edge. Flat arches miter the legs.
func TestArchedDoor(t *testing.T) {
	const in = measure.Inch
	flex := *board("flexible casing", 3*in/4, 7*in/2)
	flex.Role = stock.RoleCasing
	s := takeoff.Scheme{Casing: board("casing", 3*in/4, 7*in/2), Flexible: []stock.Profile{flex}}
	list, err := takeoff.Take(doorWall(takeoff.Opening{At: 30 * in, Width: 32 * in, Height: 70 * in, ArchRise: 16 * in}), s, nil)
	if err != nil || len(list.Runs) != 3 || len(list.Curves) != 1 {
		t.Fatalf("%+v, %v", list, err)
	}
	left, right, head := list.Runs[0], list.Runs[1], list.Runs[2]
	if left.Length != 70*in || right.Length != 70*in || left.Right.Kind != stock.EndSquare || right.Left.Kind != stock.EndSquare {
		t.Errorf("legs %+v, %+v", left, right)
	}
	if !closeTo(head.Length, 61.8501) || head.Profile != "flexible casing" || list.Curves[0].Runs[0] != head.Label || list.Curves[0].Radius != 259*in/16 {
		t.Errorf("head %+v, %+v", head, list.Curves)
	}
	if list.Joints.Butts != 2 || list.Joints.FlatMiters != 0 {
		t.Errorf("%+v", list.Joints)
	}
}

// The legs of casing and backband around an arch, laid out in plan as cut, end at the arcs about
// its center, inside and outside, and the head is as long as the outer one between them; a
// window's frame is closed below.
func TestArchedCasingMeets(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		width := length(20*in, 60*in).Draw(t, "width")
		o := takeoff.Opening{
			Kind: takeoff.OpeningKind(rapid.IntRange(0, 2).Draw(t, "kind")), At: 60 * in, Width: width, Height: length(40*in, 80*in).Draw(t, "height"),
			Sill: 20 * in, Reveal: length(in/16, in/2).Draw(t, "reveal"), ArchRise: length(in, width/2).Draw(t, "rise"),
		}
		s := takeoff.Scheme{Casing: board("casing", in, length(2*in, 5*in).Draw(t, "casing")), Backband: board("band", in, length(in/2, 2*in).Draw(t, "band"))}
		s.BackbandLap = length(0, in/2-1).Draw(t, "lap")
		rooms := doorWall(o)
		rooms[0].Walls[0].Length = 400 * in
		list, err := takeoff.Take(rooms, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		ground := 0.0
		if o.Kind == takeoff.OpeningWindow {
			ground = o.Sill.Inches()
		}
		half, v := width.Inches()/2, o.ArchRise.Inches()
		radius := half*half/(2*v) + v/2
		spring := ground + o.Height.Inches()
		center := spring + v - radius
		found := 0
		for _, r := range list.Runs {
			p, out := s.Casing, o.Reveal
			if r.Role == stock.RoleBackband {
				p, out = s.Backband, o.Reveal+s.Casing.Width-s.BackbandLap
			}
			sum := measure.Length(0)
			for _, a := range r.Allowances {
				sum += a.Length
			}
			if sum != r.Length {
				t.Fatalf("%s: %v, allowances %v", r.Label, r.Length, r.Allowances)
			}
			inner, outer := half+out.Inches(), half+(out+p.Width).Inches()
			arc := func(x, out float64) float64 { // height of the arc about the center at x
				return center + math.Sqrt(max(0, (radius+out)*(radius+out)-x*x))
			}
			switch r.Slope {
			case 90 * measure.Degree, -90 * measure.Degree:
				upper := r.Right
				if r.Slope < 0 {
					upper = r.Left
				}
				top := (r.Bottom + r.Length).Inches()
				if off := top - arc(outer, (out+p.Width).Inches()); math.Abs(off) > 1e-4 {
					t.Fatalf("%s: its outer edge misses the arc by %v", r.Label, off)
				}
				if off := top - upper.Setback.Inches() - arc(inner, out.Inches()); math.Abs(off) > 1e-4 {
					t.Fatalf("%s: its inner edge misses the arc by %v", r.Label, off)
				}
				found++
			case 0:
				long := 2 * (radius + (out + p.Width).Inches()) * math.Asin(min(1, outer/(radius+(out+p.Width).Inches())))
				if math.Abs(r.Length.Inches()-long) > 1e-3 {
					t.Fatalf("%s is %v, the outer arc %v", r.Label, r.Length, long)
				}
				found++
			default:
				if w := (width + 2*out + 2*p.Width); r.Length != w {
					t.Fatalf("%s is %v, want %v", r.Label, r.Length, w)
				}
			}
		}
		if found != 6 {
			t.Fatalf("%d runs of six", found)
		}
	})
}

func TestArchErrors(t *testing.T) {
	const in = measure.Inch
	good := takeoff.Opening{At: 30 * in, Width: 32 * in, Height: 70 * in, ArchRise: 16 * in}
	butt := takeoff.CasingStyle{Name: "flat", Joint: takeoff.CasingButt}
	for _, c := range []struct {
		field string
		spoil func(*takeoff.Opening, *takeoff.Scheme)
	}{
		{"arch_rise", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.ArchRise = 17 * in }},
		{"arch_rise", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.ArchRise = -1 }},
		{"arch_rise", func(_ *takeoff.Opening, s *takeoff.Scheme) { s.CasingStyles = []takeoff.CasingStyle{butt} }},
		{"top_width", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.TopWidth = 33 * in }},
		{"right_height", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.RightHeight = 71 * in }},
		{"joined", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.Joined = true }},
	} {
		o, s := good, takeoff.Scheme{Casing: board("casing", 3*in/4, 7*in/2)}
		c.spoil(&o, &s)
		next := good
		next.At, next.ArchRise = 80*in, 0
		if _, err := takeoff.Take(doorWall(o, next), s, nil); !namesField(err, "rooms[0].walls[0].openings[0]."+c.field) {
			t.Errorf("%s: %v", c.field, err)
		}
	}
}
