package stair_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
)

// The stair to the schoolhouse's loft.
var loft = stair.Flight{
	Risers: 13, Rise: measure.MustParse("7-3/4 in"), Run: measure.MustParse("10 in"), Nosing: measure.MustParse("1 in"),
}

func about(l measure.Length) string { return l.About(measure.Inch / 16) }

func ExampleFlight_Rake() {
	loft := stair.Flight{
		Risers: 13, Rise: measure.MustParse("7-3/4 in"), Run: measure.MustParse("10 in"), Nosing: measure.MustParse("1 in"),
	}
	if err := loft.Validate(); err != nil {
		fmt.Println(err)
		return
	}
	show := func(r stair.Rake) {
		fmt.Printf("%.2f°, a step %s along the slope and %s deep\n", r.Angle.Degrees(), about(r.Step), about(r.Depth))
		fmt.Printf("rises %v in %v, %s along the slope\n", r.Rise.About(), r.Run.About(), about(r.Length))
		fmt.Printf("a chair rail turns %v before the first riser\n", r.Before.About())
	}
	r, err := loft.Rake()
	if err != nil {
		fmt.Println(err)
		return
	}
	show(r)
	// Output:
	// 37.78°, a step about 1' 5/8" along the slope and about 6-3/4" deep
	// rises 8' 4-3/4" in 10', about 12' 7-13/16" along the slope
	// a chair rail turns 11" before the first riser
}

// A 1 by 12 beside the steps, mitered to the base below and cut plumb at the loft.
func ExampleFlight_Skirt() {
	base := measure.MustParse("5-1/2 in")
	for _, joint := range []stair.Joint{stair.JointBisect, stair.JointPlumb} {
		board := func(s stair.Skirt) (stair.Board, error) { return loft.Skirt(s) }
		b, err := board(stair.Skirt{Width: measure.MustParse("11-1/4 in"), Foot: base, Joint: joint})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %s long, %s above the nosings\n", joint, about(b.Length), about(b.AboveNosings))
		fmt.Printf("  foot %v at %.1f°, level cut of %s; head %v at %.1f°\n", b.Foot.Kind, b.Foot.Angle.Degrees(), about(b.FootLevel), b.Head.Kind, b.Head.Angle.Degrees())
		fmt.Printf("  base: %v, its long point %s from the first riser\n", b.FootBase.Kind, about(b.BaseEnd))
		for _, p := range b.Outline {
			fmt.Printf("  %s along, %s up\n", about(p.Along), about(p.Up))
		}
	}
	// Output:
	// bisect: about 13' 10-1/16" long, about 4-1/2" above the nosings
	//   foot rake miter at 26.2°, level cut of 0"; head plumb cut at 37.8°
	//   base: rake miter, its long point 0" from the first riser
	//   about 5-9/16" along, 0" up
	//   about 13' 1-3/8" along, 0" up
	//   about 13' 10-1/16" along, 11-1/4" up
	//   0" along, 11-1/4" up
	// plumb: about 14' 1-7/16" long, about 4-1/2" above the nosings
	//   foot plumb cut at -37.8°, level cut of about 11-1/4"; head plumb cut at 37.8°
	//   base: square, its long point about -11-1/4" from the first riser
	//   about 8-15/16" along, 0" up
	//   about 13' 4-3/4" along, 0" up
	//   about 14' 1-7/16" along, 11-1/4" up
	//   about 3-3/8" along, 11-1/4" up
	//   0" along, about 6-7/8" up
}

// A chair rail of 2-1/2 in follows the stair.
func ExampleFlight_Rail() {
	rail := func(width string) (stair.Rail, error) { return loft.Rail(measure.MustParse(width)) }
	r, err := rail("2-1/2 in")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(about(r.Length), "long, turns", r.FootAt.About(), "and", r.HeadAt.About(), "from the first riser")
	fmt.Println(r.Foot.LongPoint(), "and", r.Head.LongPoint())
	// Output:
	// about 13' 9-5/16" long, turns -11" and 9' 11" from the first riser
	// lower edge and upper edge
}

func ExampleMeet() {
	slope := measure.Slope{}
	if err := slope.UnmarshalText([]byte("7-3/4 in 10")); err != nil {
		fmt.Println(err)
		return
	}
	for _, width := range []string{"5-1/2 in", "9-1/4 in"} {
		m, err := stair.Meet(slope, measure.MustParse("5-1/2 in"), measure.MustParse(width))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("base %.1f°, skirt %.1f°, joint %s\n", m.Level.Degrees(), m.Rake.Degrees(), about(m.Joint))
	}
	// Output:
	// base -18.9°, skirt -18.9°, joint about 5-13/16"
	// base -55.5°, skirt 17.7°, joint about 9-11/16"
}

// Under the loft's roof crown would have to turn from level to 6 in 12. Around a corner it
// cannot with one profile.
func ExampleCorner_Crown() {
	slope, err := measure.NewSlope(6*measure.Inch, 12*measure.Inch)
	if err != nil {
		fmt.Println(err)
		return
	}
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: measure.MustParse("11/16 in"), Width: measure.MustParse("3-5/8 in")}
	t, err := stair.Corner{Slope: slope}.Crown(crown)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("its edges miss each other by %s\n", about(t.Miss))
	fmt.Printf("milled for the rake: %s wide, spring %.1f°\n", about(t.RakeWidth), t.RakeSpring.Degrees())
	fmt.Printf("milled for the level wall: %s wide\n", about(t.LevelWidth))
	fmt.Printf("rolled on the level wall: spring %.1f°\n", t.RolledSpring.Degrees())
	fmt.Printf("a wedge %s long at the wall, the level crown %s below the corner's ceiling\n", about(t.WedgeEdge), about(t.WedgeLine))

	steep, err := measure.NewSlope(12*measure.Inch, 12*measure.Inch)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err = stair.Corner{Slope: steep}.Crown(crown)
	fmt.Println(t.Trouble, err)
	// Output:
	// its edges miss each other by about 1-7/16"
	// milled for the rake: about 2-3/4" wide, spring 55.1°
	// milled for the level wall: about 4-7/8" wide
	// rolled on the level wall: spring 11.4°
	// a wedge about 2-7/8" long at the wall, the level crown about 1-3/4" below the corner's ceiling
	// [the level crown cannot be rolled: the slope of 45.0° is too steep for its spring of 38°] <nil>
}

// A flat base of 5 in, 3/4 in thick, turns an inside corner and goes up 3 in 4.
func ExampleCorner_Rake() {
	slope, err := measure.NewSlope(3*measure.Inch, 4*measure.Inch)
	if err != nil {
		fmt.Println(err)
		return
	}
	c := stair.Corner{Slope: slope}
	level := []stock.Point{{}, {Up: 5 * measure.Inch}, {Along: 3 * measure.Inch / 4, Up: 5 * measure.Inch}}
	rake, err := c.Rake(level)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, p := range rake {
		fmt.Printf("%v out: %v up level, %s up square to the rake\n", p.Along.About(), level[i].Up.About(), about(p.Up))
	}
	back, err := c.Level(rake)
	fmt.Println(back[2].Up.About(), err)

	base := stock.Profile{Name: "base", Thickness: 3 * measure.Inch / 4, Width: 4 * measure.Inch}
	standing, flat, err := c.Cut(base)
	fmt.Printf("standing: miter %.2f°, bevel %.2f°; flat: miter %.2f°, bevel %.2f° %v\n",
		standing.Miter.Degrees(), standing.Bevel.Degrees(), flat.Miter.Degrees(), flat.Bevel.Degrees(), err)
	// Output:
	// 0" out: 0" up level, 0" up square to the rake
	// 0" out: 5" up level, 4" up square to the rake
	// 3/4" out: 5" up level, 3.55" up square to the rake
	// 5" <nil>
	// standing: miter 51.34°, bevel 25.10°; flat: miter 36.87°, bevel 45.00° <nil>
}
