package takeoff_test

import (
	"fmt"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
)

// The stair to the loft stands against the classroom's west wall.
func ExampleStair() {
	const in, ft = measure.Inch, measure.Foot
	profile := func(name string, thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: name, Thickness: thickness, Width: width}
	}
	loft := takeoff.Stair{
		Flight: stair.Flight{Risers: 13, Rise: 31 * in / 4, Run: 10 * in, Nosing: in},
		At:     4 * ft, Width: 3 * ft, Joint: stair.JointPlumb,
	}
	list, err := takeoff.Take([]takeoff.Room{{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "W", Length: 18 * ft, Stair: &loft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}}, takeoff.Scheme{
		Base: profile("base", 3*in/4, 11*in/2), Shoe: profile("shoe", in/2, 3*in/4), ChairRail: profile("rail", 3*in/4, 5*in/2),
		Skirt: profile("skirt board", 3*in/4, 45*in/4),
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range list.Runs {
		fmt.Printf("%-17s %17s, from %v, %v up, at %.1f°: %v | %v\n", r.Label[len("classroom W "):], r.Length.About(in/16),
			r.Start.About(in/16), r.Bottom.About(in/16), r.Slope.Degrees(), r.Left.Kind, r.Right.Kind)
	}
	// A board of 7 in is too narrow for these steps.
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{{Name: "W", Length: 18 * ft, Stair: &loft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
	found, err := takeoff.Check([]takeoff.Room{room}, takeoff.Scheme{Skirt: profile("7 in board", 3*in/4, 7*in)}, nil)
	for _, f := range found {
		if f.Code == takeoff.FindingStairFit {
			fmt.Println(f.Reason, err)
		}
	}
	// Output:
	// base A                about 3' 3/4", from 0", 0" up, at 0.0°: square | square
	// base B                           4', from 14', 0" up, at 0.0°: square | square
	// shoe A                           4', from 0", 0" up, at 0.0°: square | square
	// shoe B                           4', from 14', 0" up, at 0.0°: square | square
	// chair rail A                  3' 1", from 0", 2' 8" up, at 0.0°: square | rake miter
	// chair rail B                     4', from 14', 2' 8" up, at 0.0°: square | square
	// skirt             about 14' 1-7/16", from 4', 0" up, at 37.8°: plumb cut | plumb cut
	// chair rail rake   about 13' 10-7/16", from 3' 1", 2' 8" up, at 37.8°: rake miter | plumb cut
	// skirt 7 in board of 7" ends about 1/4" above the nosings; a board that is about 1/4" wider stands clear of them <nil>
}

// The loft has its low wall at the south; crown goes around under the roof.
func ExampleWall_slopedCeiling() {
	const in, ft = measure.Inch, measure.Foot
	pitch := func(rise measure.Length) measure.Slope {
		s, err := measure.NewSlope(rise, 12*in)
		if err != nil {
			panic(err)
		}
		return s
	}
	room := takeoff.Room{Name: "loft", Height: 5 * ft, Walls: []takeoff.Wall{
		{Name: "N", Length: 12 * ft, HeightLeft: 9 * ft, HeightRight: 9 * ft},
		{Name: "E", Length: 8 * ft, Pitch: pitch(-6 * in)},
		{Name: "S", Length: 12 * ft},
		{Name: "W", Length: 8 * ft, HeightLeft: 5 * ft, HeightRight: 9 * ft, Raked: true},
	}}
	crown := &stock.Profile{Name: "crown", Thickness: 11 * in / 16, Width: 29 * in / 8}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Crown: crown}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range list.Runs {
		fmt.Printf("%-15s %18s, from %s, %s up, at %.1f°: %v | %v\n", r.Label[len("loft "):], r.Length.About(in/16),
			r.Start.About(in/16), r.Bottom.About(in/16), r.Slope.Degrees(), r.Left.Kind, r.Right.Kind)
	}
	for _, f := range list.Findings {
		if f.Code == takeoff.FindingRake && f.Wall == "S" {
			fmt.Println(strings.ReplaceAll(f.Reason, "; ", ";\n  "))
		}
	}
	fmt.Println("rake miters:", list.Joints.RakeMiters)

	// The pitch of the roof differs from the ceiling seen in the room.
	room.Walls[3].Pitch = pitch(7 * in)
	found, err := takeoff.Check([]takeoff.Room{room}, takeoff.Scheme{}, nil)
	for _, f := range found {
		if f.Code == takeoff.FindingRoofPitch {
			fmt.Println(f.Reason, err)
		}
	}
	// Output:
	// N crown                        12', from 0", about 8' 8" up, at 0.0°: inside miter | inside miter
	// E crown                about 8' 7", from about 1-9/16", about 8' 8" up, at -26.6°: rake miter | rake miter
	// S crown                        12', from 0", about 4' 10-1/4" up, at 0.0°: inside miter | inside miter
	// W crown                about 8' 7", from about 2-7/8", about 4' 10-1/4" up, at 26.6°: rake miter | rake miter
	// E crown wedge A       about 2-1/4", from 0", about 8' 8" up, at 0.0°: inside miter | rake miter
	// E crown wedge B       about 2-7/8", from about 7' 9-1/8", about 4' 10-1/4" up, at 0.0°: rake miter | inside miter
	// W crown wedge A       about 2-7/8", from 0", about 4' 10-1/4" up, at 0.0°: inside miter | rake miter
	// W crown wedge B       about 2-1/4", from about 7' 10-7/16", about 8' 8" up, at 0.0°: rake miter | inside miter
	// crown cannot turn in the corner of S and W from the level to 26.6° with one profile, its upper edges would miss each other by about 1-7/16";
	//   a wedge about 2-29/32" long at the wall is in the list, with the level crown about 1-3/4" below the ceiling of the corner;
	//   crown milled for the rake is about 2-23/32" wide with a spring of 55.1°;
	//   crown milled for the level wall is about 4-27/32" wide;
	//   the level crown rolled to a spring of 11.4° turns as on a level ceiling
	// rake miters: 4
	// the ceiling of W would rise 4' 8" at its pitch, and rises 4' by its heights, 26.6°; a ceiling often differs from the pitch of the roof, and the heights count <nil>
}
