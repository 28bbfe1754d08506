package whatif_test

import (
	"context"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

func wainscot() optimize.Problem {
	return optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{{Label: "wainscot", Length: measure.MustParse(`3' 11-7/8"`), Quantity: 7}},
		Kerf:   measure.MustParse("1/8 in"),
	}
}

// What does a mistake of an inch on the cloakroom's wainscot cost?
func ExampleSolve() {
	p := wainscot()
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	fmt.Println("as it is:", plan.Cost)
	for _, c := range []struct {
		what   string
		change whatif.Change
	}{
		{"one more", whatif.MorePieces(0, 1)},
		{"an inch longer", whatif.LongerPiece(0, measure.Inch)},
		{"a blade 1/8 in wider", whatif.WiderKerf(measure.Inch / 8)},
		{"no 16-foot sticks", whatif.StickLimit(1, 0)},
	} {
		d, err := whatif.Solve(ctx, p, plan, nil, c.change)
		if err != nil {
			panic(err)
		}
		fmt.Printf("%s: %+d, exact: %v\n", c.what, d.Low, d.Exact())
	}
	// Output:
	// as it is: 4516
	// one more: +700, exact: true
	// an inch longer: +1908, exact: true
	// a blade 1/8 in wider: +1908, exact: true
	// no 16-foot sticks: +1208, exact: true
}

// Is it worth asking the yard for a length that is not on its list?
func ExampleCandidates() {
	p := wainscot()
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	list, err := whatif.Candidates(ctx, p, plan, []stock.Stick{
		{Length: 14 * measure.Foot, Price: 2250}, {Length: 8 * measure.Foot, Price: 1260}, {Length: 10 * measure.Foot, Price: 1590},
	}, nil)
	if err != nil {
		panic(err)
	}
	for _, c := range list {
		fmt.Printf("%v saves %d; from %d on it is not worth asking\n", c.Stick.Length, c.Saving.Low, c.BreakEven)
	}
	// Output:
	// 8' saves 88; from 1336 on it is not worth asking
	// 14' saves 0; from 1972 on it is not worth asking
	// 10' saves 0; from 1336 on it is not worth asking
}

// How far must the price of 16-foot sticks fall before they are worth buying?
func ExamplePriceToBuy() {
	p := wainscot()
	t, err := whatif.PriceToBuy(context.Background(), p, 1, 4000, nil)
	if err != nil {
		panic(err)
	}
	fmt.Println("bought up to", t.Price, "exact:", t.Exact())
	for _, pat := range t.Plan.Patterns {
		fmt.Println(pat.Count, "of", p.Sticks[pat.Stick].Length)
	}
	// Output:
	// bought up to 3815 exact: true
	// 1 of 12'
	// 1 of 16'
}

// Changes may be combined.
func ExampleChange() {
	p := wainscot()
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	for _, changes := range [][]whatif.Change{
		{whatif.StickPrice(0, 1700)},
		{whatif.StickLimit(1, 0), whatif.NewPiece(stock.Piece{Label: "corner", Length: 2 * measure.Foot})},
		{whatif.NewStick(stock.Stick{Length: 20 * measure.Foot, Price: 3150}), whatif.WiderKerf(-measure.Inch / 16)},
	} {
		d, err := whatif.Solve(ctx, p, plan, nil, changes...)
		if err != nil {
			panic(err)
		}
		fmt.Printf("%+d to %d\n", d.Low, d.Plan.Cost)
	}
	// Output:
	// -208 to 4308
	// +1208 to 5724
	// +0 to 4516
}

// Would it pay to carry no stick longer than 12 feet and have the others cut in the yard?
func ExampleEdit() {
	p := wainscot()
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	d, err := whatif.Solve(ctx, p, plan, nil, whatif.Edit(func(p *optimize.Problem) error {
		p.Rules.MaxTransport, p.Rules.YardCut = 12*measure.Foot, 150
		return nil
	}))
	if err != nil {
		panic(err)
	}
	fmt.Printf("%+d cents, and %v of the problem as it was\n", d.Low, p.Rules.MaxTransport)
	// Output: +150 cents, and 0" of the problem as it was
}

// The chair rail of the long wall may be spliced on studs. What if it were two feet longer?
func ExampleLongerRun() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 1250}, {Length: 12 * measure.Foot, Price: 1900}},
		Runs: []stock.Run{{
			Label: "north wall", Length: 19 * measure.Foot,
			Splice: stock.SpliceRule{At: []measure.Length{6 * measure.Foot, 8 * measure.Foot, 10 * measure.Foot}, Price: 300},
		}},
	}
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	d, err := whatif.Solve(ctx, p, plan, nil, whatif.LongerRun(0, 2*measure.Foot))
	if err != nil {
		panic(err)
	}
	fmt.Printf("%d, and %+d: spliced at %v\n", plan.Cost, d.Low, d.Plan.Spliced[0].At)
	// Output: 3450, and +650: spliced at [10']
}

// Every fault names its argument.
func ExampleSolve_faults() {
	p := wainscot()
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	_, err = whatif.Solve(ctx, p, plan, nil, whatif.LongerPiece(1, measure.Inch), whatif.StickLimit(0, -2))
	for fault := range measure.FieldErrors(err) {
		fmt.Println(fault)
	}
	_, err = whatif.Solve(ctx, p, plan, nil, whatif.StickPrice(0, -5))
	fmt.Println(err)
	// Output:
	// changes[0].piece is 1, want an index below 1
	// changes[1].n is -2, want zero or more sticks
	// problem.sticks[0].price is -5, want zero or more, in cents
}
