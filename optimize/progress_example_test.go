package optimize_test

import (
	"context"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// windows is the casing of the schoolhouse's windows, from three lengths on sale.
func windows() optimize.Problem {
	return optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "7 ft", Length: 7 * measure.Foot, Price: 1043},
			{Label: "10 ft", Length: 10 * measure.Foot, Price: 1511},
			{Label: "16 ft", Length: 16 * measure.Foot, Price: 2371},
		},
		Pieces: []stock.Piece{
			{Label: "classroom, side", Length: measure.MustParse(`5' 7-1/4"`), Quantity: 12},
			{Label: "classroom, head", Length: measure.MustParse(`3' 2-5/8"`), Quantity: 6},
			{Label: "library, side", Length: measure.MustParse(`4' 11-3/8"`), Quantity: 8},
			{Label: "library, head", Length: measure.MustParse(`2' 9-1/2"`), Quantity: 4},
			{Label: "cloakroom, side", Length: measure.MustParse(`3' 8"`), Quantity: 4},
			{Label: "cloakroom, head", Length: measure.MustParse(`2' 1-1/8"`), Quantity: 2},
		},
		Kerf: measure.MustParse(`1/8"`),
	}
}

// A search ends as soon as its plan is within three percent of the optimum.
func ExampleProgress() {
	plan, err := optimize.Solve(context.Background(), windows(), &optimize.Options{Progress: func(now optimize.Progress) bool {
		if now.NewPlan || now.NewBound {
			fmt.Printf("%v: %d, no less than %d\n", now.Goal, now.Cost, now.Bound)
		}
		return !now.Found || 100*(now.Cost-now.Bound) > 3*now.Cost
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.Cost, plan.Bound, plan.Stop == optimize.StopCaller)
	// Output:
	// least cost: 24753, no less than 0
	// least cost: 24753, no less than 23183
	// least cost: 24753, no less than 24207
	// 24753 24207 true
}

// A plan found during a search is complete, and can be cut; only its proof is missing.
func ExampleProgress_Plan() {
	p := windows()
	_, err := optimize.Solve(context.Background(), p, &optimize.Options{Progress: func(now optimize.Progress) bool {
		if now.NewPlan {
			plan := now.Plan()
			fmt.Println(plan.Sticks(), "sticks:", plan.Cost, optimize.Check(context.Background(), p, plan))
		}
		return true
	}})
	if err != nil {
		fmt.Println(err)
	}
	// Output:
	// 11 sticks: 24753 <nil>
	// 11 sticks: 24361 <nil>
}

// Each plan is better than the one before; the last one is what Solve returns.
func ExamplePlans() {
	for plan, err := range optimize.Plans(context.Background(), windows(), nil) {
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(plan.Sticks(), "sticks:", plan.Cost, plan.Proven)
	}
	// Output:
	// 11 sticks: 24753 false
	// 11 sticks: 24361 false
	// 11 sticks: 24361 true
}

// The list has two more windows than last week. The old plan is a start: its patterns are used
// again, and the new pieces are added.
func ExampleOptions_start() {
	ctx := context.Background()
	p := windows()
	last, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	p.Pieces[4].Quantity += 4
	p.Pieces[5].Quantity += 2
	for _, start := range []*optimize.Plan{nil, last} {
		plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 1, Start: start})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(plan.Cost)
	}

	// A start that cannot be cut is an error that names the place.
	last.Patterns[0].Pieces = append(last.Patterns[0].Pieces, 0, 0, 0)
	_, err = optimize.Solve(ctx, p, &optimize.Options{Start: last})
	for f := range measure.FieldErrors(err) {
		fmt.Println(f)
	}
	// Output:
	// 28452
	// 27383
	// start.patterns[0].pieces is "too long at index 3 by 5' 5-1/8\"", want pieces and kerfs that fit the usable length
}
