package stair_test

import (
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/stair"
)

const (
	in  = measure.Inch
	deg = measure.Degree
)

// near fails unless a length in inches or an angle in degrees is as printed, to half of its
// last place and a hair.
func near(t *testing.T, what string, got, want float64, places int) {
	t.Helper()
	if math.Abs(got-want) > .5001*math.Pow10(-places) {
		t.Errorf("%s is %.6f, want %.*f", what, got, places, want)
	}
}

func pitch(t testing.TB, rise, run measure.Length) measure.Slope {
	t.Helper()
	s, err := measure.NewSlope(rise, run)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Four usual steps. Derived: angle atan(rise/run), step √(rise² + run²), depth
// rise·run/step; that of 7-1/2 by 10 is a triangle of 3, 4 and 5.
func TestSteps(t *testing.T) {
	for _, c := range []struct {
		rise, run                      measure.Length
		angle, step, depth, half, cosv float64
	}{
		{15 * in / 2, 10 * in, 36.870, 12.5000, 6.0000, 18.435, .8000},
		{31 * in / 4, 10 * in, 37.776, 12.6516, 6.1257, 18.888, .7904},
		{7 * in, 11 * in, 32.471, 13.0384, 5.9056, 16.236, .8437},
		{29 * in / 4, 21 * in / 2, 34.624, 12.7598, 5.9660, 17.312, .8229},
	} {
		f := stair.Flight{Risers: 14, Rise: c.rise, Run: c.run}
		r, err := f.Rake()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "angle", r.Angle.Degrees(), c.angle, 3)
		near(t, "step", r.Step.Inches(), c.step, 4)
		near(t, "depth", r.Depth.Inches(), c.depth, 4)
		near(t, "cos", math.Cos(r.Angle.Radians()), c.cosv, 4)
		rail, err := f.Rail(3 * in)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "half of the turn", rail.Head.Angle.Degrees(), c.half, 3)
		if rail.Foot.Angle != -rail.Head.Angle {
			t.Errorf("a rail turns by %v and by %v", rail.Foot.Angle, rail.Head.Angle)
		}
		if r.Rise != 14*c.rise || r.Run != 13*c.run || r.Before != c.run {
			t.Errorf("%+v", r)
		}
	}
}

// The skirt of 14 risers of 7-1/2 in by 10 in. All derived; at 36.87° cos is 4/5, sin 3/5
// and tan 3/4: 130/.8 = 162.5, + 9.25·.75 = 169.4375; 9.25/.8 = 11.5625; 9.25 − 6 = 3.25.
func TestSkirtValues(t *testing.T) {
	f := stair.Flight{Risers: 14, Rise: 15 * in / 2, Run: 10 * in}
	wide := 37 * in / 4
	r, err := f.Rake()
	if err != nil || r.Length != 325*in/2 {
		t.Errorf("rake of %v, %v, want 162-1/2 in", r.Length, err)
	}
	plain, err := f.Skirt(stair.Skirt{Width: wide})
	if err != nil {
		t.Fatal(err)
	}
	if plain.Length != 2711*in/16 || plain.Plumb != 185*in/16 || plain.AboveNosings != 13*in/4 || plain.Edge != 325*in/2 {
		t.Errorf("plumb ends: %+v", plain)
	}
	if e := (stock.End{Kind: stock.EndPlumb, Angle: r.Angle, Setback: 111 * in / 16}); plain.Head != e || plain.Foot.Angle != -e.Angle || plain.Foot.Setback != e.Setback {
		t.Errorf("plumb ends: %+v, %+v", plain.Foot, plain.Head)
	}

	// Base and skirt of 5-1/2 in: 18.435° each, joint 5.5/cos 18.435° = 5.7975. Base of
	// 5-1/2 and skirt of 4-2/5, which is 5-1/2·cos: plumb.
	s := pitch(t, f.Rise, f.Run)
	alike, err := stair.Meet(s, 11*in/2, 11*in/2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "half", -alike.Level.Degrees(), 18.435, 3)
	near(t, "half", -alike.Rake.Degrees(), 18.435, 3)
	near(t, "joint", alike.Joint.Inches(), 5.7975, 4)
	plumb, err := stair.Meet(s, 11*in/2, 22*in/5)
	if err != nil || plumb.Level != 0 || plumb.Rake != -r.Angle || plumb.Joint != 11*in/2 {
		t.Errorf("width·cos: %+v, %v", plumb, err)
	}
	// 9-1/4 on base of 5-1/2: level cut (11.5625 − 5.5)/.75 = 8.0833.
	simple, err := f.Skirt(stair.Skirt{Width: wide, Foot: 11 * in / 2, Head: 11 * in / 2, Joint: stair.JointPlumb})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "level cut", simple.FootLevel.Inches(), 8.0833, 4)
	near(t, "level cut above", simple.HeadLevel.Inches(), 10-8.0833, 4)
	if simple.BaseEnd != -simple.FootLevel || simple.FootBase != (stock.End{}) || simple.FootLack != 0 || simple.HeadLack != 0 {
		t.Errorf("plumb joint: %+v", simple)
	}
}

// crownOf is a crown of the spring angle and the width.
func crownOf(spring measure.Angle, width measure.Length) stock.Profile {
	return stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: in / 2, Width: width, Spring: spring}
}

// Low inside corners of four ceilings, per inch of crown. Derived: with P = sin and
// H = cos of the spring, milled for the rake H·cos − P·sin, for the level wall
// H/cos + P·tan of the slope, the width √(P² + ·²), the spring atan(P/·).
func TestTransitionTable(t *testing.T) {
	const w = 100 * in // an inch, a hundred times as exact
	for _, c := range []struct {
		rise           measure.Length
		angle          float64
		q, width, s    [2]float64 // for spring angles of 38° and 45°
		level, stocked [2]float64
	}{
		{3, 14.036, [2]float64{.6152, .5145}, [2]float64{.8703, .8745}, [2]float64{45.02, 53.96}, [2]float64{.9662, .9056}, [2]float64{1.1457, 1.1490}},
		{4, 18.435, [2]float64{.5529, .4472}, [2]float64{.8275, .8367}, [2]float64{48.08, 57.69}, [2]float64{1.0359, .9811}, [2]float64{1.2050, 1.2093}},
		{6, 26.565, [2]float64{.4295, .3162}, [2]float64{.7507, .7746}, [2]float64{55.10, 65.91}, [2]float64{1.1889, 1.1441}, [2]float64{1.3388, 1.3450}},
		{8, 33.690, [2]float64{.3142, .1961}, [2]float64{.6912, .7338}, [2]float64{62.97, 74.50}, [2]float64{1.3575, 1.3212}, [2]float64{1.4906, 1.4986}},
	} {
		for i, spring := range []measure.Angle{38 * deg, 45 * deg} {
			s := pitch(t, c.rise, 12)
			got, err := stair.Corner{Slope: s}.Crown(crownOf(spring, w))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "angle", s.Angle().Degrees(), c.angle, 3)
			near(t, "drop on the rake", got.RakeDrop.Inches()/100, c.q[i], 4)
			near(t, "width on the rake", got.RakeWidth.Inches()/100, c.width[i], 4)
			near(t, "spring on the rake", got.RakeSpring.Degrees(), c.s[i], 2)
			near(t, "drop on the level", got.LevelDrop.Inches()/100, c.level[i], 4)
			near(t, "width on the level", got.LevelWidth.Inches()/100, c.stocked[i], 4)
		}
	}
}

// Crown of 3-5/8 in under a ceiling of 6 in 12. Derived, as the table; wedge
// P ± H·tan(slope/2) at the wall, its line H − P·tan below the ceiling's.
func TestTransitionValues(t *testing.T) {
	s, w := pitch(t, 6, 12), 29*in/8
	low, err := stair.Corner{Slope: s}.Crown(crownOf(38*deg, w))
	if err != nil || low.Trouble != nil {
		t.Fatal(low, err)
	}
	near(t, "projection", low.Projection.Inches(), 2.2318, 4)
	near(t, "drop", low.Drop.Inches(), 2.8565, 4)
	near(t, "miss", low.Miss.Inches(), 1.4531, 4)
	near(t, "wedge", low.WedgeEdge.Inches(), 2.9061, 4)
	near(t, "line", low.WedgeLine.Inches(), 1.7407, 4)
	near(t, "rolled", low.RolledSpring.Degrees(), 11.435, 3)
	corner, err := joint.CrownSetting(38*deg, 90*deg) // it turns the corner as it ever did
	if err != nil {
		t.Fatal(err)
	}
	near(t, "miter", corner.Miter.Degrees(), 31.62, 2)
	near(t, "bevel", corner.Bevel.Degrees(), 33.86, 2)

	high, err := stair.Corner{Slope: pitch(t, -6, 12)}.Crown(crownOf(38*deg, w))
	if err != nil || high.Trouble != nil {
		t.Fatal(high, err)
	}
	near(t, "wedge at the high wall", high.WedgeEdge.Inches(), 1.5574, 4)
	near(t, "line at the high wall", high.WedgeLine.Inches(), 2.8565+2.2318/2, 4)
	near(t, "rolled at the high wall", high.RolledSpring.Degrees(), 38+26.565, 3)

	half, err := stair.Corner{Slope: s}.Crown(crownOf(45*deg, w))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "wedge", half.WedgeEdge.Inches(), 3.1684, 4)
}

// At 12 in 12 crown of 45° has its drop used up by the slope: neither a profile for the rake
// nor a wedge nor a roll brings it around the low corner. Derived: H − P·tan = 0.
func TestNoTransition(t *testing.T) {
	got, err := stair.Corner{Slope: pitch(t, 12, 12)}.Crown(crownOf(45*deg, 29*in/8))
	if err != nil {
		t.Fatal(err)
	}
	if got.RakeDrop != 0 || got.RakeWidth != 0 || got.RakeSpring != 0 || got.WedgeLine != 0 || got.WedgeEdge != 0 || got.RolledSpring != 0 || len(got.Trouble) != 3 {
		t.Errorf("%+v", got)
	}
	// The crown for the level wall is only large: H·√2 + P, and at the high corner all is well.
	near(t, "level drop", got.LevelDrop.Inches(), 29./8*(1+math.Sqrt2/2), 4)
	if high, err := (stair.Corner{Slope: pitch(t, -12, 12)}).Crown(crownOf(44*deg, 29*in/8)); err != nil || high.RakeWidth == 0 || high.RolledSpring != 89*deg {
		t.Errorf("high corner: %+v, %v", high, err)
	}
}

// Flat base on a slope of 3, 4 and 5: 5 in high and level it is 5·4/5 wide at its back up the
// rake. At its face, 1 in out, it is lower by 1·3/5: its edges lean. Derived.
func TestFlatBoard(t *testing.T) {
	c := stair.Corner{Slope: pitch(t, 15, 20)} // 3, 4, 5
	got, err := c.Rake([]stock.Point{{}, {Along: 0, Up: 5 * in}, {Along: in, Up: 5 * in}, {Along: in}})
	if err != nil {
		t.Fatal(err)
	}
	want := []stock.Point{{}, {Along: 0, Up: 4 * in}, {Along: in, Up: 17 * in / 5}, {Along: in, Up: -3 * in / 5}}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("point %d becomes %v, want %v", i, got[i], want[i])
		}
	}
	if back, err := c.Level(got); err != nil || back[2] != (stock.Point{Along: in, Up: 5 * in}) {
		t.Errorf("back to %v, %v", back, err)
	}
}

// Crown is rounded once, at the end: the drop and the projection that the results follow from
// are not those that a Transition prints. Derived: w·cos(s)/cos ± w·sin(s)·tan and
// w·cos(s)·cos ± w·sin(s)·sin, worked out to 40 digits.
func TestCrownIsRoundedOnce(t *testing.T) {
	for _, c := range []struct {
		rise, run, width measure.Length
		outside          bool
		spring           measure.Angle
		level, rake      measure.Length
		rakeSpring       measure.Angle
	}{
		{-24_445_402, 14_204_763, 8_581_568, true, 196_873_693_819, 21_924_288, 0, 0},
		{-29_021_596, 19_558_000, 10_033_000, false, 186_851_437_391, 0, 10_007_068, 137_785_469_000},
		{5_370_158, 18_188_071, 15_544_337, true, 129_600_000_000, 10_414_646, 14_648_168, 115_033_232_000},
	} {
		got, err := stair.Corner{Slope: pitch(t, c.rise, c.run), Outside: c.outside}.Crown(stock.Profile{Role: stock.RoleCrown, Width: c.width, Spring: c.spring})
		if err != nil {
			t.Fatal(err)
		}
		if got.LevelDrop != c.level || got.RakeDrop != c.rake || got.RakeSpring != c.rakeSpring {
			t.Errorf("level drop %d, rake drop %d, spring %d, want %d, %d, %d", got.LevelDrop, got.RakeDrop, got.RakeSpring, c.level, c.rake, c.rakeSpring)
		}
	}
}

// Rolled crown turns as on a level ceiling only if the walls are square to each other:
// elsewhere the raked wall is not square to a ceiling that is level along the other one.
func TestRolledIsForSquareCorners(t *testing.T) {
	crown := stock.Profile{Role: stock.RoleCrown, Width: 29 * in / 8}
	for _, corner := range []measure.Angle{0, 90 * deg, 89 * deg, 135 * deg} {
		got, err := stair.Corner{Slope: pitch(t, 1, 4), Angle: corner}.Crown(crown)
		if err != nil {
			t.Fatal(err)
		}
		square := corner == 0 || corner == 90*deg
		if (got.RolledSpring != 0) != square || (len(got.Trouble) == 0) != square {
			t.Errorf("in a corner of %v the rolled spring is %v, with %q", corner, got.RolledSpring, got.Trouble)
		}
	}
}

// At one slope that falls, the upper edges of crown do meet. Derived: H/cos − P·tan = H gives
// tan(slope/2) = P/H = tan(spring), so that 3 in 4 meets a spring of atan(1/3).
func TestUpperEdgesMayMeet(t *testing.T) {
	got, err := stair.Corner{Slope: pitch(t, -3, 4)}.Crown(stock.Profile{Role: stock.RoleCrown, Width: 4 * in, Spring: 66_365_815_763})
	if err != nil {
		t.Fatal(err)
	}
	if got.Miss < -1 || got.Miss > 1 || got.LevelDrop != got.Drop+got.Miss {
		t.Errorf("they miss each other by %d ticks", got.Miss)
	}
}
