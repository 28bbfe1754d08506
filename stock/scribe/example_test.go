package scribe_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
)

// The classroom's floor falls toward the stove. A level line is snapped 12 in above the door's
// threshold, and the floor is measured down from it at four stations.
func ExampleFloor() {
	wall := scribe.Surface{
		{At: 0, FromLine: measure.MustParse("12in")},
		{At: 4 * measure.Foot, FromLine: measure.MustParse("12-1/8in")},
		{At: 8 * measure.Foot, FromLine: measure.MustParse("12-3/8in")},
		{At: 12 * measure.Foot, FromLine: measure.MustParse("12-1/4in")},
	}
	floor := scribe.Floor{Walls: []scribe.Surface{wall}, Height: measure.MustParse("5-1/4in"), Shoe: measure.MustParse("3/4in")}
	shape, err := floor.Shape()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("high at", shape.High.At, "low at", shape.Low.At, "rise", shape.Rise)
	fmt.Println("at most", shape.Fall, "in", scribe.FollowOver, "- may be followed up to", scribe.MaxFollowFall, shape.MayFollow)
	fmt.Println("shoe covers it:", shape.ShoeCovers, "- base left", shape.Remaining, "enough:", shape.HighEnough)
	fmt.Println("advice:", shape.Advice)

	cut := wall.Cut(0, 12*measure.Foot, shape.Low.FromLine, measure.Inch/16)
	fmt.Println(cut.Kind)
	for _, m := range cut.Marks {
		fmt.Println(" at", m.At, "take off", m.Depth)
	}
	// Output:
	// high at 0" low at 8' rise 3/8"
	// at most 5/16" in 6' - may be followed up to 1/4" false
	// shoe covers it: true - base left 4-7/8" enough: true
	// advice: shoe
	// scribe
	//  at 0" take off 3/8"
	//  at 4' take off 1/4"
	//  at 8' take off 0"
	//  at 12' take off 1/8"
}

// Between two stations the floor is assumed to be straight.
func ExampleReading() {
	wall := scribe.Surface{}
	wall = append(wall, scribe.Reading{At: 0, FromLine: 12 * measure.Inch}, scribe.Reading{At: 4 * measure.Foot, FromLine: measure.MustParse("12-1/4in")})
	fmt.Println(wall.Line(measure.Foot), wall.Line(9*measure.Foot))
	fmt.Printf("slope %.3f°\n", wall.Slope(0, 4*measure.Foot).Degrees())
	// Output:
	// 1' 1/16" 1' 1/4"
	// slope -0.298°
}

// A wall with a straight floor needs one cut, and a level part of it a rip.
func ExampleSurface_Cut() {
	wall := scribe.Surface{{At: 0, FromLine: 12 * measure.Inch}, {At: 8 * measure.Foot, FromLine: measure.MustParse("12-1/2in")}}
	for _, low := range []string{"12-1/2in", "12-3/4in"} {
		for _, to := range []measure.Length{8 * measure.Foot, 6 * measure.Inch} {
			cut := wall.Cut(0, to, measure.MustParse(low), measure.Inch/16)
			fmt.Println(cut.Kind, cut.Marks[0].Depth, cut.Marks[1].Depth, "gap", cut.Gap)
		}
	}
	fmt.Println(wall.Cut(7*measure.Foot, 8*measure.Foot, 12*measure.Inch, 0).Kind == scribe.CutNone, scribe.CutRip, scribe.CutTaper, scribe.CutScribe)
	// Output:
	// taper 1/2" 0" gap 0"
	// rip 1/2" 1/2" gap 1/32"
	// taper 3/4" 1/4" gap 0"
	// rip 3/4" 3/4" gap 1/32"
	// true rip taper scribe
}

func ExampleCeiling() {
	crown := stock.Profile{Name: "crown", Width: measure.MustParse("4-5/8in"), Thickness: measure.MustParse("5/8in")}
	ceiling := scribe.Ceiling{Crown: crown, Walls: []scribe.Surface{
		{{At: 0, FromLine: 50 * measure.Inch}, {At: 6 * measure.Foot, FromLine: measure.MustParse("50-5/16in")}},
	}}
	shape, err := ceiling.Shape()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("lowest at", shape.Low.At, "rise", shape.Rise, "- filled up to", scribe.MaxFillGap, shape.MayFill)
	fmt.Println("advice:", shape.Advice == scribe.CeilingRoll, shape.Advice)
	roll, err := scribe.NewRoll(crown, measure.MustParse("3-1/2in"))
	fmt.Printf("drop %v: projection %.4f in, spring %.2f° %v\n", roll.Drop, roll.Projection.Inches(), roll.Spring.Degrees(), err)
	fmt.Println(scribe.CeilingFollow, scribe.CeilingLevel)
	// Output:
	// lowest at 0" rise 5/16" - filled up to 3/16" false
	// advice: true roll
	// drop 3-1/2": projection 3.0233 in, spring 40.82° <nil>
	// follow level
}

func ExampleFloorFit() {
	fmt.Println(scribe.FloorScribe, scribe.FloorFollow, scribe.FloorShoe)
	// Output: scribe follow shoe
}

// The wall at the right of a base of 5 1/4 in leans away by 1/4 in in 4 ft.
func ExampleLean() {
	wall := scribe.Lean{Out: measure.Inch / 4, Over: 4 * measure.Foot}
	off, err := wall.Offset(measure.MustParse("5-1/4in"))
	fmt.Printf("%.3f° out of plumb: the top of the base is %.4f in longer %v\n", wall.Angle().Degrees(), off.Inches(), err)
	// Output: 0.298° out of plumb: the top of the base is 0.0273 in longer <nil>
}

// The window of the teacher's room: the new plaster stands beyond the jamb by a different
// amount at each corner.
func ExampleExtension() {
	in := measure.MustParse
	e := scribe.Extension{
		Depths: scribe.Depths{
			TopLeft: in("1/2in"), TopRight: in("5/8in"), BottomLeft: in("9/16in"), BottomRight: in("9/16in"), Left: in("5/8in"),
		},
		Width: in("30-1/4in"), Height: in("60in"), Thickness: in("3/4in"),
	}
	twist, miss := e.Depths.Twist()
	fmt.Println("twist", twist, "- each corner is off by", miss)
	parts, err := e.Parts()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range parts {
		if p.Side == scribe.SideSill {
			continue
		}
		fmt.Println(p.Side, p.Length, "rip", p.Left, "to", p.Right, "bow", p.Bow, "from", p.Blank)
	}
	fmt.Println("casing goes around", e.Width+2*e.Inset())
	stacked := scribe.Extension{Setback: in("1/8in"), Layers: []scribe.Layer{{Width: in("4in")}}}
	fmt.Println("stacked, it stands back by", stacked.Inset())
	// Output:
	// twist -1/8" - each corner is off by 1/32"
	// left 5' 3/16" rip 9/16" to 1/2" bow 3/32" from 21/32"
	// right 5' 3/16" rip 9/16" to 5/8" bow 0" from 5/8"
	// head 2' 8-1/8" rip 1/2" to 5/8" bow 0" from 5/8"
	// casing goes around 2' 6-5/8"
	// stacked, it stands back by 5/16"
}

func ExampleSide() {
	fmt.Println(scribe.SideLeft, scribe.SideRight, scribe.SideHead, scribe.SideSill)
	// Output: left right head sill
}

// Tapered legs from a 1×6: turned end for end, eight lie side by side where seven strips as
// wide as the wide end would.
func ExampleTaperedRip() {
	board := stock.Rip{Width: measure.MustParse("5-1/2in"), Strip: measure.MustParse("5/8in"), Kerf: measure.MustParse("1/8in"), FinishedEdges: 2, MinStrip: measure.Inch / 2}
	tapered, err := scribe.TaperedRip{Rip: board, Narrow: measure.MustParse("1/2in"), Length: 5 * measure.Foot}.Blank()
	if err != nil {
		fmt.Println(err)
		return
	}
	plain, err := board.Blank()
	fmt.Println(tapered.Strips, plain.Strips, err)
	// Output: 8 7 <nil>
}

func ExampleStool() {
	in := measure.MustParse
	c, err := scribe.Stool{
		Width: in("30in"), Horn: in("4in"), Nose: in("1-1/4in"),
		Sash: scribe.SashDepths{LeftJamb: in("3in"), LeftHorn: in("3-1/8in"), RightJamb: in("3-1/16in")},
	}.Notch()
	fmt.Println("stool", c.Length, "long, stock at least", c.Width, "wide", err)
	fmt.Println("notch", c.Along, "by", c.LeftJamb, "to", c.LeftHorn, "at the left,", c.RightJamb, "at the right")
	// Output:
	// stool 3' 2" long, stock at least 4-5/16" wide <nil>
	// notch 4" by 2-15/16" to 3-1/16" at the left, 3" at the right
}
