package replan_test

import (
	"context"
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// classroom is the base of the classroom, and its plan.
func classroom() (optimize.Problem, *optimize.Plan) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12 ft", Length: 12 * measure.Foot, Price: 1908}, {Label: "16 ft", Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{
			{Label: "north", Length: measure.MustParse(`12' 1-3/8"`)},
			{Label: "east", Length: measure.MustParse(`7' 4-3/4"`)},
			{Label: "closet", Length: measure.MustParse("41 1/2 in"), Quantity: 2},
		},
		Kerf: measure.MustParse("1/8 in"),
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	return p, plan
}

// The long piece of the classroom's base splits at a knot.
func ExampleSolve() {
	p, plan := classroom()
	// The 16-foot stick is cut, but the long piece split; 9 feet of it can still be used.
	// The other stick is on hand.
	rev, err := replan.Solve(context.Background(), p, plan, replan.Progress{
		Started: []replan.Started{{Stick: 1, Pieces: []int{2}, Left: 9 * measure.Foot}},
		Owned:   []replan.Owned{{Stick: 0, Place: replan.PlaceWhole}},
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
	// pattern 1: 1 of 1 cut differently: the stick is too short for it
	// buy 1 of "16 ft"
	// not needed: 1 of "16 ft", started, 9' long
	// still to be paid: 2608 cents, 2608 cents more than planned, proven to be the least
	// 12 ft, on hand: closet east
	// 16 ft: north
}

// Where is each stick of the new plan?
func ExamplePlace() {
	p, plan := classroom()
	// The 12-foot stick is cut. Its offcut is kept, but one of its pieces is spoiled, and the
	// other stick has a bad end.
	rev, err := replan.Solve(context.Background(), p, plan, replan.Progress{
		Cut:     []int{1},
		Owned:   []replan.Owned{{Stick: 0, Place: replan.PlaceLeftover, Length: measure.MustParse("13 in")}},
		Started: []replan.Started{{Stick: 1, Left: 15 * measure.Foot}},
		Spoiled: []replan.Spoiled{{Piece: 1}},
	}, nil)
	if err != nil {
		panic(err)
	}
	for _, pat := range rev.Plan.Patterns {
		stick := rev.Sticks[pat.Stick]
		switch label := p.Sticks[stick.Stick].Label; stick.Place {
		case replan.PlaceSupplier:
			fmt.Println("buy", label)
		case replan.PlaceWhole:
			fmt.Println("take the whole", label)
		case replan.PlaceStarted:
			fmt.Println("go on with the", label, "on the saw,", stick.Length)
		case replan.PlaceLeftover:
			fmt.Println("use what is left of the", label, stick.Length)
		}
	}
	for _, o := range rev.Surplus {
		fmt.Println("not needed:", o.Count, o.Place, o.Length)
	}
	// Output:
	// go on with the 16 ft on the saw, 15'
	// buy 12 ft
	// not needed: 1 leftover 1' 1"
}

// Which patterns change, and why?
func ExampleReason() {
	p, plan := classroom()
	// By mistake the east wall's piece was cut from a 16-foot stick, and the supplier has one
	// more of those.
	rev, err := replan.Solve(context.Background(), p, plan, replan.Progress{
		Started: []replan.Started{{Stick: 1, Pieces: []int{1}, Left: 8 * measure.Foot}},
		Supply:  []replan.Supply{{Stick: 1, Left: 1}},
	}, nil)
	if err != nil {
		panic(err)
	}
	for _, c := range rev.Changes {
		fmt.Printf("pattern %d, %d of %d: ", c.Pattern, c.Kept, c.Left)
		switch c.Reason {
		case "":
			fmt.Println("as planned")
		case replan.ReasonNotNeeded:
			fmt.Printf("one %q is cut already\n", p.Pieces[c.Piece].Label)
		case replan.ReasonNoStick, replan.ReasonTooShort:
			fmt.Println("look for another stick")
		case replan.ReasonCostsMore:
			fmt.Println("another way saves at least", c.Extra, "cents")
		case replan.ReasonRestDoesNotFit, replan.ReasonMissesGoal:
			fmt.Println("the other pieces need the stick")
		case replan.ReasonNotFound:
			fmt.Println("give it more time")
		default:
			fmt.Println(c.Reason)
		}
	}
	// Output:
	// pattern 0, 0 of 1: one "east" is cut already
	// pattern 1, 1 of 1: as planned
}

// The shop's tablet sends the progress as JSON, with two mistakes.
func ExampleProgress() {
	p, plan := classroom()
	var done replan.Progress
	err := measure.UnmarshalStrict([]byte(`{
		"cut": [1],
		"owned": [{"stick": 1, "place": "whole", "count": 2}, {"stick": 0, "place": "leftover", "length": "13ft"}],
		"spoiled": [{"piece": 1}],
		"supply": [{"stick": 2, "left": 1}]
	}`), &done)
	if err != nil {
		panic(err)
	}
	_, err = replan.Solve(context.Background(), p, plan, done, nil)
	for fault := range measure.FieldErrors(err) {
		fmt.Println(fault)
	}
	// Output:
	// progress.owned[1].length is "13'", want more than zero and at most the usable length of a whole stick, 12'
	// progress.supply[0].stick is 2, want an index below 2
}
