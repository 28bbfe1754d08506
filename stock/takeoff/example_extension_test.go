package takeoff_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
)

// The teacher's room has new plaster, and its window's jambs no longer reach the face of the
// wall: the depth was measured at four corners and halfway up the left side.
func ExampleExtensionStock() {
	in := measure.MustParse
	room := takeoff.Room{Name: "teacher's room", Walls: []takeoff.Wall{{
		Name: "E", Length: in("10ft 8in"), Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{
			Kind: takeoff.OpeningWindow, At: in("18in"), Width: in("30-1/4in"), Height: in("60in"), Sill: in("32in"),
			Depths: &scribe.Depths{TopLeft: in("1/2in"), TopRight: in("11/16in"), BottomLeft: in("9/16in"), BottomRight: in("9/16in"), Left: in("5/8in")},
		}},
	}}}
	scheme := takeoff.Scheme{
		Casing: &stock.Profile{Name: "flat casing", Thickness: in("3/4in"), Width: in("3-1/2in")},
		Extension: &takeoff.ExtensionStock{
			Board: stock.Profile{Name: "pine 1x6", Thickness: in("3/4in"), Width: in("5-1/2in"), Lengths: []measure.Length{in("8ft")}},
			Kerf:  in("1/8in"),
		},
	}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, strip := range list.Strips {
		boards, err := strip.Rip.Blanks(8)
		fmt.Printf("%s: %d of a board, 8 of %d boards %v\n", strip.Profile.Name, strip.PerBoard, boards, err)
	}
	for _, r := range list.Runs {
		if r.Role != stock.RoleExtension {
			continue
		}
		fmt.Printf("%s %v", r.Label, r.Length)
		for _, m := range r.Scribe {
			fmt.Printf(", %v off", m.Depth.About())
		}
		fmt.Println()
	}
	for _, f := range list.Findings {
		switch f.Code {
		case takeoff.FindingProudJamb, takeoff.FindingThinRip, takeoff.FindingJambBow, takeoff.FindingJambTwist, takeoff.FindingJambDepth:
			fmt.Println(f.Reason)
		}
	}
	fmt.Println(list.PiecesOf("flat casing")[0].Length)
	// Output:
	// pine 1x6 ripped to 11/16": 6 of a board, 8 of 2 boards <nil>
	// teacher's room E window jamb extension leg left 5' 3/8", 1/8" off, 1/16" off, 3/16" off
	// teacher's room E window jamb extension leg right 5' 3/8", 1/8" off, 0" off
	// teacher's room E window jamb extension head 2' 8-1/8", 3/16" off, 0" off
	// teacher's room E window jamb extension sill 2' 8-1/8", 1/8" off, 1/8" off
	// window: the wall is from 1/2" to 11/16" beyond the jamb, 3/16" apart; measure again, or true the wall before the casing shows it
	// window: the corners of the wall are twisted by 3/16": casing in one plane is 3/64" off each of them
	// window: the wall is bowed out by 3/32" along its left side; scribe the extension to it
	// 5' 7-3/4"
}

// The stool of the same window is notched around its jambs.
func Example_notchedStool() {
	in := measure.MustParse
	room := takeoff.Room{Name: "teacher's room", Walls: []takeoff.Wall{{
		Name: "E", Length: in("10ft 8in"), Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{
			Kind: takeoff.OpeningWindow, At: in("18in"), Width: in("30-1/4in"), Height: in("60in"), Sill: in("32in"),
			Sash: &scribe.SashDepths{LeftJamb: in("3in"), LeftHorn: in("3-1/16in"), RightJamb: in("3-1/8in")},
		}},
	}}}
	scheme := takeoff.Scheme{
		Casing: &stock.Profile{Name: "flat casing", Thickness: in("3/4in"), Width: in("3-1/2in")},
		Stool:  &stock.Profile{Name: "stool", Thickness: in("1in"), Width: in("4-1/4in")},
	}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range list.Runs[0].Scribe {
		fmt.Println("at", m.At, "saw in", m.Depth)
	}
	for _, f := range list.Findings {
		if f.Code == takeoff.FindingStoolWidth {
			fmt.Println(f.Reason)
		}
	}
	// Output:
	// at 0" saw in 3"
	// at 4-7/16" saw in 2-15/16"
	// at 4-7/16" saw in 0"
	// at 2' 10-11/16" saw in 0"
	// at 2' 10-11/16" saw in 3-1/16"
	// at 3' 3-1/8" saw in 3-1/16"
	// window: the sash is up to 3-1/16" behind the wall; a stool that stands out 3/4" before the casing is 4-9/16" wide, and stool is 4-1/4"
}
