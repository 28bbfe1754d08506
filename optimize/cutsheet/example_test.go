package cutsheet_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// The chair rail of the cloakroom, on a terminal.
func Example() {
	problem := optimize.Problem{
		Kerf: measure.Inch / 8,
		Sticks: []stock.Stick{
			{Length: 8 * measure.Foot, Price: 1120},
			{Length: 12 * measure.Foot, Price: 1680},
		},
		Pieces: []stock.Piece{
			{Label: "N", Length: measure.MustParse("9ft 2-1/2in")},
			{Label: "E", Length: measure.MustParse("5ft 5-5/16in"), Left: stock.End{Kind: stock.EndCope}},
			{Label: "closet", Length: measure.MustParse("4ft 1-1/16in"), Left: stock.End{Kind: stock.EndOutsideMiter}, Right: stock.End{Kind: stock.EndCope}},
			{Label: "by the door", Length: measure.MustParse("14in"), Quantity: 2},
		},
	}
	plan, err := optimize.Solve(context.Background(), problem, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := cutsheet.New(context.Background(), problem, plan, &cutsheet.Options{Title: "Cloakroom chair rail", Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := sheet.WriteText(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Cloakroom chair rail
	// fingerprint TGN-DX3-TDQ
	// 2 sticks to buy; 5 pieces to cut; cost $33.60.
	// The pieces use 87.8% of the stock. The offcut to keep is 2' 9-3/8".
	// Kerf 1/8". Lengths are from long point to long point, to the nearest 1/16".
	//
	// To buy -------------------------------------------------------------------------
	//   [ ] 2 @ 12'  at $16.80 = $33.60
	//   Cost $33.60
	//
	// Saw settings -------------------------------------------------------------------
	//   cope           left end, upright: miter 45 deg, or flat: bevel 45 deg; miter
	//                  right, keep right
	//   cope           right end, upright: miter 45 deg, or flat: bevel 45 deg; miter
	//                  left, keep left
	//   outside miter  left end, upright: miter 45 deg, or flat: bevel 45 deg; miter
	//                  left, keep right
	//   Miter and bevel are the readings of the saw's two scales, 0 for a square cut,
	//   to the nearest 0.1 deg. In the lists the angle beside an end is the miter for
	//   a piece cut upright or, at a flat miter, flat. Miter left: swing the saw to
	//   the left; keep left: your piece is on the left of the blade. Upright: back
	//   against the fence, as on the wall. Flat: back on the table. Do not use these
	//   settings for crown: they need its profile.
	//
	// Before you cut -----------------------------------------------------------------
	// Saws cause serious injuries. Follow the saw's manual, keep the guards on and
	// your hands out of the path of the blade, wear eye and hearing protection, and do
	// not breathe the dust. Cut a piece too short to hold against the fence off the
	// end of a longer one, and let the blade stop before you take it away. Local codes
	// and licensed professionals take precedence over this sheet.
	// Cut in numbered order from the start of the stick, and measure each piece from
	// the last cut.
	// In the drawings / and \ are slanted ends, drawn with the back of the piece up,
	// or its outer edge if it lies flat; { and } are copes.
	//
	// A: 1 stick of 12' --------------------------------------------------------------
	//   |---------------------------1----------------------------|..................
	//   1  []  9' 2-1/2"  N
	//          2' 9-3/8"  offcut
	//
	// B: 1 stick of 12' --------------------------------------------------------------
	//   |--1--||--1---|/-----------2------------}{---------------3----------------|.
	//   1  [][]   2 @ 1' 2"  by the door
	//   2  []    4' 1-1/16"  closet
	//                          left outside miter 45 deg, right cope 45 deg
	//   3  []    5' 5-5/16"  E
	//                          left cope 45 deg, right square
	//                1-1/8"  waste
	//
	// Left over ----------------------------------------------------------------------
	//   [ ] 1 @ 2' 9-3/8"  from A
	//   Waste, shorter than 1': 1 piece, 1-1/8" in all.
	//
	// How good the plan is -----------------------------------------------------------
	// Proven: no plan costs less than $33.60; a separate check confirms it.
}

// A saved sheet is read, checked and written in another format.
func ExampleReadJSON() {
	var saved bytes.Buffer
	problem := optimize.Problem{
		Sticks: []stock.Stick{{Label: "oak 8", Length: 8 * measure.Foot, Price: 1450}},
		Pieces: []stock.Piece{{Label: "coat rail", Length: 46 * measure.Inch, Quantity: 3}},
	}
	plan, err := optimize.Solve(context.Background(), problem, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := cutsheet.New(context.Background(), problem, plan, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := sheet.WriteJSON(&saved); err != nil {
		fmt.Println(err)
		return
	}

	p, again, o, err := cutsheet.ReadJSON(&saved)
	if err != nil {
		fmt.Println(err)
		return
	}
	if sheet, err = cutsheet.New(context.Background(), p, again, o); err != nil {
		fmt.Println(err)
		return
	}
	var table bytes.Buffer
	if err := sheet.WriteCSV(&table); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(strings.ReplaceAll(strings.TrimPrefix(table.String(), "\ufeff"), "\r\n", "\n"))

	var version *cutsheet.VersionError
	_, _, _, err = cutsheet.ReadJSON(strings.NewReader(`{"format": "longpoint cut sheet", "version": 7}`))
	fmt.Println(errors.As(err, &version), err)
	// Output:
	// Row,Pattern,Sticks,Cut,Label,Per stick,Total,Length,Inches,Price each,Price total,Room,Wall,Left end,Left corner,Left saw miter,Left saw bevel,Right end,Right corner,Right saw miter,Right saw bevel,Run,Turned,From start,On hold,Note,Work
	// "sheet",,,,"Cut sheet",,,,,,,,,,,,,,,,,,,,,"fingerprint HMP-F46-9N6; Cut in numbered order from the start of the stick, and measure each piece from the last cut.",
	// "buy",,,,"oak 8",,2,"8'",96.000,14.50,29.00,,,,,,,,,,,,,,,,
	// "piece","A",1,1,"coat rail",1,1,"3' 10""",46.000,,,,,"square",,,,"square",,,,,"as given",0.000,,,
	// "offcut","A",1,,,1,1,"4' 2""",50.000,,,,,,,,,,,,,,,46.000,,,
	// "piece","B",1,1,"coat rail",2,2,"3' 10""",46.000,,,,,"square",,,,"square",,,,,"as given",0.000,,,
	// "waste","B",1,,,1,1,"4""",4.000,,,,,,,,,,,,,,,92.000,,,
	// true cutsheet: version is 7: want 1 to 3
}
