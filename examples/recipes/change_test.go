package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

func Example_change() {
	ctx := context.Background()
	job := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{{Label: "wainscot", Length: measure.MustParse(`3' 11-7/8"`), Quantity: 7}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(ctx, job, nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("as planned:", plan.Cost)
	for _, c := range []struct {
		what   string
		change whatif.Change
	}{
		{"one piece more", whatif.MorePieces(0, 1)},
		{"an inch longer", whatif.LongerPiece(0, measure.Inch)},
		{"no 16-foot sticks", whatif.StickLimit(1, 0)},
		{"8-foot sticks at $12 too", whatif.NewStick(stock.Stick{Length: 8 * measure.Foot, Price: 1200})},
	} {
		d, err := whatif.Solve(ctx, job, plan, nil, c.change)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%s: %+d to %+d\n", c.what, d.Low, d.High)
	}
	// Output:
	// as planned: 4516
	// one piece more: +700 to +700
	// an inch longer: +1908 to +1908
	// no 16-foot sticks: +1208 to +1208
	// 8-foot sticks at $12 too: -208 to -208
}
