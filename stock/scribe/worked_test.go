package scribe_test

import (
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/scribe"
	"github.com/google/go-cmp/cmp"
)

const in, ft = measure.Inch, measure.Foot

// near reports a length that differs by more than a ten-thousandth of an inch from a table with four
// digits.
func near(t *testing.T, what string, got measure.Length, want float64) {
	t.Helper()
	if math.Abs(got.Inches()-want) > .00005+1e-9 {
		t.Errorf("%s: %v in, want %v", what, got.Inches(), want)
	}
}

// The floor that falls toward the stove: the line lies on the floor at the first station,
// and the floor is 1/8, 3/8 and 1/4 in below it at the next ones. Derived: with base of
// 5 1/4 in on the lowest point its top is 5 1/4 − 3/8 = 4 7/8 above the line; the heights
// left are 4 7/8 + 0, + 1/8, + 3/8, + 1/4 and the scribes 5 1/4 less these.
func TestFloorOfFourStations(t *testing.T) {
	s := scribe.Surface{{At: 0, FromLine: 0}, {At: 4 * ft, FromLine: in / 8}, {At: 8 * ft, FromLine: 3 * in / 8}, {At: 12 * ft, FromLine: in / 4}}
	height := 21 * in / 4
	shape, err := scribe.Floor{Walls: []scribe.Surface{s}, Height: height, Shoe: 3 * in / 4}.Shape()
	if err != nil {
		t.Fatal(err)
	}
	want := scribe.FloorShape{
		High: scribe.Point{}, Low: scribe.Point{At: 8 * ft, FromLine: 3 * in / 8},
		Rise: 3 * in / 8, Remaining: 39 * in / 8, Needed: 63*in/16 + 3*in/8, HighEnough: true,
		// From 2 to 8 ft: 3/8 − 1/16, more than 1/4: not to be followed. Shoe of 3/4 laps by
		// 1/4 where the gap is 1/2, and it is 3/8.
		Fall: 5 * in / 16, ShoeCovers: true, Advice: scribe.FloorShoe,
	}
	if d := cmp.Diff(want, shape); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	cut := s.Cut(0, 12*ft, shape.Low.FromLine, in/16)
	marks := []stock.ScribeMark{{At: 0, Depth: 3 * in / 8}, {At: 4 * ft, Depth: in / 4}, {At: 8 * ft, Depth: 0}, {At: 12 * ft, Depth: in / 8}}
	if d := cmp.Diff(marks, cut.Marks); d != "" || cut.Kind != scribe.CutScribe || cut.Deepest != 3*in/8 || cut.Shallowest != 0 {
		t.Errorf("%+v\n%s", cut, d)
	}
	heights := []measure.Length{39 * in / 8, 5 * in, 21 * in / 4, 41 * in / 8}
	for i, m := range cut.Marks {
		if got := height - m.Depth; got != heights[i] {
			t.Errorf("%v high at %v, want %v", got, m.At, heights[i])
		}
	}
	// A part of the wall, between stations: at 2 ft the floor is 1/16 below the line.
	if cut := s.Cut(2*ft, 4*ft, shape.Low.FromLine, in/16); cut.Kind != scribe.CutRip || cut.Deepest != 5*in/16 || cut.Gap != in/16 {
		t.Errorf("%+v", cut)
	}
	if cut := s.Cut(2*ft, 4*ft, shape.Low.FromLine, 0); cut.Kind != scribe.CutTaper || cut.Gap != 0 ||
		cmp.Diff([]stock.ScribeMark{{At: 0, Depth: 5 * in / 16}, {At: 2 * ft, Depth: in / 4}}, cut.Marks) != "" {
		t.Errorf("%+v", cut)
	}
}

// The limit for following a floor: 1/4 in in 6 ft ("Level Lines", HomeTips).
func TestFollow(t *testing.T) {
	for _, c := range []struct {
		fall   measure.Length
		follow bool
		advice scribe.FloorFit
	}{{in / 4, true, scribe.FloorFollow}, {17 * in / 64, false, scribe.FloorShoe}, {9 * in / 16, false, scribe.FloorScribe}} {
		f := scribe.Floor{Walls: []scribe.Surface{{{At: 0, FromLine: in}, {At: 6 * ft, FromLine: in + c.fall}}}, Height: 5 * in, Shoe: 3 * in / 4}
		if shape, err := f.Shape(); err != nil || shape.MayFollow != c.follow || shape.Advice != c.advice || shape.Fall != c.fall {
			t.Errorf("%v: %+v, %v", c.fall, shape, err)
		}
	}
	// The same fall over 12 ft is half of it over 6.
	f := scribe.Floor{Walls: []scribe.Surface{{{At: 0, FromLine: in}, {At: 12 * ft, FromLine: 3 * in / 2}}}, Height: 5 * in}
	if shape, err := f.Shape(); err != nil || shape.Fall != in/4 || !shape.MayFollow {
		t.Errorf("%+v, %v", shape, err)
	}
}

// A floor may follow neither wall by itself and still have one top line: the highest and
// the lowest point are those of all walls, and base has to be that much higher.
func TestOneLineForTheRoom(t *testing.T) {
	f := scribe.Floor{Height: 4 * in, MinBase: 7 * in / 2, Walls: []scribe.Surface{
		{{At: 0, FromLine: 36 * in}, {At: 8 * ft, FromLine: 36*in + in/8}},
		nil,
		{{At: in, FromLine: 37 * in}},
	}}
	shape, err := f.Shape()
	if err != nil {
		t.Fatal(err)
	}
	if shape.High.Wall != 0 || shape.High.At != 0 || shape.Low.Wall != 2 || shape.Low.At != in || shape.Rise != in || shape.Remaining != 3*in ||
		shape.Needed != 9*in/2 || shape.HighEnough {
		t.Errorf("%+v", shape)
	}
}

// Crown of 4 5/8 in that springs at 38° drops 3.6445 and stands out 2.8474 in; forced to a
// drop of 3 1/2 it stands out √(4.625² − 3.5²) = 3.0233 at acos(3.5/4.625) = 40.82° (derived).
func TestRoll(t *testing.T) {
	crown := stock.Profile{Name: "crown", Width: 37 * in / 8, Thickness: 5 * in / 8, Role: stock.RoleCrown}
	near(t, "drop", crown.Drop(), 3.6445)
	roll, err := scribe.NewRoll(crown, 7*in/2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "projection", roll.Projection, 3.0233)
	if math.Abs(roll.Spring.Degrees()-40.82) > .005 {
		t.Errorf("spring %v", roll.Spring.Degrees())
	}
	same, err := scribe.NewRoll(crown, crown.Drop())
	if err != nil || same.Projection != crown.Projection() || same.Spring != 38*measure.Degree {
		t.Errorf("%+v, %v", same, err)
	}
}

// A ceiling that dips by 5/16 in over the classroom: too much to fill, and 5/16 in 6 ft is
// too much to follow. Rolled, the drop at the high point is 5/16 more.
func TestCeiling(t *testing.T) {
	c := scribe.Ceiling{
		Crown: stock.Profile{Name: "crown", Width: 37 * in / 8, Thickness: 5 * in / 8},
		Walls: []scribe.Surface{{{At: 0, FromLine: 50 * in}, {At: 6 * ft, FromLine: 50*in + 5*in/16}}},
	}
	shape, err := c.Shape()
	if err != nil {
		t.Fatal(err)
	}
	drop := c.Crown
	drop.Role = stock.RoleCrown
	if shape.Low.At != 0 || shape.High.At != 6*ft || shape.Rise != 5*in/16 || shape.MayFill || shape.MayFollow || !shape.MayRoll ||
		shape.Rolled.Drop != drop.Drop()+5*in/16 || shape.Advice != scribe.CeilingRoll {
		t.Errorf("%+v", shape)
	}
	if shape.Rolled.Projection >= drop.Projection() || shape.Rolled.Spring >= 38*measure.Degree {
		t.Errorf("crown with a greater drop projects %v at %v", shape.Rolled.Projection, shape.Rolled.Spring)
	}
	// To 3/16 the gap is filled (A. Rae, Woodworker's Journal).
	for gap, want := range map[measure.Length]scribe.CeilingFit{3 * in / 16: scribe.CeilingLevel, 13 * in / 64: scribe.CeilingRoll} {
		c.Walls[0] = scribe.Surface{{At: 0, FromLine: 50 * in}, {At: 2 * ft, FromLine: 50*in + gap}}
		c.Walls = append(c.Walls[:1], scribe.Surface{{At: 0, FromLine: 50*in + gap}, {At: 2 * ft, FromLine: 50 * in}})
		shape, err := c.Shape()
		if err != nil || shape.MayFill != (want == scribe.CeilingLevel) || !shape.MayFollow {
			t.Errorf("%v: %+v, %v", gap, shape, err)
		}
	}
	// A dip that no rolled crown reaches over.
	c.Walls = []scribe.Surface{{{At: 0, FromLine: 50 * in}, {At: 6 * ft, FromLine: 51 * in}}}
	if shape, err := c.Shape(); err != nil || shape.MayRoll || shape.Advice != scribe.CeilingLevel {
		t.Errorf("%+v, %v", shape, err)
	}
}

// A wall that leans 1/4 in in 48 is 0.298° out of plumb, and the end of a base of 5 1/4 in
// is 5.25/192 = .0273 in out of square (derived). Between two such walls the top is that
// much longer twice.
func TestLean(t *testing.T) {
	l := scribe.Lean{Out: in / 4, Over: 48 * in}
	if math.Abs(l.Angle().Degrees()-.298) > .0005 {
		t.Errorf("%v", l.Angle().Degrees())
	}
	off, err := l.Offset(21 * in / 4)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "out of square", off, .0273)
	if exact, _, _ := in.MulDiv(21, 768, measure.RoundHalfEven); off != exact {
		t.Errorf("%d ticks, want %d", off, exact)
	}
	if off, err := (scribe.Lean{Out: -in / 4, Over: 48 * in}).Offset(48 * in); err != nil || off != -in/4 {
		t.Errorf("%v, %v", off, err)
	}
}

// A base of 9/16 in coped in a corner of 95° ends .5154 in from the corner at its face, its
// back has to stop at .5646: 5° of back bevel. At 135° that is .2330, .7955 and 45° (derived).
func TestCopeRelief(t *testing.T) {
	for _, c := range []struct {
		corner, bevel measure.Angle
		face, back    float64
	}{{95, 5, .5154, .5646}, {135, 45, .2330, .7955}, {90, 0, .5625, .5625}} {
		r, err := joint.CopeRelief(9*in/16, c.corner*measure.Degree)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "face", r.Face, c.face)
		near(t, "back", r.Back, c.back)
		if r.Bevel != c.bevel*measure.Degree {
			t.Errorf("%v: bevel %v", c.corner, r.Bevel)
		}
	}
}

// Depths of 1/2, 5/8, 9/16 and 9/16 in are twisted by −1/8: the plane misses each corner by
// 1/32. A leg from 1/2 to 5/8 over 60 in tapers by .1194° and is 9/16 halfway (derived).
func TestTwistAndTaper(t *testing.T) {
	d := scribe.Depths{TopLeft: in / 2, TopRight: 5 * in / 8, BottomLeft: 9 * in / 16, BottomRight: 9 * in / 16}
	if twist, miss := d.Twist(); twist != -in/8 || miss != in/32 {
		t.Errorf("twist %v, miss %v", twist, miss)
	}
	if least, most := d.Range(); least != in/2 || most != 5*in/8 {
		t.Errorf("%v to %v", least, most)
	}
	e := scribe.Extension{
		Depths: scribe.Depths{TopLeft: 5 * in / 8, TopRight: 5 * in / 8, BottomLeft: in / 2, BottomRight: in / 2, Left: 9 * in / 16},
		Width:  30 * in, Height: 60 * in, Thickness: 3 * in / 4, Flush: true,
	}
	parts, err := e.Parts()
	if err != nil {
		t.Fatal(err)
	}
	leg := parts[0]
	if leg.Side != scribe.SideLeft || leg.Length != 60*in || leg.Left != in/2 || leg.Right != 5*in/8 || leg.Bow != 0 || math.Abs(leg.Taper.Degrees()-.1194) > .00005 {
		t.Errorf("%+v", leg)
	}
}

// A frame with a setback of 3/16 in is 3/8 in wider and higher inside ("Production Jamb
// Extensions", Journal of Light Construction), a second one on it 3/8 in more. The head lies
// over the legs: + 2 · 3/4 (derived).
func TestStackedExtension(t *testing.T) {
	e := scribe.Extension{
		Depths: scribe.Depths{TopLeft: 3 * in, TopRight: 3 * in, BottomLeft: 3 * in, BottomRight: 3 * in, Head: 25 * in / 8, Sill: 23 * in / 8},
		Width:  30 * in, Height: 60 * in, TopWidth: 241 * in / 8, RightHeight: 479 * in / 8, Thickness: 3 * in / 4, FourSided: true,
		Layers: []scribe.Layer{{Width: 2 * in}}, Proud: in / 32,
	}
	parts, err := e.Parts()
	if err != nil {
		t.Fatal(err)
	}
	type row struct {
		side  scribe.Side
		layer int
		l     string
		rip   string
		bow   measure.Length
		blank string
	}
	var got []row
	for _, p := range parts {
		if p.Left != p.Right || p.Taper != 0 {
			t.Errorf("%+v tapers", p)
		}
		got = append(got, row{p.Side, p.Layer, p.Length.Format(measure.Style{Unit: in}), p.Left.Format(measure.Style{Unit: in}), p.Bow, p.Blank.Format(measure.Style{Unit: in})})
	}
	want := []row{
		{scribe.SideLeft, 0, `60-3/8"`, `2"`, 0, `2"`}, {scribe.SideRight, 0, `60-1/4"`, `2"`, 0, `2"`},
		{scribe.SideHead, 0, `32"`, `2"`, 0, `2"`}, {scribe.SideSill, 0, `31-7/8"`, `2"`, 0, `2"`},
		{scribe.SideLeft, 1, `60-3/4"`, `1-1/32"`, 0, `1-1/32"`}, {scribe.SideRight, 1, `60-5/8"`, `1-1/32"`, 0, `1-1/32"`},
		{scribe.SideHead, 1, `32-3/8"`, `1-1/32"`, in / 8, `1-5/32"`}, {scribe.SideSill, 1, `32-1/4"`, `1-1/32"`, -in / 8, `1-1/32"`},
	}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(row{})); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if e.Inset() != 3*in/8 {
		t.Errorf("inset %v", e.Inset())
	}
}

// Casing of 3 1/2 in with 1/4 in of reveal at the jamb and 1/4 in at the end of the stool
// makes a stool 8 in longer than the window is wide inside and a horn of 4 in ("Production
// Jamb Extensions", Journal of Light Construction).
func TestStool(t *testing.T) {
	c, err := scribe.Stool{
		Width: 30 * in, Horn: in/4 + 7*in/2 + in/4, Nose: 5 * in / 4,
		Sash: scribe.SashDepths{LeftJamb: 3 * in, LeftHorn: 25 * in / 8, RightJamb: 49 * in / 16},
	}.Notch()
	if err != nil {
		t.Fatal(err)
	}
	// 1/16 in is left free at the sash; the stock has to reach the deepest notch and the nose.
	want := scribe.StoolCut{
		Length: 38 * in, Width: 49*in/16 + 5*in/4, Along: 4 * in,
		LeftJamb: 47 * in / 16, LeftHorn: 49 * in / 16, RightJamb: 3 * in, RightHorn: 3 * in,
	}
	if d := cmp.Diff(want, c); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Strips of 5/8 to 1/2 in, 60 in long, from a board of 5 1/2 in with a kerf of 1/8: two of
// them and the kerfs take 1 1/8 + 1/8 + 1/8 but for the last kerf; four such pairs are
// 4 · 1 3/8 − 1/8 = 5 3/8, and 1/8 is left for a last cut. Parallel strips of the wide end
// would be (5 1/2 + 1/8) / (5/8 + 1/8) = 7 (derived).
func TestTaperedRip(t *testing.T) {
	r := scribe.TaperedRip{Rip: stock.Rip{Width: 11 * in / 2, Strip: 5 * in / 8, Kerf: in / 8, FinishedEdges: 2, MinStrip: in / 2}, Narrow: in / 2, Length: 60 * in}
	got, err := r.Blank()
	if err != nil || got.Strips != 8 || got.Cuts != 8 || got.Rest != 0 {
		t.Errorf("%+v, %v", got, err)
	}
	plain, err := r.Rip.Blank()
	if err != nil || plain.Strips != 7 {
		t.Errorf("%+v, %v", plain, err)
	}
	// A slanted kerf takes a tick or two more than the kerf: on a board of 5 3/8 in the
	// eighth strip would be that much too narrow.
	r.Rip.Width = 43 * in / 8
	if got, err := r.Blank(); err != nil || got.Strips != 7 {
		t.Errorf("%+v, %v", got, err)
	}
	r.Rip.Width += 4 // ticks: four slanted kerfs
	if got, err := r.Blank(); err != nil || got.Strips != 8 {
		t.Errorf("%+v, %v", got, err)
	}
	r.Narrow = r.Rip.Strip
	plain, _ = r.Rip.Blank()
	if got, err := r.Blank(); err != nil || got != plain {
		t.Errorf("%+v, %v", got, err)
	}
}
