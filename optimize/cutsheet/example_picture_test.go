package cutsheet_test

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"log"
	"os"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// description is the line of a picture that describes it in words.
func description(picture []byte) string {
	text := strings.Split(string(picture), "\n")[2]
	return html.UnescapeString(strings.TrimSuffix(strings.TrimPrefix(text, "<desc>"), "</desc>"))
}

// The cope at the left end of crown: the first cut is an inside miter, made upside down.
func ExampleSawEnd_Picture() {
	e := cutsheet.SawEnd{Piece: "teacher's room N", End: stock.End{Kind: stock.EndCope}, Side: joint.SideLeft}
	crown := stock.Profile{Name: "primed crown", Role: stock.RoleCrown, Thickness: 9 * measure.Inch / 16, Width: 29 * measure.Inch / 8}
	var b bytes.Buffer
	if err := e.Picture(&b, &cutsheet.PictureOptions{Profile: &crown, Graduation: measure.Degree / 2}); err != nil {
		log.Fatal(err)
	}
	fmt.Println(strings.ReplaceAll(description(b.Bytes()), ". ", ".\n"))
	// Output:
	// Nested, upside down: wall edge against the fence, ceiling edge on the table.
	// Saw: miter 45° to the left, bevel 0.
	// Keep the left side.
	// This is the first cut: then cope along the edge of the profile.
	// The long point is at the fence.
	// Saws cause serious injuries: follow the saw's manual, keep the guards on and your hands out of the path of the blade.
}

// The pictures of a stored plan: a spliced run, the use of the sticks, and how good the plan
// is.
func ExampleSheet_RunPicture() {
	file, err := os.Open("testdata/pictured.json")
	if err != nil {
		log.Fatal(err)
	}
	defer file.Close()
	problem, plan, options, err := cutsheet.ReadJSON(file)
	if err != nil {
		log.Fatal(err)
	}
	s, err := cutsheet.New(context.Background(), problem, plan, options)
	if err != nil {
		log.Fatal(err)
	}
	var run, sticks, proof bytes.Buffer
	if err := s.RunPicture(&run, 0, nil); err != nil {
		log.Fatal(err)
	}
	if err := s.PurchasePicture(&sticks, nil); err != nil {
		log.Fatal(err)
	}
	if err := s.ProofPicture(&proof, &cutsheet.PictureOptions{Width: 360}); err != nil {
		log.Fatal(err)
	}
	for _, b := range []bytes.Buffer{run, sticks, proof} {
		fmt.Println(strings.ReplaceAll(description(b.Bytes()), ". ", ".\n"))
	}
	// Output:
	// classroom N, 27' 5-1/2" long, spliced at 15' 5-1/4" from the left long point.
	// 1  classroom N 1 of 2: 15' 5-1/2", from stick D (16'), cut 1.
	// 2  classroom N 2 of 2: 12' 1/2", from stick E (16'), cut 2.
	//
	// Total: used 72' 3-7/8" $91.81; kept 14' 7-3/8" $21.88; waste 1' 5-1/4" $1.71; total 88' 4-1/2" $115.40
	// Proven: no plan that keeps the rules of this job costs less than $122.40.
	// A separate check, which shares nothing with the search, confirms that no plan costs less than $121.10; the rest relies on the search, which tried every case in between that the rules allow.
}

// A run as package takeoff splices it, before there is a plan.
func ExampleSplicedRunPicture() {
	run := stock.Run{Label: "corridor N", Room: "corridor", Wall: "N", Length: 322 * measure.Inch, Splices: []measure.Length{160 * measure.Inch}}
	run.Splice = stock.SpliceRule{At: []measure.Length{144 * measure.Inch, 160 * measure.Inch, 176 * measure.Inch}, Overlap: measure.Inch / 2, Bevel: 45 * measure.Degree, Assumed: true}
	var b bytes.Buffer
	sticks := map[string]string{"corridor N 1 of 2": "stick 4", "corridor N 2 of 2": "stick 7"}
	if err := cutsheet.SplicedRunPicture(&b, run, sticks, &cutsheet.PictureOptions{Width: 360}); err != nil {
		log.Fatal(err)
	}
	fmt.Println(strings.ReplaceAll(description(b.Bytes()), ". ", ".\n"))
	// Output:
	// corridor N, 26' 10" long, spliced at 13' 4" from the left long point.
	// The studs are assumed: find them first.
	// 1  corridor N 1 of 2: 13' 4-1/4", from stick 4.
	// 2  corridor N 2 of 2: 13' 6-1/4", from stick 7.
}

// The rack before and after a plan.
func ExampleRackPicture() {
	rack := stock.Rack{Keep: 12 * measure.Inch, Offcuts: []stock.Offcut{
		{ID: "porch", Profile: "base", Length: 74 * measure.Inch},
		{ID: "stair", Profile: "base", Length: 21 * measure.Inch},
	}}
	problem := optimize.Problem{
		Sticks: append(rack.Sticks("base"), stock.Stick{Profile: "base", Length: 96 * measure.Inch, Price: 1190}),
		Pieces: []stock.Piece{{Label: "closet", Length: 31 * measure.Inch, Quantity: 5}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), problem, nil)
	if err != nil {
		log.Fatal(err)
	}
	change, err := plan.RackChange(problem, "closet, 3 May")
	if err != nil {
		log.Fatal(err)
	}
	after, err := rack.Apply(change)
	if err != nil {
		log.Fatal(err)
	}
	var b bytes.Buffer
	if err := cutsheet.RackPicture(&b, rack, &after, nil); err != nil {
		log.Fatal(err)
	}
	fmt.Println(description(b.Bytes()))
	// Output:
	// Offcuts that stay: 1, used up: 1, added: 0. Longest of base: 6' 2".
}
