package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example_proof() {
	ctx := context.Background()
	job := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{
			{Label: "wainscot", Length: measure.MustParse(`3' 11-7/8"`), Quantity: 7},
			{Label: "sill", Length: 7 * measure.Foot, Quantity: 4},
		},
		Kerf: measure.Inch / 8,
	}
	plan, err := optimize.Solve(ctx, job, nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("cost", plan.Cost, "bound", plan.Bound, "proven", plan.Proven, "by", plan.Proof.Kind())

	// The values of the pieces are the proof. No stick can hold pieces of more value than it
	// costs, so the total value of all pieces is a lower bound on the cost.
	values, _ := plan.PieceValues()
	for i, p := range job.Pieces {
		fmt.Println(p.Quantity, p.Label, "at", values[i].FloatString(2))
	}

	// Audit shows the bound again from the proof alone, without the solver.
	report, err := optimize.Audit(ctx, job, plan)
	fmt.Println(report, err)

	// A limit leaves a plan, a bound and the gap between.
	plan, err = optimize.Solve(ctx, job, &optimize.Options{Work: 1})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("cost", plan.Cost, "bound", plan.Bound, "proven", plan.Proven, "ended by", plan.Stop)
	// Output:
	// cost 9540 bound 9540 proven true by dual
	// 7 wainscot at 636.00
	// 4 sill at 1272.00
	// bound 9540 shown <nil>
	// cost 9540 bound 8904 proven false ended by work limit
}
