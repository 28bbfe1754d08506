package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example_script() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{{Length: measure.MustParse(`12' 1-3/8"`)}, {Length: measure.MustParse(`41-1/2"`), Quantity: 4}},
		Kerf:   measure.Inch / 8,
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range plan.Patterns {
		fmt.Println(p.Count, "of stick", p.Stick, "cut into pieces", p.Pieces, "leaves", p.Offcut)
	}
	fmt.Println(plan.Cost, "cents; proven to be the least:", plan.Proven)
	// Output:
	// 1 of stick 0 cut into pieces [1 1 1] leaves 1' 7-1/8"
	// 1 of stick 1 cut into pieces [1 0] leaves 4-7/8"
	// 4516 cents; proven to be the least: true
}
