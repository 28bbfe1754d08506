package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

func Example_replan() {
	ctx := context.Background()
	job := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12 ft", Length: 12 * measure.Foot, Price: 1908}, {Label: "16 ft", Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{
			{Label: "north", Length: measure.MustParse(`12' 1-3/8"`)},
			{Label: "east", Length: measure.MustParse(`7' 4-3/4"`)},
			{Label: "closet", Length: measure.MustParse(`41-1/2"`), Quantity: 2},
		},
		Kerf: measure.Inch / 8,
	}
	plan, err := optimize.Solve(ctx, job, nil)
	if err != nil {
		log.Fatal(err)
	}

	// Noon: everything is bought, and the 12-foot stick is cut as planned. The first piece of the 16-foot stick, for the
	// closet, is cut too, and what was to be the north wall split: 9 feet of it are sound.
	rev, err := replan.Solve(ctx, job, plan, replan.Progress{
		Bought:  true,
		Cut:     []int{1},
		Started: []replan.Started{{Stick: 1, Pieces: []int{2}, Left: 9 * measure.Foot}},
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Print(rev)
	// Output:
	// 0 of 1 sticks still to be cut stay as planned
	// pattern 1: 1 of 1 cut differently: the stick is too short for it
	// buy 1 of "16 ft"
	// not needed: 1 of "16 ft", started, 9' long
	// still to be paid: 2608 cents, 2608 cents more than planned, proven to be the least
}
