package longpoint_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{
			{Length: measure.MustParse(`12' 1-3/8"`)},
			{Length: measure.MustParse(`7' 4-3/4"`)},
			{Length: measure.MustParse("41 1/2 in"), Quantity: 2},
		},
		Kerf: measure.MustParse("1/8 in"),
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range plan.Patterns {
		fmt.Println(p.Count, "of stick", p.Stick, "cut into pieces", p.Pieces, "leaves", p.Offcut)
	}
	fmt.Println(plan.Cost, "cents; proven to be the least:", plan.Proven)
	// Output:
	// 1 of stick 0 cut into pieces [1 2] leaves 1' 1-1/2"
	// 1 of stick 1 cut into pieces [0 2] leaves 4-7/8"
	// 4516 cents; proven to be the least: true
}
