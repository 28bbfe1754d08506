package replan_test

import (
	"context"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// The long piece of the classroom's base splits at a knot.
func ExampleSolve() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12 ft", Length: 12 * measure.Foot, Price: 1908}, {Label: "16 ft", Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{
			{Label: "north", Length: measure.MustParse(`12' 1-3/8"`)},
			{Label: "east", Length: measure.MustParse(`7' 4-3/4"`)},
			{Label: "closet", Length: measure.MustParse("41 1/2 in"), Quantity: 2},
		},
		Kerf: measure.MustParse("1/8 in"),
	}
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	// The 16-foot stick is cut, but the long piece split; 9 feet of it can still be used.
	// The other stick is in hand.
	rev, err := replan.Solve(ctx, p, plan, replan.Progress{
		Started: []replan.Started{{Stick: 1, Pieces: []int{2}, Left: 9 * measure.Foot}},
		Owned:   []replan.Owned{{Place: replan.PlaceWhole, Stick: 0}},
	}, nil)
	if err != nil {
		panic(err)
	}
	fmt.Print(rev)
	for _, pat := range rev.Plan.Patterns {
		fmt.Print(rev.Problem.Sticks[pat.Stick].Label, ":")
		for _, i := range pat.Pieces {
			fmt.Print(" ", rev.Problem.Pieces[i].Label)
		}
		fmt.Println()
	}
	// Output:
	// 1 of 2 sticks still to be cut stay as planned
	// pattern 1: 1 of 1 cut otherwise, the stick is too short for it
	// buy 1 of "16 ft"
	// not needed: 1 of "16 ft", started, 9' long
	// still to be paid: 2608 cents, 2608 cents more than planned, proven to be the least
	// 12 ft, in hand: closet east
	// 16 ft: north
}
