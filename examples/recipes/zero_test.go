package recipes_test

import (
	"context"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example_zero() {
	// No kerf: as if the saw took nothing. No prices: the least length of stock is best,
	// and Cost counts it. No quantity: one. No limit: as many as it takes. No rules: none.
	job := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot}, {Length: 12 * measure.Foot}},
		Pieces: []stock.Piece{{Length: 4 * measure.Foot}, {Length: 2 * measure.Foot, Quantity: 4}},
	}
	plan, err := optimize.Solve(context.Background(), job, nil)
	fmt.Println(measure.Length(plan.Cost), "of stock; by length:", plan.ByLength, err)

	// One price of zero among others is a forgotten price.
	job.Sticks[0].Price = 1248
	_, err = optimize.Solve(context.Background(), job, nil)
	fmt.Println(err)

	// What is free lies on the rack, and there is so much of it. What is sold out has a name.
	job.Sticks[1].Rack, job.Sticks[1].Limit = true, 1
	job.Sticks = append(job.Sticks, stock.Stick{Length: 16 * measure.Foot, Price: 100, Limit: stock.SoldOut})
	plan, err = optimize.Solve(context.Background(), job, nil)
	fmt.Println(plan.Cost, "cents; by length:", plan.ByLength, err)

	// In JSON a zero that would stand for another number is an error.
	err = measure.UnmarshalStrict([]byte(`{"label": "rail", "length": "4ft", "quantity": 0}`), new(stock.Piece))
	fmt.Println(err)
	// Output:
	// 12' of stock; by length: true <nil>
	// sticks[1].price is 0, want a price, since sticks[0] has one, or rack for what is owned
	// 0 cents; by length: false <nil>
	// quantity is 0, want 1 or more, or nothing for 1
}
