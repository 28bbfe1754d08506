package recipes_test

import (
	"context"
	"encoding/json"
	"fmt"
	"log"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example_storage() {
	job := optimize.Problem{
		Sticks: []stock.Stick{{Length: 7 * measure.Foot, Price: 1043}, {Length: 10 * measure.Foot, Price: 1511}, {Length: 16 * measure.Foot, Price: 2371}},
		Pieces: []stock.Piece{{Length: measure.MustParse(`5' 7-1/4"`), Quantity: 12}, {Length: measure.MustParse(`3' 2-5/8"`), Quantity: 6}},
		Kerf:   measure.Inch / 8,
	}

	// Whatever comes first ends the search: proof, deadline, or the answer false.
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	plan, err := optimize.Solve(ctx, job, &optimize.Options{Progress: func(now optimize.Progress) bool {
		enough := now.Found && 50*(now.Cost-now.Bound) <= now.Cost // within two percent
		return !enough
	}})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("in the evening:", plan.Cost, "cents, no plan is below", plan.Bound)

	// A plan is plain data. It waits in a file or a database.
	stored, err := json.Marshal(plan)
	if err != nil {
		log.Fatal(err)
	}

	// In the morning there is one window more, and the plan is where to begin.
	var start optimize.Plan
	if err := measure.UnmarshalStrict(stored, &start); err != nil {
		log.Fatal(err)
	}
	job.Pieces[0].Quantity += 2
	job.Pieces[1].Quantity++
	plan, err = optimize.Solve(context.Background(), job, &optimize.Options{Start: &start})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("in the morning:", plan.Cost, "cents, proven:", plan.Proven, "by", plan.Proof.Kind())
	// Output:
	// in the evening: 14226 cents, no plan is below 14226
	// in the morning: 16597 cents, proven: true by dual
}
