package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

func Example_extend() {
	// A product: its purpose, its coverage by the label, and its packages.
	oil := finish.Product{
		Label: "hard oil", Material: "sealer",
		Yield: finish.Yield{Covers: finish.AmountOf(450 * measure.SquareFoot), Of: finish.AmountOf(measure.Gallon)},
		Packages: []finish.Package{
			{Label: "pint", Size: finish.AmountOf(measure.Pint), Price: 1890},
			{Label: "quart", Size: finish.AmountOf(measure.Quart), Price: 3150},
		},
	}
	buy, err := finish.Buy(finish.AmountOf(160*measure.SquareFoot), oil)
	if err != nil {
		log.Fatal(err)
	}
	for _, l := range buy.Lines {
		fmt.Println(l.Count, l.Package, l.Cost)
	}

	// A joint along a run: a half lap of 3 in on a post, which takes half an hour.
	rail := stock.Run{Label: "coat rail", Length: 20 * measure.Foot, Splice: stock.SpliceRule{
		At: []measure.Length{6 * measure.Foot, 12 * measure.Foot}, Overlap: 3 * measure.Inch, Price: 2600,
	}}
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 1500}, {Length: 14 * measure.Foot, Price: 2100}},
		Runs:   []stock.Run{rail},
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, part := range plan.Parts {
		fmt.Println(part.Label, part.Length)
	}

	// A casing style: a page of the job's file.
	var trim takeoff.Scheme
	err = measure.UnmarshalStrict([]byte(`{
		"casing": {"name": "flat casing", "thickness": "3/4in", "width": "3-1/2in"},
		"casing_styles": [{"name": "frieze", "kinds": ["door"], "joint": "butt", "head": [
			{"profile": {"name": "fillet", "role": "fillet", "thickness": "1-1/4in", "width": "1/2in"}, "overhang": "1/2in"},
			{"profile": {"name": "frieze", "role": "frieze", "thickness": "3/4in", "width": "5-1/2in"}}]}]}`), &trim)
	if err != nil {
		log.Fatal(err)
	}
	wall := takeoff.Wall{Name: "N", Length: 12 * measure.Foot, Openings: []takeoff.Opening{{At: 4 * measure.Foot, Width: 32 * measure.Inch, Height: 80 * measure.Inch}}}
	list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Walls: []takeoff.Wall{wall}}}, trim, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, r := range list.Runs {
		fmt.Println(r.Label, r.Length.About())
	}
	// Output:
	// 1 pint 1890
	// 1 quart 3150
	// coat rail 1 of 2 12' 1-1/2"
	// coat rail 2 of 2 8' 1-1/2"
	// corridor N door casing leg left 6' 8-3/16"
	// corridor N door casing leg right 6' 8-3/16"
	// corridor N door fillet head 3' 4-3/8"
	// corridor N door frieze head 3' 3-3/8"
}
