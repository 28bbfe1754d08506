package recipes_test

import (
	"context"
	"log"
	"os"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

func Example_metric() {
	locale := measure.Locale{Metric: true, DecimalComma: true, Currency: measure.Currency{Symbol: "EUR", After: true}}
	read := locale.Parser()
	read.Unit = measure.Millimeter // of a number that has none
	pieces, err := stock.ParsePieces("2 @ 2,43 m rail\n1875 shelf edge\n41-1/2\" old sill", read)
	if err != nil {
		log.Fatal(err)
	}
	job := optimize.Problem{
		Sticks: []stock.Stick{{Length: 2500 * measure.Millimeter, Price: 990}, {Length: 5 * measure.Meter, Price: 1880}},
		Pieces: pieces,
		Kerf:   3 * measure.Millimeter,
	}
	plan, err := optimize.Solve(context.Background(), job, nil)
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := cutsheet.New(context.Background(), job, plan, &cutsheet.Options{Title: "Corridor rail", Locale: locale})
	if err != nil {
		log.Fatal(err)
	}
	if err := sheet.WriteText(os.Stdout); err != nil {
		log.Fatal(err)
	}
	// Output:
	// Corridor rail
	// fingerprint 3W3-J9H-H2R
	// 2 sticks to buy; 4 pieces to cut; cost 37,60 EUR.
	// The pieces use 77,8% of the stock. The offcut to keep is 2065 mm-.
	// Kerf 3 mm. Lengths are from long point to long point, to the nearest 1 mm. A +
	// after a length means a hair over the mark, a - a hair under.
	//
	// To buy -------------------------------------------------------------------------
	//   [ ] 2 @ 5000 mm  at 18,80 EUR = 37,60 EUR
	//   Cost 37,60 EUR
	//
	// Before you cut -----------------------------------------------------------------
	// Saws cause serious injuries. Follow the saw's manual, keep the guards on and
	// your hands out of the path of the blade, wear eye and hearing protection, and do
	// not breathe the dust. Cut a piece too short to hold against the fence off the
	// end of a longer one, and let the blade stop before you take it away. Local codes
	// and licensed professionals take precedence over this sheet.
	// Cut in numbered order from the start of the stick, and measure each piece from
	// the last cut.
	//
	// A: 1 stick of 5000 mm ----------------------------------------------------------
	//   |-----------------1-----------------||-----------------1-----------------|..
	//   1  [][]  2 @ 2430 mm  rail
	//                 134 mm  waste
	//
	// B: 1 stick of 5000 mm ----------------------------------------------------------
	//   |------1-------||-------------2-------------|...............................
	//   1  []  1054 mm+  old sill
	//   2  []   1875 mm  shelf edge
	//          2065 mm-  offcut
	//
	// Left over ----------------------------------------------------------------------
	//   [ ] 1 @ 2065 mm-  from B
	//   Waste, shorter than 300 mm: 1 piece, 134 mm in all.
	//
	// How good the plan is -----------------------------------------------------------
	// Proven: no plan costs less than 37,60 EUR; a separate check confirms it.
}
