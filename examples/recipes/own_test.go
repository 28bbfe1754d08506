package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example_own() {
	ctx := context.Background()
	job := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 1511}, {Length: 16 * measure.Foot, Price: 2371}},
		Pieces: []stock.Piece{
			{Label: "side", Length: measure.MustParse(`5' 7-1/4"`), Quantity: 4},
			{Label: "head", Length: measure.MustParse(`3' 2-5/8"`), Quantity: 2},
		},
		Kerf: measure.Inch / 8,
	}

	// The stick, the count, and the pieces cut from it: the rest follows.
	mine, err := optimize.Evaluate(ctx, job, &optimize.Plan{Patterns: []optimize.Pattern{
		{Stick: 0, Count: 2, Pieces: []int{0, 1}},
		{Stick: 0, Count: 2, Pieces: []int{0}},
	}})
	if err != nil {
		log.Fatal(err)
	}
	best, err := optimize.Solve(ctx, job, &optimize.Options{Start: mine})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("mine:", mine.Cost, "cents; the best:", best.Cost, "cents; difference:", mine.Cost-best.Cost)

	// A plan that does not add up is refused, and the error says where.
	mine.Patterns[1].Count = 1
	fmt.Println(optimize.Check(ctx, job, mine))
	// Output:
	// mine: 6044 cents; the best: 4742 cents; difference: 1302
	// optimize: plan is wrong: patterns is 3 of pieces[0], want 4
}
