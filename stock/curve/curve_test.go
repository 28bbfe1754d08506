package curve_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/curve"
)

const (
	in  = measure.Inch
	deg = measure.Degree
)

// near fails unless a length is the value that is printed to a number of decimals of an inch.
func near(t *testing.T, what string, got measure.Length, want float64, decimals int) {
	t.Helper()
	if off := math.Abs(got.Inches() - want); off > 0.5*math.Pow10(-decimals)+1e-6 {
		t.Errorf("%s: %v, want %v in", what, got.Inches(), want)
	}
}

func nearAngle(t *testing.T, what string, got measure.Angle, want float64, decimals int) {
	t.Helper()
	if off := math.Abs(got.Degrees() - want); off > 0.5*math.Pow10(-decimals)+1e-6 {
		t.Errorf("%s: %v, want %v°", what, got, want)
	}
}

func TestArcs(t *testing.T) {
	for _, c := range []struct {
		arc    curve.Arc
		radius float64
		length float64
	}{
		// R 60 as in "Finding the Arc Radius" (Fusco); the length derived: 60·2·asin(96/120).
		{curve.Arc{Chord: 96 * in, Rise: 24 * in}, 60, 111.2754},
		// R 28.625 as in an answer of the Math Forum; the length derived: 2R·asin(15/2R).
		{curve.Arc{Chord: 15 * in, Rise: in}, 28.625, 15.1772},
		// Derived: 120²/48 + 3 = 303.
		{curve.Arc{Chord: 120 * in, Rise: 6 * in}, 303, 120.7984},
		// Derived: 90°·60·π/180.
		{curve.Arc{Radius: 60 * in, Angle: 90 * deg}, 60, 94.2478},
		// Derived, against the rule of thumb "rise and width", which says 126 and 135.
		{curve.Arc{Chord: 90 * in, Rise: 36 * in}, 46.125, 124.49},
		{curve.Arc{Chord: 90 * in, Rise: 45 * in}, 45, 141.37},
	} {
		d, err := c.arc.Dimensions()
		if err != nil {
			t.Errorf("%+v: %v", c.arc, err)
			continue
		}
		near(t, "radius", d.Radius, c.radius, 4)
		decimals := 4
		if c.arc.Chord == 90*in {
			decimals = 2
		}
		near(t, "length", d.Length, c.length, decimals)
	}
}

// Each pair of sizes gives the others; beyond half a circle chord and rise still tell.
func TestSizesAgree(t *testing.T) {
	for _, angle := range []measure.Angle{deg, 30 * deg, 60 * deg, 90 * deg, 120 * deg, 180 * deg, 200 * deg, 300 * deg, 340 * deg} {
		d, err := curve.Arc{Radius: 60 * in, Angle: angle}.Dimensions()
		if err != nil {
			t.Fatal(err)
		}
		arcs := []curve.Arc{{Chord: d.Chord, Rise: d.Rise}}
		if angle <= 180*deg {
			arcs = append(arcs, curve.Arc{Chord: d.Chord, Radius: d.Radius})
		}
		for _, a := range arcs {
			e, err := a.Dimensions()
			if err != nil {
				t.Fatal(err)
			}
			// A chord to the tick near 180° determines the angle only to the square root of a tick.
			if off := (e.Length - d.Length).Inches(); math.Abs(off) > 1e-3 {
				t.Errorf("%+v has %+v, want %+v", a, e, d)
			}
		}
	}
	// Exact: a sixth of a circle has its radius as chord, half of one twice it.
	if d, _ := (curve.Arc{Radius: 60 * in, Angle: 180 * deg}).Dimensions(); d.Chord != 120*in || d.Rise != 60*in {
		t.Errorf("half a circle of 60 in: %+v", d)
	}
	if d, _ := (curve.Arc{Radius: 60 * in, Angle: 60 * deg}).Dimensions(); d.Chord != 60*in {
		t.Errorf("a sixth of a circle of 60 in: %+v", d)
	}
	if d, _ := (curve.Arc{Chord: 120 * in, Radius: 60 * in}).Dimensions(); d.Angle != 180*deg || d.Rise != 60*in {
		t.Errorf("half a circle of 60 in: %+v", d)
	}
}

// Derived: R·θ, (R ± 9/16)·θ for 90° at R 60.
func TestFlexible(t *testing.T) {
	s := curve.Strip{Arc: curve.Arc{Radius: 60 * in, Angle: 90 * deg}, Thickness: 9 * in / 16}
	f, err := s.Flexible()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "back", f.Back, 94.2478, 4)
	near(t, "convex face", f.Face, 95.1314, 4)
	s.Bend = curve.BendConcave
	if f, err = s.Flexible(); err != nil {
		t.Fatal(err)
	}
	near(t, "concave face", f.Face, 93.3642, 4)
	// Shoe of 1/2 before it: its back lies on the face of the base.
	shoe, err := curve.Strip{Arc: s.Arc, Bend: s.Bend, Thickness: in / 2, Standoff: s.Thickness}.Flexible()
	if err != nil || shoe.Back != f.Face {
		t.Errorf("back of the shoe %v, face of the base %v, %v", shoe.Back, f.Face, err)
	}
}

// Derived from R(1 - cos(θ/2n)); 90° in chords.
func TestSegments(t *testing.T) {
	for _, c := range []struct {
		radius, tolerance measure.Length
		count             int
	}{
		{60 * in, in / 16, 18}, {60 * in, in / 32, 25}, {60 * in, in / 8, 13}, {24 * in, in / 16, 11}, {120 * in, in / 16, 25},
	} {
		s, err := curve.Strip{Arc: curve.Arc{Radius: c.radius, Angle: 90 * deg}, Bend: curve.BendConcave, Thickness: 9 * in / 16}.Segments(c.tolerance)
		if err != nil || s.Count != c.count {
			t.Errorf("R %v within %v: %d segments, want %d, %v", c.radius, c.tolerance, s.Count, c.count, err)
		}
		if c.count == 18 {
			near(t, "chord", s.Back, 5.2343, 4)
			near(t, "sagitta", s.Gap, .0571, 4)
			if s.Miter != 5*deg/2 {
				t.Errorf("miter %v, want 2.5°", s.Miter)
			}
		}
	}
}

// Derived: 2·atan(f/2y) with f 1/8 and y 9/16 is 12.680°, at a radius of 24 in of the bottoms of
// the kerfs 5.3115 apart. "Manual of Carpentry and Joinery" (Riley, 1905) measures the chord of
// it, 2R·sin(β/2), "Building Construction" (International Correspondence Schools) what the board
// is lifted by, R·sin β; the same kerf gives both of their figures.
func TestKerfs(t *testing.T) {
	s := curve.Strip{Arc: curve.Arc{Radius: 24*in - 9*in/16, Angle: 90 * deg}, Thickness: 5 * in / 8}
	k, err := s.Kerfs(curve.Kerf{Width: in / 8})
	if err != nil {
		t.Fatal(err)
	}
	nearAngle(t, "angle", k.Angle, 12.680, 3)
	near(t, "spacing", k.MaxSpacing, 5.3115, 4)
	if k.Count != 8 || k.Depth != 9*in/16 || k.Web != in/16 || k.Radius != 24*in {
		t.Errorf("%+v, want 8 kerfs, 9/16 deep, 1/16 left, hinged at 24", k)
	}
	chord, _ := measure.FromInches(2 * 24 * math.Sin(k.Angle.Radians()/2))
	lift, _ := measure.FromInches(24 * math.Sin(k.Angle.Radians()))
	near(t, "Riley", chord, 5.3007, 4)
	near(t, "lift", lift, 5.2683, 4)

	for field, spoil := range map[string]func(*curve.Strip, *curve.Kerf){
		"bend":       func(s *curve.Strip, _ *curve.Kerf) { s.Bend = curve.BendConcave },
		"kerf.depth": func(_ *curve.Strip, k *curve.Kerf) { k.Depth = 9*in/16 + 1 },
		"kerf.width": func(_ *curve.Strip, k *curve.Kerf) { k.Width = 0 },
		"kerf.web":   func(_ *curve.Strip, k *curve.Kerf) { k.Web = -1 },
		"thickness":  func(s *curve.Strip, _ *curve.Kerf) { s.Thickness = 0 },
	} {
		strip, kerf := s, curve.Kerf{Width: in / 8}
		spoil(&strip, &kerf)
		_, err := strip.Kerfs(kerf)
		wantField(t, err, field)
	}
}

// Derived: 2·(3/4)·tan 22.5°, and so on.
func TestBullnose(t *testing.T) {
	s, err := curve.Bullnose{Radius: 3 * in / 4, Thickness: 9 * in / 16}.Segments()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "back", s.Back, .6213, 4)
	near(t, "face", s.Face, 1.0873, 4)
	near(t, "short", s.Short, .4393, 4)
	if s.Count != 1 || s.Miter != 45*deg/2 {
		t.Errorf("%+v, want one piece at 22.5°", s)
	}
}

// From a flexible-molding maker's measuring sheet, its name withheld.
func TestMinRadius(t *testing.T) {
	for _, c := range []struct {
		width  measure.Length
		radius measure.Length
		ok     bool
	}{
		{5 * in / 2, 6 * in, true}, {3 * in, 6 * in, true}, {3*in + 1, 8 * in, true}, {9 * in / 2, 12 * in, true}, {21 * in / 4, 18 * in, true},
		{7 * in, 24 * in, true}, {10 * in, 36 * in, true}, {10*in + 1, 0, false}, {in, 6 * in, true}, {0, 6 * in, false}, {-in, 6 * in, false},
	} {
		if r, ok := curve.MinRadius(c.width); r != c.radius || ok != c.ok {
			t.Errorf("%v wide: %v, %v", c.width, r, ok)
		}
	}
}

func wantField(t *testing.T, err error, field string) {
	t.Helper()
	for e := range measure.FieldErrors(err) {
		if e.Field == field {
			return
		}
	}
	t.Errorf("error %v does not name %s", err, field)
}

func TestArcErrors(t *testing.T) {
	for _, c := range []struct {
		field string
		arc   curve.Arc
	}{
		{"chord", curve.Arc{}},
		{"rise", curve.Arc{Chord: 96 * in}},
		{"chord", curve.Arc{Rise: in}},
		{"angle", curve.Arc{Radius: 60 * in}},
		{"radius", curve.Arc{Angle: 90 * deg}},
		{"rise", curve.Arc{Radius: in, Angle: deg, Rise: in}},
		{"chord", curve.Arc{Radius: in, Angle: deg, Chord: in}},
		{"radius", curve.Arc{Chord: 96 * in, Rise: 24 * in, Radius: 60 * in}},
		{"radius", curve.Arc{Chord: 96 * in, Radius: 48*in - 1}},
		{"radius", curve.Arc{Chord: in / 4, Radius: 60 * 12 * in}},
		{"rise", curve.Arc{Chord: 96 * in, Rise: 961 * in}},
		{"rise", curve.Arc{Chord: 96 * in, Rise: in / 1000}},
		{"chord", curve.Arc{Chord: -1, Rise: in}},
		{"rise", curve.Arc{Chord: in, Rise: math.MaxInt64}},
		{"radius", curve.Arc{Radius: math.MinInt64, Angle: deg}},
		{"angle", curve.Arc{Radius: in, Angle: 351 * deg}},
		{"angle", curve.Arc{Radius: in, Angle: math.MinInt64}},
	} {
		_, err := c.arc.Dimensions()
		wantField(t, err, c.field)
		_, err = curve.Strip{Arc: c.arc, Thickness: in}.Flexible()
		wantField(t, err, "arc."+c.field)
	}
	good := curve.Strip{Arc: curve.Arc{Radius: 60 * in, Angle: 90 * deg}, Thickness: in}
	for _, tolerance := range []measure.Length{0, -1, math.MinInt64, 1, 60 * in, math.MaxInt64} {
		_, err := good.Segments(tolerance)
		wantField(t, err, "tolerance")
	}
	tight := curve.Strip{Arc: curve.Arc{Radius: in, Angle: 90 * deg}, Bend: curve.BendConcave, Thickness: 2 * in}
	_, err := tight.Flexible()
	wantField(t, err, "thickness")
	tight.Thickness = 31 * in / 32
	_, err = tight.Segments(in / 4)
	wantField(t, err, "thickness")
	_, err = curve.Strip{Arc: good.Arc, Bend: 2, Thickness: -in, Standoff: -in}.Segments(0)
	for _, field := range []string{"bend", "thickness", "standoff", "tolerance"} {
		wantField(t, err, field)
	}
	_, err = curve.Bullnose{Radius: 0, Corner: 180 * deg, Pieces: 101, Thickness: -1}.Segments()
	for _, field := range []string{"radius", "corner", "pieces", "thickness"} {
		wantField(t, err, field)
	}
	_, err = curve.Strip{Arc: good.Arc, Thickness: in}.Kerfs(curve.Kerf{Width: 1})
	wantField(t, err, "kerf.width")
}

func TestJSON(t *testing.T) {
	type all struct {
		Strip    curve.Strip
		Kerf     curve.Kerf
		Bullnose curve.Bullnose
	}
	a := all{
		Strip:    curve.Strip{Arc: curve.Arc{Chord: 96 * in, Rise: 24 * in}, Bend: curve.BendConcave, Thickness: in, Standoff: in / 2},
		Kerf:     curve.Kerf{Width: in / 8, Depth: in / 2, Web: in / 8},
		Bullnose: curve.Bullnose{Radius: in, Corner: 135 * deg, Pieces: 2, Thickness: in},
	}
	text, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	var b all
	if err := json.Unmarshal(text, &b); err != nil || a != b {
		t.Errorf("%s reads as %+v, %v", text, b, err)
	}
	for _, text := range []string{
		`{"Kerf":{"width":"1/8in","depth":"0in"}}`, `{"Kerf":{"width":"1/8in","web":"0in"}}`, `{"Bullnose":{"corner":"0deg"}}`,
		`{"Bullnose":{"pieces":0}}`, `{"Strip":{"bend":"wavy"}}`,
	} {
		var field *measure.FieldError
		if err := json.Unmarshal([]byte(text), &b); !errors.As(err, &field) {
			t.Errorf("%s: %v", text, err)
		}
	}
	if _, err := curve.Bend(9).MarshalText(); err == nil || !strings.Contains(curve.Bend(9).String(), "9") {
		t.Error("an unknown bend was marshaled")
	}
}
