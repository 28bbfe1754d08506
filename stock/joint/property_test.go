package joint_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"pgregory.net/rapid"
)

func corners() *rapid.Generator[measure.Angle] {
	return rapid.Map(rapid.Int64Range(1*int64(measure.Degree), 179*int64(measure.Degree)),
		func(a int64) measure.Angle { return measure.Angle(a) })
}

func sections() *rapid.Generator[measure.Length] {
	return rapid.Map(rapid.Int64Range(1, int64(measure.Foot)), func(l int64) measure.Length { return measure.Length(l) })
}

// The distance from short to long point is where the two faces meet: the faces stand off both walls by
// the thickness, and their lines are intersected here in the plane, without any half angle.
func TestOffsetIsWhereFacesMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, thickness := corners().Draw(t, "corner"), sections().Draw(t, "thickness")
		got, err := joint.MiterOffset(thickness, a)
		if err != nil {
			t.Fatal(err)
		}
		// Wall 1 is the x axis, wall 2 leaves the origin at angle a. The face of 1 is
		// y = d; that of 2 has distance d from wall 2: x·sin a − y·cos a = d.
		d, sin, cos := float64(thickness), math.Sin(a.Radians()), math.Cos(a.Radians())
		want := (d + float64(d*cos)) / sin
		if math.Abs(float64(got)-want) > 0.5+1e-9*want {
			t.Fatalf("offset %d, faces meet at %f", got, want)
		}
	})
}

func TestMiterIsHalfTheTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := corners().Draw(t, "corner")
		m, err := joint.MiterAngle(a)
		if err != nil {
			t.Fatal(err)
		}
		if d := a + 2*m - 180*measure.Degree; d < -1 || d > 1 {
			t.Fatalf("2·%v + %v is not 180°", m, a)
		}
		if g, err := joint.MiterGap(measure.Inch, m, a); err != nil || g != 0 {
			t.Fatalf("gap %v, %v at the right setting", g, err)
		}
	})
}

// The cut of a crown joint lies in the vertical plane that bisects the corner. Its
// normal, taken along the length, the width and the thickness of the leaning crown,
// has to be the normal of a cut by a saw at the two settings.
func TestCrownCutBisectsCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := corners().Draw(t, "corner")
		spring := measure.Angle(rapid.Int64Range(int64(measure.Degree), 89*int64(measure.Degree)).Draw(t, "spring"))
		got, err := joint.CrownSetting(spring, a)
		if err != nil {
			t.Fatal(err)
		}
		h, s := a.Radians()/2, spring.Radians()
		n := [3]float64{math.Sin(h), -math.Cos(h), 0} // along the wall, into the room, up
		along := n[0]
		width := n[1] * math.Sin(s) // width leans (0, sin s, cos s)
		thick := n[1] * math.Cos(s) // thickness leans (0, cos s, −sin s)
		m, b := got.Miter.Radians(), got.Bevel.Radians()
		for i, pair := range [][2]float64{
			{along, math.Cos(b) * math.Cos(m)}, {-width, math.Cos(b) * math.Sin(m)}, {-thick, math.Sin(b)},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9 {
				t.Fatalf("component %d: plane %g, saw %g", i, pair[0], pair[1])
			}
		}
	})
}

// Whatever is asked, joints answer or name the fields that they cannot use.
func TestNewCutNeverPanics(t *testing.T) {
	fields := []string{"profile.thickness", "profile.width", "profile.spring", "end.kind", "end.angle"}
	rapid.Check(t, func(t *rapid.T) {
		sane := rapid.Bool().Draw(t, "sane") // or almost no cut is made
		lo, hi := int64(math.MinInt64), int64(math.MaxInt64)
		if sane {
			lo, hi = 0, int64(180*measure.Degree)
		}
		p := stock.Profile{
			Role:      stock.Role(rapid.Uint8Range(0, 12).Draw(t, "role")),
			Thickness: measure.Length(rapid.Int64Range(lo, math.MaxInt64).Draw(t, "thickness")),
			Width:     measure.Length(rapid.Int64Range(lo, math.MaxInt64).Draw(t, "width")),
			Spring:    measure.Angle(rapid.Int64Range(lo, hi).Draw(t, "spring")),
		}
		e := stock.End{Kind: stock.EndKind(rapid.Uint8Range(0, 15).Draw(t, "kind")), Angle: measure.Angle(rapid.Int64Range(lo, hi).Draw(t, "angle"))}
		cut, err := joint.NewCut(p, e)
		last := -1
		for f := range measure.FieldErrors(err) {
			i := slices.Index(fields, f.Field)
			if i <= last || f.Want == "" {
				t.Fatalf("%v after field %d", f, last)
			}
			last = i
		}
		if (err != nil) != (last >= 0) {
			t.Fatalf("%T %v", err, err)
		}
		if bad := p.Thickness < 0 || p.Width < 0 || e.Kind > stock.EndRake; bad && err == nil {
			t.Fatal("no error")
		}
		if err != nil {
			return
		}
		if cut.End.Setback < 0 {
			t.Fatalf("setback %v", cut.End.Setback)
		}
		grain := measure.Angle(rapid.Int64Range(-1, int64(46*measure.Degree)).Draw(t, "graduation"))
		saw, err := cut.Round(grain)
		for _, s := range []joint.Setting{saw.Standing, saw.Flat} {
			if s.Miter < 0 || s.Bevel < 0 || s.Miter >= 90*measure.Degree || s.Bevel >= 90*measure.Degree {
				t.Fatalf("set to %v", s)
			}
		}
		f := (*measure.FieldError)(nil)
		if ok := err == nil || errors.As(err, &f) && (f.Field == "graduation" || f.Field == "end.angle"); !ok {
			t.Fatalf("%T %v", err, err)
		}
		if outside := grain <= 0 || grain > 45*measure.Degree; outside && (f == nil || f.Field != "graduation") {
			t.Fatalf("a scale of %v: %v", grain, err)
		}
	})
}

// Both settings of a cut, and the distance of its points, belong to one plane: an upright piece is cut
// through its projection, one flat on its back through its thickness or, if the saw is swung, across
// its width. Crown has no thickness here.
func TestSettingsAreOnePlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := stock.Profile{
			Role:      rapid.SampledFrom([]stock.Role{stock.RoleBase, stock.RoleChairRail, stock.RoleCrown}).Draw(t, "role"),
			Thickness: measure.Length(rapid.Int64Range(4, 32).Draw(t, "thickness")) * measure.Inch / 16,
			Width:     measure.Length(rapid.Int64Range(16, 128).Draw(t, "width")) * measure.Inch / 16,
			Spring:    measure.Angle(rapid.Int64Range(20, 60).Draw(t, "spring")) * measure.Degree,
		}
		end := stock.End{Kind: rapid.SampledFrom([]stock.EndKind{
			stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndReturn, stock.EndScarfOver, stock.EndScarfUnder,
		}).Draw(t, "kind")}
		end.Angle = measure.Angle(rapid.Int64Range(30, 150).Draw(t, "corner")) * measure.Degree
		if end.Kind.Spliced() {
			end.Angle = measure.Angle(rapid.Int64Range(10, 60).Draw(t, "bevel")) * measure.Degree
		}
		c, err := joint.NewCut(p, end)
		if err != nil {
			t.Fatal(err)
		}
		tan := func(a measure.Angle) float64 { return math.Tan(a.Radians()) }
		standing := p.Projection().Inches() * tan(c.Standing.Miter)
		flat := p.Thickness.Inches() * tan(c.Flat.Bevel)
		if p.Role == stock.RoleCrown {
			flat = p.Width.Inches() * tan(c.Flat.Miter)
		}
		if s := c.End.Setback.Inches(); math.Abs(s-standing) > 1e-5 || math.Abs(s-flat) > 1e-5 {
			t.Fatalf("%v of %v: the points are %v apart, standing %v, flat %v", end.Kind, p.Role, s, standing, flat)
		}
	})
}
