package takeoff_test

import (
	"errors"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Obstacles against a wall: base stops at the sink cabinet and begins again beyond it, and
// keeps its splice clear of the outlet.
func ExampleWall() {
	wall := takeoff.Wall{
		Name: "N", Length: 24 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOpen},
		Fixtures:  []takeoff.Fixture{{Name: "sink cabinet", At: 18 * measure.Foot, Width: 4 * measure.Foot, Height: 3 * measure.Foot}},
		KeepClear: []takeoff.KeepClear{{Name: "outlet", At: 9 * measure.Foot, Width: 20 * measure.Inch}},
	}
	base := &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch, Lengths: []measure.Length{12 * measure.Foot}}
	list, err := takeoff.Take([]takeoff.Room{{Name: "workshop", Walls: []takeoff.Wall{wall}}}, takeoff.Scheme{Base: base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Pieces {
		fmt.Printf("%-29s %-12s %v, %v\n", p.Label, p.Length.About(), p.Left.Kind, p.Right.Kind)
	}
	// Output:
	// workshop N base A 1 of 2      6' 8-1/4"    return, scarf over
	// workshop N base A 2 of 2      11' 4-1/4"   scarf under, square
	// workshop N base B             2'           square, return
	// workshop N base return 1 of 2 1/2"         square, return
	// workshop N base return 2 of 2 1/2"         return, square
}

// Sticks of 8 ft for a wall of 40 ft, with studs far apart, cannot meet on a stud.
func ExampleSpliceError() {
	room := takeoff.Room{
		Name: "corridor", Studs: takeoff.Studs{First: 4 * measure.Foot, Spacing: 8 * measure.Foot},
		Walls: []takeoff.Wall{{Name: "E", Length: 40 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}},
	}
	base := &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch, Lengths: []measure.Length{8 * measure.Foot}}
	_, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
	var splice *takeoff.SpliceError
	if errors.As(err, &splice) {
		fmt.Println(splice.Run, splice.Length, "from sticks of", splice.Longest, "on", splice.Studs, "studs")
	}
	// Output: corridor E base 40' from sticks of 8' on 5 studs
}
