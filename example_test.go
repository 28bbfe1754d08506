package longpoint_test

import (
	"bytes"
	"context"
	"fmt"
	"log"
	"os"
	"time"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

func Example() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{{Length: measure.MustParse(`12' 1-3/8"`)}, {Length: measure.MustParse(`41-1/2"`), Quantity: 4}},
		Kerf:   measure.Inch / 8,
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range plan.Patterns {
		fmt.Println(p.Count, "of stick", p.Stick, "cut into pieces", p.Pieces, "leaves", p.Offcut)
	}
	fmt.Println(plan.Cost, "cents; proven to be the least:", plan.Proven)
	// Output:
	// 1 of stick 0 cut into pieces [1 1 1] leaves 1' 7-1/8"
	// 1 of stick 1 cut into pieces [1 0] leaves 4-7/8"
	// 4516 cents; proven to be the least: true
}

// A whole job in one call: the schoolhouse.
func Example_wholeJob() {
	data, err := os.ReadFile("examples/schoolhouse/job.json")
	if err != nil {
		log.Fatal(err)
	}
	var job estimate.Job
	if err := measure.UnmarshalStrict(data, &job); err != nil {
		log.Fatal(err)
	}
	e, err := estimate.New(context.Background(), job, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, o := range e.Orders {
		fmt.Println("order from", o.Supplier, "by", o.OrderBy, "for", job.Locale.FormatMoney(o.Total))
	}
	for _, o := range e.Variants {
		fmt.Println(o.Label, "would change the price by", job.Locale.FormatMoney(o.Difference))
	}
	fmt.Println(job.Locale.FormatMoney(e.Quote.Price), "for", e.Quote.Labor, "of work, done on", schedule.DateOf(e.Schedule.Done))
	// Output:
	// order from river mill by 2027-06-04 for $1,221.43
	// order from north depot by 2027-06-07 for $1,161.64
	// MDF base would change the price by $40.00
	// honed slate base would change the price by $3,785.00
	// $26,255.00 for 270h18m30s of work, done on 2027-07-02
}

func Example_embed() {
	body := []byte(`{"kerf": "1/8in", "sticks": [{"length": "12ft", "price": 1908}],
	"pieces": [{"label": "coat rail", "length": "41 1/2in", "quantity": 7}]}`)
	var job optimize.Problem
	if err := measure.UnmarshalStrict(body, &job); err != nil {
		log.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	search, done := context.WithTimeout(ctx, 1500*time.Millisecond)
	defer done()
	plan, err := optimize.Solve(search, job, &optimize.Options{Work: 500_000_000})
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := cutsheet.New(ctx, job, plan, &cutsheet.Options{Title: "Cloakroom"})
	if err != nil {
		log.Fatal(err)
	}
	var document bytes.Buffer
	err = sheet.WriteJSON(&document)
	fmt.Println(plan.Sticks(), "sticks;", plan.Cost, "cents,", plan.Bound, "at least;", err)
	// Output:
	// 3 sticks; 5724 cents, 5724 at least; <nil>
}
