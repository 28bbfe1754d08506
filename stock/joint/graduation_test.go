package joint_test

import (
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"pgregory.net/rapid"
)

func round(p stock.Profile, e stock.End, graduation measure.Angle) (joint.Rounded, error) {
	c, err := joint.NewCut(p, e)
	if err != nil {
		return joint.Rounded{}, err
	}
	return c.Round(graduation)
}

func hand(t *testing.T, p stock.Profile, e stock.End, side joint.Side) joint.Hand {
	t.Helper()
	c, err := joint.NewCut(p, e)
	if err != nil {
		t.Fatal(err)
	}
	return c.Hand(side)
}

func TestRound(t *testing.T) {
	const in, d = measure.Inch, measure.Degree
	base := stock.Profile{Name: "base", Thickness: 9 * in / 16, Width: 5 * in}
	casing := stock.Profile{Name: "casing", Role: stock.RoleCasing, Thickness: in, Width: 7 * in / 2}
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: in / 2, Width: 4 * in}
	for _, c := range []struct {
		name     string
		p        stock.Profile
		end      stock.End
		grain    measure.Angle
		standing joint.Setting
		gap      float64 // derived
	}{
		{"square corner", base, stock.End{Kind: stock.EndInsideMiter}, d, joint.Setting{Miter: 45 * d}, 0},
		// A corner of 91° wants 44.5°: half to even is 44°, half a degree off, which opens
		// 2·(9/16)/cos 44°·sin .5°.
		{"91°", base, stock.End{Kind: stock.EndOutsideMiter, Angle: 91 * d}, d, joint.Setting{Miter: 44 * d}, .01365},
		{"91°, half degrees", base, stock.End{Kind: stock.EndOutsideMiter, Angle: 91 * d}, d / 2, joint.Setting{Miter: 44*d + d/2}, 0},
		{"casing", casing, stock.End{Kind: stock.EndFlatMiter, Angle: 91 * d}, d, joint.Setting{Bevel: 44 * d}, .08492},
		// One cut at 1° instead of 1.4°: (9/16)/cos 1°·sin .4°.
		{"butt", base, stock.End{Kind: stock.EndButt, Angle: 91*d + 2*d/5}, d, joint.Setting{Miter: d}, .003928},
		{"scarf", base, stock.End{Kind: stock.EndScarfOver, Angle: 22*d + d/2}, d, joint.Setting{Miter: 22 * d}, 0},
		{"crown nested", crown, stock.End{Kind: stock.EndCope}, d, joint.Setting{Miter: 45 * d}, 0},
	} {
		got, err := round(c.p, c.end, c.grain)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if got.Standing != c.standing {
			t.Errorf("%s: standing %+v, want %+v", c.name, got.Standing, c.standing)
		}
		near(t, c.name+": gap", got.StandingGap.Inches(), c.gap, .00001)
	}
	// 38° crown on the flat, 31.62° and 33.86°, on a saw that shows whole degrees: 32° and
	// 34°. The planes are .349° apart, over 4 in / cos 32° on either side (derived by the
	// angle between the normals).
	got, err := round(crown, stock.End{Kind: stock.EndInsideMiter}, d)
	if err != nil || got.Flat != (joint.Setting{Miter: 32 * d, Bevel: 34 * d}) {
		t.Fatalf("%+v, %v", got, err)
	}
	near(t, "crown flat gap", got.FlatGap.Inches(), .0573, .002)

	var fe *measure.FieldError
	for _, grain := range []measure.Angle{0, -1, 46 * d} {
		if _, err := round(base, stock.End{}, grain); !errors.As(err, &fe) || fe.Field != "graduation" {
			t.Errorf("%v: %v", grain, err)
		}
	}
	if _, err := round(base, stock.End{Kind: stock.EndInsideMiter, Angle: 181 * d}, d); !errors.As(err, &fe) {
		t.Errorf("%v", err)
	}
	// Crown that hardly leans, in a corner that is hardly one, is beveled to 90°.
	steep := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: in, Width: 4 * in, Spring: 1}
	if _, err := round(steep, stock.End{Kind: stock.EndInsideMiter, Angle: 1}, 1); !errors.As(err, &fe) || fe.Field != "end.angle" {
		t.Errorf("%v", err)
	}
	// 89.9° rounds to an angle to which no saw can be set: use a finer scale.
	if _, err := round(base, stock.End{Kind: stock.EndOutsideMiter, Angle: d / 5}, d); !errors.As(err, &fe) || fe.Field != "graduation" {
		t.Errorf("%v", err)
	}
}

// Rounding moves a setting by half a graduation at most, and the finer the scale the
// smaller the gap can be held: it never exceeds that of half a graduation.
func TestRoundingGapIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corner := measure.Angle(rapid.Int64Range(int64(30*measure.Degree), int64(170*measure.Degree)).Draw(t, "corner"))
		grain := measure.Angle(rapid.Int64Range(int64(measure.Degree/100), int64(measure.Degree)).Draw(t, "graduation"))
		p := stock.Profile{Name: "trim", Thickness: sections().Draw(t, "thickness"), Width: measure.Foot}
		got, err := round(p, stock.End{Kind: stock.EndOutsideMiter, Angle: corner}, grain)
		if err != nil {
			t.Fatal(err)
		}
		m, _ := joint.MiterAngle(corner)
		if off := got.Standing.Miter - m; 2*off > grain || 2*off < -grain {
			t.Fatalf("%v is rounded to %v", m, got.Standing.Miter)
		}
		// |d| is twice the error; the cut is thickness/cos M long.
		length := float64(p.Thickness) / math.Cos(got.Standing.Miter.Radians())
		if float64(got.StandingGap) > 2*length*grain.Radians()/2*1.001+1 {
			t.Fatalf("gap %v", got.StandingGap)
		}
	})
}

func TestHand(t *testing.T) {
	base := stock.Profile{Name: "base"}
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown}
	casing := stock.Profile{Name: "casing", Role: stock.RoleCasing}
	for _, c := range []struct {
		p    stock.Profile
		end  stock.EndKind
		side joint.Side
		want joint.Hand
	}{ // all derived: see Cut.Hand
		{base, stock.EndInsideMiter, joint.SideLeft, joint.Hand{Miter: joint.SideRight, Keep: joint.SideRight}},
		{base, stock.EndInsideMiter, joint.SideRight, joint.Hand{Miter: joint.SideLeft, Keep: joint.SideLeft}},
		{base, stock.EndCope, joint.SideRight, joint.Hand{Miter: joint.SideLeft, Keep: joint.SideLeft}},
		{base, stock.EndOutsideMiter, joint.SideLeft, joint.Hand{Miter: joint.SideLeft, Keep: joint.SideRight}},
		{base, stock.EndOutsideMiter, joint.SideRight, joint.Hand{Miter: joint.SideRight, Keep: joint.SideLeft}},
		{base, stock.EndSquare, joint.SideRight, joint.Hand{Keep: joint.SideLeft}},
		{crown, stock.EndInsideMiter, joint.SideLeft, joint.Hand{Miter: joint.SideLeft, Keep: joint.SideLeft}},
		{crown, stock.EndOutsideMiter, joint.SideLeft, joint.Hand{Miter: joint.SideRight, Keep: joint.SideLeft}},
		{casing, stock.EndFlatMiter, joint.SideLeft, joint.Hand{Miter: joint.SideRight, Keep: joint.SideRight}},
		{base, stock.EndInsideMiter, joint.SideNone, joint.Hand{}},
		{base, stock.EndInsideMiter, 77, joint.Hand{}},
	} {
		if got := hand(t, c.p, stock.End{Kind: c.end}, c.side); got != c.want {
			t.Errorf("%s %v at %v: %+v, want %+v", c.p.Name, c.end, c.side, got, c.want)
		}
	}
	// The two ends of one corner are cut with the arm to opposite sides, and so are an
	// inside and an outside corner.
	for _, k := range []stock.EndKind{stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndCope, stock.EndReturn} {
		l, r := hand(t, base, stock.End{Kind: k}, joint.SideLeft), hand(t, base, stock.End{Kind: k}, joint.SideRight)
		if l.Miter == r.Miter || l.Keep == r.Keep {
			t.Errorf("%v: %+v, %+v", k, l, r)
		}
	}
}
