package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example_rack() {
	rack := stock.Rack{Keep: 16 * measure.Inch} // shorter offcuts are waste
	twelve := stock.Stick{Profile: "fir base", Length: 12 * measure.Foot, Price: 1908}
	for _, job := range []struct {
		id     string
		pieces []stock.Piece
	}{
		{"cloakroom", []stock.Piece{{Length: 9 * measure.Foot}, {Length: 7 * measure.Foot}}},
		{"corridor", []stock.Piece{{Length: 10 * measure.Foot}, {Length: 4 * measure.Foot}, {Length: 18 * measure.Inch}}},
	} {
		p := optimize.Problem{Sticks: append(rack.Sticks("fir base"), twelve), Pieces: job.pieces, Kerf: measure.Inch / 8}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			log.Fatal(err)
		}
		change, err := plan.RackChange(p, job.id)
		if err != nil {
			log.Fatal(err)
		}
		if rack, err = rack.Apply(change); err != nil {
			log.Fatal(err)
		}
		fmt.Println(job.id, "costs", plan.Cost, "cents; then the rack holds")
		for _, o := range rack.Offcuts {
			fmt.Println("  ", max(1, o.Count), "of", o.Length)
		}
	}
	// Output:
	// cloakroom costs 3816 cents; then the rack holds
	//    1 of 2' 11-7/8"
	//    1 of 4' 11-7/8"
	// corridor costs 1908 cents; then the rack holds
	//    1 of 2' 11-7/8"
}
