package takeoff_test

import (
	"encoding/json"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// The book room keeps its old base behind the shelves, under eight coats of paint. The new base
// ends at a block on one side of it; on the other it should continue in mid-wall. It is notched
// around a register below the window.
func ExampleStretch() {
	const in, ft = measure.Inch, measure.Foot
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	old := takeoff.Stretch{
		Name: "old base", At: 8 * ft, Width: 6 * ft, Existing: true, Paint: takeoff.Paint{Coats: 8},
		Profile: stock.Profile{Name: "old", Thickness: 9 * in / 16, Width: 13 * in / 4}, Left: takeoff.MeetBlock,
	}
	room := takeoff.Room{Name: "book room", Walls: []takeoff.Wall{{
		Name: "N", Length: 20 * ft, Start: stop, Corner: stop, Stretches: []takeoff.Stretch{old},
		Fixtures: []takeoff.Fixture{{Name: "register", At: 3 * ft, Width: 12 * in, Height: 4 * in, Notch: in / 8}},
	}}}
	scheme := takeoff.Scheme{
		Base:  &stock.Profile{Name: "base", Thickness: 3 * in / 4, Width: 21 * in / 4},
		Block: &stock.Profile{Name: "block", Thickness: in, Width: 2 * in},
	}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Pieces {
		fmt.Println(p.Label, p.Length.About())
	}
	var t takeoff.Transition
	for _, t = range list.Transitions {
		fmt.Println(t.Run, t.Side, "end:", t.Meet, t.Thickness.About(), "thick and", t.Height.About(), "high")
	}
	var n takeoff.Notch
	for _, n = range list.Notches {
		fmt.Println(n.Run, "notched for", n.Fixture, "from", n.At.About(), "over", n.Width.About(), "up to", n.Top.About())
	}
	for _, f := range list.Findings {
		if f.Code == takeoff.FindingMidWall {
			fmt.Println(f.Reason)
		}
	}
	// Output:
	// book room N base A 7' 10"
	// book room N base A block right 5-3/8"
	// book room N base B 6'
	// book room N base A right end: block 7/8" thick and 5-3/8" high
	// book room N base A notched for register from 2' 11-7/8" over 1' 1/4" up to 4-1/8"
	// base meets old base in mid-wall, 11/64" thicker and 1-63/64" higher; let it change at a door or a corner, or stand a block between them, 7/8" thick and 5-3/8" high
}

// The ways in which trim ends at other trim, by name.
func ExampleMeet() {
	for _, m := range []takeoff.Meet{takeoff.MeetSquare, takeoff.MeetChamfer, takeoff.MeetReturn, takeoff.MeetBlock, takeoff.MeetScribe} {
		text, err := json.Marshal(m)
		fmt.Println(string(text), err)
	}
	// Output:
	// "square" <nil>
	// "chamfer" <nil>
	// "return" <nil>
	// "block" <nil>
	// "scribe" <nil>
}
