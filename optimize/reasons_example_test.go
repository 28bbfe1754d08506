package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A program can suggest a remedy for a job that has no plan.
func ExampleInfeasibleReason() {
	advice := func(err error) string {
		var (
			never *optimize.InfeasibleError
			limit *optimize.LimitError
			own   *optimize.InternalError
		)
		switch {
		case errors.As(err, &limit) && limit.Stop == optimize.StopDeadline:
			return "allow more time"
		case errors.As(err, &own):
			return "report it"
		case !errors.As(err, &never):
			return "put the job right"
		}
		switch never.Reason {
		case optimize.ReasonPieceTooLong:
			return fmt.Sprintf("buy sticks of %v or splice piece %d", never.Need, never.Piece)
		case optimize.ReasonRunTooLong:
			return fmt.Sprintf("allow more splices in run %d", never.Run)
		case optimize.ReasonGroupTooLong, optimize.ReasonGroupTooMany:
			return fmt.Sprintf("cut the pieces of group %d from two sticks", never.Group)
		case optimize.ReasonGroupInNoLot:
			return fmt.Sprintf("ask for a lot with longer sticks for group %d", never.Group)
		case optimize.ReasonSupplyTooShort:
			return fmt.Sprintf("buy %v more", never.Need-never.Have)
		case optimize.ReasonSupplyTooFew:
			return fmt.Sprintf("%d pieces as long as piece %d have no stick", never.NeedCount-never.HaveCount, never.ShortFrom)
		case optimize.ReasonSupplyDoesNotFit:
			return "buy one stick more"
		}
		return "buy other sticks" // a reason that this program does not know
	}
	sticks := func(n int) []stock.Stick { return []stock.Stick{{Length: 10 * measure.Foot, Price: 1200, Limit: n}} }
	feet := func(lengths ...measure.Length) (pieces []stock.Piece) {
		for _, l := range lengths {
			pieces = append(pieces, stock.Piece{Length: l * measure.Foot})
		}
		return pieces
	}
	together := optimize.Rules{Groups: []optimize.Group{{Kind: optimize.GroupOneStick, Pieces: []int{0, 1}}}}
	for _, p := range []optimize.Problem{
		{Sticks: sticks(0), Pieces: feet(11)},
		{Sticks: sticks(0), Runs: []stock.Run{{Length: 18 * measure.Foot}}},
		{Sticks: sticks(0), Pieces: feet(6, 5), Rules: together},
		{Sticks: sticks(1), Pieces: feet(5, 4, 3)},
		{Sticks: sticks(2), Pieces: feet(6, 6, 6)},
		{Sticks: sticks(2), Pieces: feet(7, 4, 4, 4)},
		{Sticks: sticks(-7), Pieces: feet(7)},
	} {
		_, err := optimize.Solve(context.Background(), p, nil)
		fmt.Println(advice(err))
	}
	// Output:
	// buy sticks of 11' or splice piece 0
	// allow more splices in run 0
	// cut the pieces of group 0 from two sticks
	// buy 2' more
	// 1 pieces as long as piece 0 have no stick
	// buy one stick more
	// put the job right
}

// Goals after the cost decide among plans that cost the same.
func ExampleGoal() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot cap", Length: 12 * measure.Foot, Price: 1800}},
		Pieces: []stock.Piece{{Label: "reading corner", Length: 4 * measure.Foot, Quantity: 3}},
		Runs: []stock.Run{{Label: "north wall", Length: 15 * measure.Foot,
			Splice: stock.SpliceRule{At: []measure.Length{5 * measure.Foot, 10 * measure.Foot}}}},
		Kerf: measure.Inch / 8,
		Rules: optimize.Rules{Goals: []optimize.Goal{
			optimize.GoalCost, optimize.GoalSplices, optimize.GoalSticks, optimize.GoalCuts, optimize.GoalLongestOffcut,
		}},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	for _, g := range plan.Goals {
		if g.Goal == optimize.GoalLongestOffcut {
			fmt.Println(g.Goal, measure.Length(g.Value).About())
			continue
		}
		fmt.Println(g.Goal, g.Value)
	}
	// Output:
	// least cost 5400
	// fewest splices 1
	// fewest sticks 3
	// fewest cuts 5
	// longest offcut 3' 11-3/4"
}

// The bound of a goal after the cost has its own proof.
func ExampleGoalResult() {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "12-foot cap", Length: 12 * measure.Foot, Price: 1800},
			{Label: "6-foot cap", Length: 6 * measure.Foot, Price: 900},
		},
		Pieces: []stock.Piece{{Label: "stove wall", Length: 5 * measure.Foot, Quantity: 4}},
		Kerf:   measure.Inch / 8,
		Rules:  optimize.Rules{Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalSticks}},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	report, err := optimize.Audit(context.Background(), p, plan)
	if err != nil {
		panic(err)
	}
	sticks := plan.Goals[1]
	fmt.Println(sticks.Value, sticks.Bound, sticks.Proven, sticks.Proof.Kind())
	fmt.Println(report)
	// Output:
	// 2 2 true dual
	// bound 3600 shown
}

// The two sides of a notice board come from one lot, so that their color matches.
func ExampleGroup() {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "oak", Length: 8 * measure.Foot, Price: 1450, Lot: "spring", Limit: 1},
			{Label: "oak", Length: 8 * measure.Foot, Price: 1500, Lot: "fall"},
		},
		Pieces: []stock.Piece{{Label: "board, left", Length: 5 * measure.Foot}, {Label: "board, right", Length: 5 * measure.Foot}},
		Rules:  optimize.Rules{Groups: []optimize.Group{{Kind: optimize.GroupOneLot, Pieces: []int{0, 1}}}},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	for _, pat := range plan.Patterns {
		fmt.Println(pat.Count, "of lot", p.Sticks[pat.Stick].Lot)
	}
	// Output:
	// 1 of lot fall
	// 1 of lot fall
}

// A plan says why its search ended: the best one was found, or time was up.
func ExampleStop() {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 1150}},
		Pieces: []stock.Piece{{Label: "stair skirt", Length: 30 * measure.Inch, Quantity: 5}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	switch plan.Stop {
	case optimize.StopProven:
		fmt.Println("nothing is cheaper than", plan.Cost)
	case optimize.StopDeadline:
		fmt.Println("perhaps something is cheaper than", plan.Cost)
	}
	mine, err := optimize.Evaluate(ctx, p, &optimize.Plan{Patterns: plan.Patterns})
	if err != nil {
		panic(err)
	}
	fmt.Println("nobody searched for a plan made by hand:", mine.Stop == optimize.StopUnknown)
	// Output:
	// nothing is cheaper than 2300
	// nobody searched for a plan made by hand: true
}

// Hands stay clear of the blade: no piece is cut from a remnant shorter than this, if any order
// of cuts avoids it.
func ExampleProblem_minRemnant() {
	p := optimize.Problem{
		Sticks:     []stock.Stick{{Length: 8 * measure.Foot, Price: 1150}},
		Pieces:     []stock.Piece{{Label: "long", Length: 7*measure.Foot + 4*measure.Inch}, {Label: "plinth", Length: 5 * measure.Inch}},
		Kerf:       measure.Inch / 8,
		MinRemnant: optimize.DefaultMinRemnant, // as if it were not set
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	for _, i := range plan.Patterns[0].Pieces {
		fmt.Println(p.Pieces[i].Label)
	}
	// Output:
	// plinth
	// long
}
