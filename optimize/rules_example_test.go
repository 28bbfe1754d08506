package optimize_test

import (
	"context"
	"fmt"
	"log"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A wall longer than any stick: on which stud to splice it is decided together with
// what else is cut. Spliced as far along as the longest stick reaches, on the stud at
// 15' 3", it would leave the window seat a stick of its own, 1,208 cents more.
func ExampleProblem_runs() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{{Label: "window seat", Length: measure.MustParse("7 ft")}},
		Runs: []stock.Run{{
			Label:  "north wall",
			Length: measure.MustParse("24 ft 6 in"),
			Splice: stock.SpliceRule{
				At:      slices.Collect(measure.OnCenter(23*measure.Foot, 7*measure.Inch, 16*measure.Inch)),
				Overlap: measure.MustParse("1/2 in"),
				Bevel:   45 * measure.Degree,
				Price:   200,
			},
		}},
		Kerf: measure.MustParse("1/8 in"),
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range plan.Spliced {
		fmt.Println("splice at", s.At)
	}
	for _, part := range plan.Parts {
		fmt.Println(part.Label, part.Length)
	}
	fmt.Println(len(plan.Patterns), "sticks,", plan.Cost, "cents, proven:", plan.Proven)
	// Output:
	// splice at [8' 7"]
	// north wall 1/2 8' 7-1/4"
	// north wall 2/2 15' 11-1/4"
	// 2 sticks, 5416 cents, proven: true
}

// Four sides of a frame from flat stock that may be turned end for end: neighbors
// share a miter, so that one stick does where two would be needed.
func ExampleRules_nest() {
	side := func(label, length string) stock.Piece {
		miter := stock.End{Kind: stock.FlatMiter, Setback: measure.MustParse("3 in")}
		return stock.Piece{Label: label, Length: measure.MustParse(length), Quantity: 2,
			Left: miter, Right: miter, Symmetry: stock.EndForEnd}
	}
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 1240}},
		Pieces: []stock.Piece{side("long", "28 in"), side("short", "23 in")},
		Kerf:   measure.MustParse("1/8 in"),
	}
	for _, p.Rules.Nest = range []bool{false, true} {
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println(plan.Sticks(), "sticks,", plan.Cost, "cents, proven:", plan.Proven)
		for _, pat := range plan.Patterns {
			fmt.Println(pat.Pieces, pat.Turned, "leaves", pat.Offcut)
		}
	}
	// Output:
	// 2 sticks, 2480 cents, proven: true
	// [0 0 1] [] leaves 1' 4-5/8"
	// [1] [] leaves 6' 7/8"
	// 1 sticks, 1240 cents, proven: true
	// [1 1 0 0] [as given turned end for end as given turned end for end] leaves 2-1/4"
}

// Baseboard is sold in bundles of four at a discount from ten sticks on, casing
// from the other yard singly, and either asks a delivery charge.
func ExampleRules_buying() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "12 ft, mill", Length: 12 * measure.Foot, Price: 1500, Bundle: 4, Supplier: "mill",
				Breaks: []stock.PriceBreak{{From: 12, Price: 1350}}},
			{Label: "16 ft, yard", Length: 16 * measure.Foot, Price: 2500, Supplier: "yard"},
		},
		Pieces: []stock.Piece{{Label: "wainscot cap", Length: measure.MustParse(`5' 11-1/2"`), Quantity: 19}},
		Kerf:   measure.MustParse("1/8 in"),
		Rules: optimize.Rules{
			Charges: []optimize.Charge{{Supplier: "mill", Amount: 4000}, {Supplier: "yard", Amount: 2500}},
			Spare:   1,
		},
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, b := range plan.Buy {
		fmt.Println("buy", b.Count, "of stick", b.Stick, "for", b.Cost, "cents")
	}
	fmt.Println(plan.Sticks(), "are cut;", plan.Cost, "cents with delivery, proven:", plan.Proven)
	// Output:
	// buy 12 of stick 0 for 16200 cents
	// 10 are cut; 20200 cents with delivery, proven: true
}
