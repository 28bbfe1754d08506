package joint_test

import (
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"pgregory.net/rapid"
)

var raked = []stock.EndKind{stock.EndPlumb, stock.EndLevel, stock.EndRake}

// A piece that runs up a slope is built here in the plane of the wall from two points of each edge and
// cut with the line of the joint, without tangents of half angles: the distance between its two points,
// and which edge is longer, must equal the result of NewCut.
func TestRakedCutIsWhereTheEdgesMeetTheJoint(t *testing.T) {
	type vec struct{ x, y float64 }
	rapid.Check(t, func(t *rapid.T) {
		slope := measure.Angle(rapid.Int64Range(-60, 60).Draw(t, "slope")) * measure.Degree
		width := measure.Length(rapid.Int64Range(8, 16*16).Draw(t, "width")) * measure.Inch / 16
		kind := rapid.SampledFrom(raked).Draw(t, "kind")
		right := rapid.Bool().Draw(t, "right end")
		along := vec{math.Cos(slope.Radians()), math.Sin(slope.Radians())}
		up := vec{-along.y, along.x}

		// The direction of the joint's line on the wall.
		var line vec
		switch kind {
		case stock.EndPlumb:
			line = vec{0, 1}
		case stock.EndLevel:
			if slope > -5*measure.Degree && slope < 5*measure.Degree {
				t.Skip("level trim has no level cut")
			}
			line = vec{1, 0}
		case stock.EndRake: // the sum of the two pieces' square directions halves the angle
			other := measure.Angle(rapid.Int64Range(-60, 60).Draw(t, "other")) * measure.Degree
			line = vec{up.x - math.Sin(other.Radians()), up.y + math.Cos(other.Radians())}
		}
		// From the lower edge at 0 along the line until the upper edge is reached.
		square := float64(line.x*up.x) + float64(line.y*up.y)
		beyond := (float64(line.x*along.x) + float64(line.y*along.y)) / square * width.Inches()
		if !right {
			beyond = -beyond // how much longer the upper edge is
		}
		angle, err := measure.FromDegrees(math.Atan(beyond/width.Inches()) * 180 / math.Pi)
		if err != nil {
			t.Fatal(err)
		}
		end := stock.End{Kind: kind, Angle: angle}
		cut, err := joint.NewCut(stock.Profile{Thickness: measure.Inch / 2, Width: width}, end)
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(cut.End.Setback.Inches() - math.Abs(beyond)); d > 1e-5 {
			t.Fatalf("points %v apart, the edges meet the joint %f apart", cut.End.Setback, beyond)
		}
		if want := max(beyond, 0); math.Abs(cut.Allowance.Inches()-want) > 1e-5 {
			t.Fatalf("allowance %v, want %f", cut.Allowance, want)
		}
		long := map[bool]stock.SectionPoint{true: stock.SectionUpperEdge, false: stock.SectionLowerEdge}[beyond > 0]
		if angle == 0 {
			long = stock.SectionAll
		}
		if got := cut.End.LongPoint(); got != long {
			t.Fatalf("long point at the %s, want the %s", got, long)
		}
		// At a left end the arm is turned toward the piece if the far, upper edge is long.
		side, hand := joint.SideLeft, joint.Hand{Keep: joint.SideRight}
		if right {
			side, hand = joint.SideRight, joint.Hand{Keep: joint.SideLeft}
		}
		switch {
		case beyond > 0 && angle != 0:
			hand.Miter = hand.Keep
		case angle != 0:
			hand.Miter = side
		}
		if got := cut.Hand(side); got != hand {
			t.Fatalf("hand %+v, want %+v", got, hand)
		}
	})
}

// The miter of crown in the plane of its wall is a plane square to the wall. Both settings,
// and the distance of its points, are of that plane: its normal is taken along the length,
// the width and the thickness of the leaning crown.
func TestRakeMiterOfCrownIsSquareToTheWall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := measure.Angle(rapid.Int64Range(1, 60*int64(measure.Degree)).Draw(t, "angle"))
		spring := measure.Angle(rapid.Int64Range(20, 60).Draw(t, "spring")) * measure.Degree
		p := stock.Profile{Role: stock.RoleCrown, Thickness: measure.Inch, Width: 4 * measure.Inch, Spring: spring}
		c, err := joint.NewCut(p, stock.End{Kind: stock.EndRake, Angle: turn})
		if err != nil {
			t.Fatal(err)
		}
		a, s := turn.Radians(), spring.Radians()
		n := [3]float64{math.Cos(a), 0, math.Sin(a)} // along the wall, into the room, up
		width := n[2] * math.Cos(s)                  // width leans (0, sin s, cos s)
		thick := n[2] * math.Sin(s)                  // thickness leans (0, −cos s, sin s)
		m, b := c.Flat.Miter.Radians(), c.Flat.Bevel.Radians()
		for i, pair := range [][2]float64{
			{n[0], math.Cos(b) * math.Cos(m)}, {width, math.Cos(b) * math.Sin(m)}, {thick, math.Sin(b)},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9 {
				t.Fatalf("component %d: plane %g, saw %g", i, pair[0], pair[1])
			}
		}
		if c.Standing != (joint.Setting{Bevel: turn}) {
			t.Fatalf("nested at %+v", c.Standing)
		}
		if d := c.End.Setback.Inches() - p.Drop().Inches()*math.Tan(a); math.Abs(d) > 1e-5 {
			t.Fatalf("points %v apart", c.End.Setback)
		}
		if h := c.Hand(joint.SideLeft); h != (joint.Hand{Keep: joint.SideLeft}) { // upside down
			t.Fatalf("hand %+v", h)
		}
	})
}

// Crown of 3-5/8 in that turns up a ceiling of 6 in 12, and its peak. Derived: a turn of
// phi in the plane of the wall is cut flat at tan M = cos s · tan(phi/2) and
// sin B = sin s · sin(phi/2); for 38° and phi = 26.565° these are
// .78801·.23607 = tan 10.538° and .61566·.22975 = sin 8.132°.
func TestRakeMiterValues(t *testing.T) {
	for _, c := range []struct{ spring, half, miter, bevel float64 }{
		{38, 13.2825, 10.538, 8.132}, {38, 26.5651, 21.505, 15.982}, {45, 13.2825, 9.477, 9.350},
	} {
		spring, _ := measure.FromDegrees(c.spring)
		half, _ := measure.FromDegrees(c.half)
		p := stock.Profile{Role: stock.RoleCrown, Width: 29 * measure.Inch / 8, Spring: spring}
		for _, a := range []measure.Angle{half, -half} {
			got, err := joint.NewCut(p, stock.End{Kind: stock.EndRake, Angle: a})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got.Flat.Miter.Degrees()-c.miter) > .0006 || math.Abs(got.Flat.Bevel.Degrees()-c.bevel) > .0006 {
				t.Errorf("spring %v, %v: %v, %v, want %v, %v", c.spring, c.half, got.Flat.Miter.Degrees(), got.Flat.Bevel.Degrees(), c.miter, c.bevel)
			}
		}
	}
}

// A skirt of 9-1/4 in on steps of 7-1/2 in by 10 in, whose angle is that of a triangle of
// 3, 4 and 5: plumb cut 36.87°, points 6-15/16 in apart. Rounded to a degree, a plumb cut
// of 9-1/4 in opens 9.25/cos 37° · sin .13° and a miter twice that. Derived.
func TestRoundRaked(t *testing.T) {
	slope, err := measure.NewSlope(15*measure.Inch/2, 10*measure.Inch)
	if err != nil {
		t.Fatal(err)
	}
	p := stock.Profile{Width: 37 * measure.Inch / 4, Thickness: 3 * measure.Inch / 4}
	var gaps [3]float64
	for i, k := range raked {
		c, err := joint.NewCut(p, stock.End{Kind: k, Angle: -slope.Angle()})
		if err != nil {
			t.Fatal(err)
		}
		if d := c.End.Setback - 111*measure.Inch/16; d > 1 || d < -1 {
			t.Errorf("%v: points %v apart", k, c.End.Setback)
		}
		r, err := c.Round(measure.Degree)
		if err != nil || r.Flat.Miter != 37*measure.Degree || r.FlatGap != r.StandingGap {
			t.Errorf("%v: %+v, %v", k, r, err)
		}
		gaps[i] = r.FlatGap.Inches()
	}
	want := 9.25 / math.Cos(37*math.Pi/180) * math.Sin(37*math.Pi/180-math.Atan(.75))
	for i, w := range []float64{want, want, 2 * want} {
		if math.Abs(gaps[i]-w) > 1e-5 {
			t.Errorf("%v opens %f, want %f", raked[i], gaps[i], w)
		}
	}
	square, err := joint.NewCut(p, stock.End{Kind: stock.EndRake})
	if err != nil || square.Standing != (joint.Setting{}) || square.End.Setback != 0 || square.Hand(joint.SideLeft).Miter != joint.SideNone {
		t.Errorf("with a slope of zero: %+v, %v", square, err)
	}
	for _, a := range []measure.Angle{90 * measure.Degree, -90 * measure.Degree, math.MaxInt64, math.MinInt64} {
		if _, err := joint.NewCut(p, stock.End{Kind: stock.EndPlumb, Angle: a}); err == nil {
			t.Errorf("a cut at %v from square", a)
		}
	}
}
