package takeoff_test

import (
	"encoding/json"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// A cloakroom with one door, from its measured walls to the pieces of its base.
func Example() {
	room := takeoff.Room{Name: "cloakroom", Walls: []takeoff.Wall{
		{Name: "N", Length: measure.MustParse("10ft 3-1/2in")},
		{Name: "E", Length: measure.MustParse("6ft 8in")},
		{Name: "S", Length: measure.MustParse("10ft 3-1/2in"), Openings: []takeoff.Opening{
			{Kind: takeoff.OpeningDoor, At: 5 * measure.Foot, Width: 32 * measure.Inch},
		}},
		{Name: "W", Length: measure.MustParse("6ft 8in")},
	}}
	base := &stock.Profile{Name: "oak base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range list.Pieces {
		fmt.Println(p.Label, p.Length)
	}
	// Output:
	// cloakroom N base 10' 3-1/2"
	// cloakroom E base 6' 8"
	// cloakroom S base A 5'
	// cloakroom S base B 2' 7-1/2"
	// cloakroom W base 6' 8"
}

// A cloakroom as noted on site, read from JSON and taken off. N faces the door and comes first,
// square at both ends; the others are coped onto it in turn.
func ExampleTake() {
	var room takeoff.Room
	err := json.Unmarshal([]byte(`{
		"name": "cloakroom",
		"walls": [
			{"name": "N", "length": "10ft 3-1/2in"},
			{"name": "E", "length": "6ft 8in"},
			{"name": "S", "length": "10ft 3-1/2in", "openings": [{"kind": "door", "at": "5ft", "width": "32in"}]},
			{"name": "W", "length": "6ft 8in"}
		]}`), &room)
	if err != nil {
		fmt.Println(err)
		return
	}
	scheme := takeoff.Scheme{
		Base: &stock.Profile{
			Name: "oak base", Thickness: 9 * measure.Inch / 16, Width: 5*measure.Inch + measure.Inch/4,
			Lengths: []measure.Length{8 * measure.Foot, 12 * measure.Foot, 16 * measure.Foot},
		},
		Casing: &stock.Profile{Name: "oak casing", Thickness: 3 * measure.Inch / 4, Width: 3*measure.Inch + measure.Inch/2},
	}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Pieces {
		fmt.Printf("%-36s %-13v %v, %v\n", p.Label, p.Length, p.Left.Kind, p.Right.Kind)
	}
	fmt.Println(list.Joints.Copes, "copes,", list.Joints.FlatMiters, "flat miters,", list.Joints.Stops, "stops")
	// Output:
	// cloakroom N base                     10' 3-1/2"    square, square
	// cloakroom E base                     6' 8"         cope, square
	// cloakroom S base A                   4' 8-5/16"    cope, square
	// cloakroom S base B                   2' 3-13/16"   square, cope
	// cloakroom W base                     6' 8"         square, cope
	// cloakroom S door casing leg left     6' 11-11/16"  square, flat miter
	// cloakroom S door casing leg right    6' 11-11/16"  flat miter, square
	// cloakroom S door casing head         3' 3-3/8"     flat miter, flat miter
	// 4 copes, 2 flat miters, 2 stops
}

// The allowances of a piece explain its length and sum to it.
func ExampleTake_allowances() {
	outside := takeoff.Corner{Kind: takeoff.CornerOutside}
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "left cheek", Length: measure.Foot, Corner: outside},
		{Name: "chimney", Length: 5 * measure.Foot, Corner: outside},
		{Name: "right cheek", Length: measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	base := &stock.Profile{Name: "base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	chimney := list.Pieces[1]
	fmt.Println(chimney.Label, chimney.Length)
	for _, a := range chimney.Allowances {
		fmt.Printf("  %-24s %v\n", a.Name, a.Length)
	}
	// Output:
	// classroom chimney base 5' 1-1/8"
	//   wall chimney             5'
	//   outside miter at left    9/16"
	//   outside miter at right   9/16"
}

// The north wall was measured from the 1-inch mark, and the inch was not subtracted.
func ExampleCheck() {
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "N", Length: measure.MustParse("24ft 4-1/2in")},
		{Name: "E", Length: measure.MustParse("18ft")},
		{Name: "S", Length: measure.MustParse("24ft 3-1/2in")},
		{Name: "W", Length: measure.MustParse("18ft")},
	}}
	findings, err := takeoff.Check([]takeoff.Room{room}, takeoff.Scheme{}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings {
		fmt.Printf("%v, %v: %s\n", f.Severity, f.Code, f.Reason)
	}
	// Output:
	// doubt, closure: the walls fail to close by 1", more than careful readings may add up to, about 7/32"; measure again N and S, which explain it equally well; if they read the same, the room is out of square, which its diagonals show
	// doubt, opposite walls: opposite walls N (24' 4-1/2") and S (24' 3-1/2") differ by 1"
	// doubt, missed inch: an inch burned at the end of the tape and not subtracted, or subtracted twice: N would be 24' 3-1/2" instead of 24' 4-1/2", or S would be 24' 4-1/2" instead of 24' 3-1/2"
	// doubt, wrong side: read to the wrong side of the 24' 4" mark: N would be 24' 3-1/2" instead of 24' 4-1/2", or S would be 24' 4-1/2" instead of 24' 3-1/2"
}

// One diagonal distinguishes the two walls.
func ExampleRoom_diagonals() {
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "N", Length: measure.MustParse("24ft 4-1/2in")},
		{Name: "E", Length: measure.MustParse("18ft")},
		{Name: "S", Length: measure.MustParse("24ft 3-1/2in")},
		{Name: "W", Length: measure.MustParse("18ft")},
	}}
	room.Diagonals = []takeoff.Diagonal{{From: "N", To: "S", Length: measure.MustParse("30ft 2-13/16in")}}
	findings, err := takeoff.Check([]takeoff.Room{room}, takeoff.Scheme{}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings {
		if f.Code == takeoff.FindingMissedInch {
			fmt.Println(f.Wall, f.Instead)
		}
	}
	// Output: N 24' 3-1/2"
}

// Invalid input is an error that names the field and the value.
func ExampleTake_error() {
	room := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{{
		Name: "E", Length: 6 * measure.Foot,
		Openings: []takeoff.Opening{{At: 5 * measure.Foot, Width: 32 * measure.Inch}},
	}}}
	_, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{}, nil)
	fmt.Println(err)
	// Output: rooms[0].walls[0].openings[0] is "5' + 2' 8\"", want to end within the wall's 6'
}

func ExampleRoom_Traverse() {
	room := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{
		{Name: "N", Length: 20 * measure.Foot},
		{Name: "E", Length: 5*measure.Foot + 2*measure.Inch},
		{Name: "S", Length: 20 * measure.Foot},
		{Name: "W", Length: 5 * measure.Foot},
	}}
	t, err := room.Traverse()
	fmt.Println(t.Closed, t.East, t.South, t.Misclosure, err)
	// Output: true 0" 2" 2" <nil>
}

func ExampleCorner_UnmarshalText() {
	var wall takeoff.Wall
	err := json.Unmarshal([]byte(`{"name": "bay left", "length": "30in", "corner": "outside 135°"}`), &wall)
	fmt.Println(wall.Corner.Kind, wall.Corner.Angle, err)
	// Output: outside 135° <nil>
}

func ExampleList_TotalsOf() {
	room := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{{Name: "N", Length: 20 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
	base := &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 4 * measure.Inch, Lengths: []measure.Length{16 * measure.Foot}}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	t := list.TotalsOf("base")
	fmt.Println(t.Net, "of base in", t.Pieces, "pieces,", t.Splices, "splice,", t.Joints.Stops, "stops")
	// Output: 20' of base in 2 pieces, 1 splice, 2 stops
}

// Problems that an experienced carpenter sees before buying.
func ExampleCheckTrim() {
	rooms := []takeoff.Room{{
		Name: "cloakroom", Wet: true, PaintLine: 5*measure.Inch + measure.Inch/4,
		Walls: []takeoff.Wall{{Name: "N", Length: 8 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}},
	}}
	scheme := takeoff.Scheme{
		Base: &stock.Profile{
			Name: "flat base", Material: "fiberboard", Thickness: 5 * measure.Inch / 8, Width: 3*measure.Inch + measure.Inch/4,
			Lengths: []measure.Length{8 * measure.Foot, 16 * measure.Foot},
		},
		Casing: &stock.Profile{Name: "flat casing", Material: "fiberboard", Thickness: measure.Inch / 2, Width: 3 * measure.Inch},
	}
	findings, err := takeoff.CheckTrim(rooms, scheme, takeoff.Conditions{MaxTransport: 10 * measure.Foot})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings {
		fmt.Printf("%v, %v: %s\n", f.Severity, f.Code, f.Reason)
	}
	// Output:
	// advice, thick base: flat base is 1/8" thicker than the flat casing that it dies into; its end will show; chamfer it over 1/8" at 45° or about 7/16" at 15°, return it short of there, or let it end at a backband at least 5/8" thick or at a plinth 3/4" thick and 3-3/8" high
	// advice, transport: sticks of flat base of 16' are 6' longer than can be carried; the longest that can is 8'
	// advice, paint line: flat base is 3-1/4" high and the old paint line at 5-1/4": 2" of it will show
	// doubt, wet swelling: flat base is of fiberboard, which swells, and the floor gets wet
}

// A quick takeoff, walls rounded up and 10% added, and the exact one: it costs more and still
// lacks a wall.
func ExampleList_Compare() {
	room := takeoff.Room{Name: "teacher's room"}
	var readings []takeoff.WallReading
	for i, name := range []string{"N", "E", "S", "W"} {
		l := []measure.Length{9*measure.Foot + 2*measure.Inch, 8*measure.Foot + 9*measure.Inch}[i%2]
		room.Walls = append(room.Walls, takeoff.Wall{Name: name, Length: l})
		readings = append(readings, takeoff.WallReading{Room: room.Name, Wall: name, Length: l})
	}
	base := &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 4 * measure.Inch, Lengths: []measure.Length{16 * measure.Foot}}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	shelf := []stock.Stick{{Length: 16 * measure.Foot, Price: 2400}, {Length: 10 * measure.Foot, Price: 1500}}
	c, err := list.Compare("base", takeoff.RoughRule{Waste: 10 * measure.Percent}, readings, shelf, measure.Inch/8)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("in the head:", c.Need, "and 10% are", c.Sticks, "sticks of", shelf[c.Stick].Length, "for", c.Cost)
	fmt.Println("exact:", c.Exact, "from", len(c.Picked.Sticks), "sticks of", shelf[c.Picked.Sticks[0].Stick].Length, "for", c.Picked.Cost)
	fmt.Println(c.OverCost, "too much, and lacking:")
	for _, i := range c.Missing {
		fmt.Println(" ", c.Picked.Pieces[i].Label, c.Picked.Pieces[i].Length)
	}
	// Output:
	// in the head: 38' and 10% are 3 sticks of 16' for 7200
	// exact: 35' 10" from 4 sticks of 10' for 6000
	// 1200 too much, and lacking:
	//   teacher's room W base 8' 9"
}

// The sixteens are sold out: a shelf with twelves and the last tens.
func ExampleList_PickFrom() {
	room := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{
		{Name: "E", Length: 15 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	base := &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 4 * measure.Inch, Lengths: []measure.Length{12 * measure.Foot, 16 * measure.Foot}}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	picked, err := list.PickFrom("base", []stock.Stick{
		{Length: 12 * measure.Foot, Price: 1700}, {Length: 10 * measure.Foot, Price: 1500, Limit: 1},
	}, measure.Inch/8)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(list.PiecesOf("base")), "piece becomes", len(picked.Pieces), "from", len(picked.Sticks), "sticks for", picked.Cost)
	for _, p := range picked.Pieces {
		fmt.Println(p.Label, p.Length)
	}
	// Output:
	// 1 piece becomes 2 from 2 sticks for 3200
	// corridor E base 1 of 2 4' 1/4"
	// corridor E base 2 of 2 11' 1/4"
}

// Tiles of a foot along 6 ft 2 in, with the left corner visible: the cut goes to the other end,
// and because it would be a sliver two tiles share it.
func ExampleTiling_Lay() {
	tiles := takeoff.Tiling{Strip: measure.Foot, Joint: measure.Inch / 8, FullLeft: true}
	layout, err := tiles.Lay(6*measure.Foot + 2*measure.Inch)
	fmt.Println(layout.Strips, layout.Cut, err)
	// Output: [1' 1' 1' 1' 1' 6-5/8" 6-5/8"] 2 <nil>
}

// A window with stool and apron: the pieces in the order of the work.
func ExampleTake_stool() {
	const in = measure.Inch
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{{
		Name: "E", Length: 12 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 4 * measure.Foot, Width: 32 * in, Height: 66 * in, Sill: 30 * in}},
	}}}
	scheme := takeoff.Scheme{
		Casing: &stock.Profile{Name: "casing", Thickness: 3 * in / 4, Width: 3*in + in/2},
		Stool:  &stock.Profile{Name: "stool", Thickness: in, Width: 4*in + in/2},
		Apron:  &stock.Profile{Name: "casing", Thickness: 3 * in / 4, Width: 3*in + in/2},
	}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Pieces {
		fmt.Printf("%-36s %v\n", p.Label, p.Length)
	}
	// Output:
	// classroom E window stool             3' 4-7/8"
	// classroom E window apron             3' 3-3/8"
	// classroom E window casing leg left   5' 9-11/16"
	// classroom E window casing leg right  5' 9-11/16"
	// classroom E window casing head       3' 3-3/8"
}

// A quick takeoff: each wall up to the next even foot, a tenth for waste.
func ExampleRoughRule_Total() {
	rule := takeoff.RoughRule{Waste: 10 * measure.Percent, Round: 2 * measure.Foot}
	need, buy, err := rule.Total([]takeoff.WallReading{
		{Room: "cloakroom", Wall: "N", Length: measure.MustParse("9ft 2-1/2in")},
		{Room: "cloakroom", Wall: "E", Length: measure.MustParse("5ft 5-1/4in")},
	})
	fmt.Println(need, buy.Round(measure.Foot, measure.RoundUp), err)
	// Output:
	// 16' 18' <nil>
}
