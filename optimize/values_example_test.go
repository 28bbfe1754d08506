package optimize_test

import (
	"context"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Where the money goes, piece by piece.
func ExamplePlan_PieceValues() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{
			{Label: "wainscot", Length: measure.MustParse(`3' 11-7/8"`), Quantity: 7},
			{Label: "sill", Length: 7 * measure.Foot, Quantity: 4},
		},
		Kerf: measure.MustParse("1/8 in"),
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	values, ok := plan.PieceValues()
	fmt.Println(plan.Cost, ok)
	for i, v := range values {
		fmt.Printf("%s: %s\n", p.Pieces[i].Label, v.FloatString(2))
	}
	// Output:
	// 9540 true
	// wainscot: 636.00
	// sill: 1272.00
}
