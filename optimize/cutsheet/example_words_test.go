package cutsheet_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// Every paper of a plan names its job and has the same fingerprint; rooms to be measured again
// wait; tags fit a grid of label paper.
func ExampleSheet_WriteTags() {
	problem := optimize.Problem{
		Kerf:   measure.Inch / 8,
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1680}},
		Pieces: []stock.Piece{
			{Label: "base N", Room: "cloakroom", Wall: "N", Length: measure.MustParse("9ft 2-1/2in"), Left: stock.End{Kind: stock.EndCope}},
			{Label: "base E", Room: "corridor", Wall: "E", Length: measure.MustParse("7ft 5in")},
		},
	}
	plan, err := optimize.Solve(context.Background(), problem, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := cutsheet.New(context.Background(), problem, plan, &cutsheet.Options{
		Title: "Base", Job: "Schoolhouse workshop", Date: "November 30", Revision: "2", Width: 60,
		Hold: []cutsheet.Hold{{Room: "corridor", Reason: "wall E was read twice, with two results"}},
		Tags: cutsheet.TagGrid{ // of label paper with 30 tags of 1 x 2-5/8 in
			Columns: 3, Rows: 10, Top: measure.Inch / 2, Bottom: measure.Inch / 2,
			Left: 3 * measure.Inch / 16, Right: 3 * measure.Inch / 16, ColumnGap: measure.Inch / 8, ByRoom: true,
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var text, tags bytes.Buffer
	if err := sheet.WriteText(&text); err != nil {
		fmt.Println(err)
		return
	}
	if err := sheet.WriteTags(&tags); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(strings.Count(tags.String(), sheet.Fingerprint())-1, "tags and the head of the page with", sheet.Fingerprint())
	_, sticks, _ := strings.Cut(text.String(), "last cut.\n")
	fmt.Println(sticks)
	// Output:
	// 2 tags and the head of the page with C6Q-NHJ-GK3
	// In the drawings { and } are copes.
	//
	// A: 1 stick of 12' ------------------------------------------
	//   {--------------------1--------------------|.............
	//   1  []  9' 2-1/2"  base N
	//                       left cope 45 deg, right square
	//          2' 9-3/8"  offcut
	//
	// On hold ----------------------------------------------------
	// Do not cut these sticks yet. Each has a piece for a room on
	// hold; if its length changes, these sticks are planned again.
	//   corridor, 1 piece: wall E was read twice, with two results
	//
	// B: 1 stick of 12', on hold ---------------------------------
	//   |----------------1----------------|.....................
	//   1  []      7' 5"  base E
	//                       wait: corridor is on hold
	//          4' 6-7/8"  offcut
	//
	// Where the pieces come from ---------------------------------
	// By room and wall: the letter is the stick's in this list,
	// the number the cut's.
	// cloakroom
	//   N  A 1  base N, 9' 2-1/2"
	// corridor
	//   E  B 1, on hold  base E, 7' 5"
	//
	// Left over --------------------------------------------------
	//   [ ] 1 @ 4' 6-7/8"  from B
	//   [ ] 1 @ 2' 9-3/8"  from A
	//
	// How good the plan is ---------------------------------------
	// Proven: no plan costs less than 33.60; a separate check
	// confirms it.
}
