package optimize_test

import (
	"context"
	"fmt"
	"log"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// A wall longer than any stick: the splice position is optimized together with the other cuts.
// Spliced as far along as the longest stick reaches, on the stud at 15' 3", the window seat
// would need an additional stick, 1,208 cents more.
func ExampleProblem_runs() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{{Label: "window seat", Length: measure.MustParse("7 ft")}},
		Runs: []stock.Run{{
			Label:  "north wall",
			Length: measure.MustParse("24 ft 6 in"),
			Splice: stock.SpliceRule{
				At:      slices.Collect(measure.OnCenter(23*measure.Foot, 7*measure.Inch, 16*measure.Inch)),
				Overlap: measure.MustParse("1/2 in"),
				Bevel:   45 * measure.Degree,
				Price:   200,
			},
		}},
		Kerf: measure.MustParse("1/8 in"),
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range plan.Spliced {
		fmt.Println("splice at", s.At)
	}
	for _, part := range plan.Parts {
		fmt.Println(part.Label, part.Length)
	}
	fmt.Println(len(plan.Patterns), "sticks,", plan.Cost, "cents, proven:", plan.Proven)
	// Output:
	// splice at [8' 7"]
	// north wall 1 of 2 8' 7-1/4"
	// north wall 2 of 2 15' 11-1/4"
	// 2 sticks, 5416 cents, proven: true
}

// Four sides of a frame from flat stock that may be turned end for end: neighbors share a
// miter, so one stick suffices instead of two.
func ExampleRules_nest() {
	side := func(label, length string) stock.Piece {
		miter := stock.End{Kind: stock.EndFlatMiter, Setback: measure.MustParse("3 in")}
		return stock.Piece{Label: label, Length: measure.MustParse(length), Quantity: 2,
			Left: miter, Right: miter, Symmetry: stock.SymmetryEnds}
	}
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 1240}},
		Pieces: []stock.Piece{side("long", "28 in"), side("short", "23 in")},
		Kerf:   measure.MustParse("1/8 in"),
	}
	for _, p.Rules.Nest = range []bool{false, true} {
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println("sticks:", plan.Sticks(), "cents:", plan.Cost, "proven:", plan.Proven)
		for _, pat := range plan.Patterns {
			fmt.Println(pat.Pieces, pat.Turned, "leaves", pat.Offcut)
		}
	}
	// Output:
	// sticks: 2 cents: 2480 proven: true
	// [1 0 0] [] leaves 1' 4-5/8"
	// [1] [] leaves 6' 7/8"
	// sticks: 1 cents: 1240 proven: true
	// [1 1 0 0] [as given turned end for end as given turned end for end] leaves 2-1/4"
}

// The mill sells in bundles of four, cheaper from twelve sticks on, the yard singly; each
// charges for delivery. One spare stick is wanted.
func ExampleRules_buying() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "12 ft, mill", Length: 12 * measure.Foot, Price: 1500, Bundle: 4, Supplier: "mill",
				Breaks: []stock.PriceBreak{{From: 12, Price: 1350}}},
			{Label: "16 ft, yard", Length: 16 * measure.Foot, Price: 2500, Supplier: "yard"},
		},
		Pieces: []stock.Piece{{Label: "wainscot cap", Length: measure.MustParse(`5' 11-1/2"`), Quantity: 19}},
		Kerf:   measure.MustParse("1/8 in"),
		Rules: optimize.Rules{
			Charges: []optimize.Charge{{Supplier: "mill", Amount: 4000}, {Supplier: "yard", Amount: 2500}},
			Spare:   1,
		},
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, b := range plan.Buy {
		fmt.Println("buy", b.Count, "of stick", b.Stick, "for", b.Cost, "cents")
	}
	fmt.Println(plan.Sticks(), "are cut;", plan.Cost, "cents with delivery, proven:", plan.Proven)
	// Output:
	// buy 12 of stick 0 for 16200 cents
	// 10 are cut; 20200 cents with delivery, proven: true
}

// Two sticks cut alike would leave 3' 4" each. Cut differently they leave one offcut that is
// long enough for a window, which is worth more here than one pattern less.
func ExampleRules_goals() {
	plan, err := optimize.Solve(context.Background(), optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 1500}},
		Pieces: []stock.Piece{
			{Label: "coat rail", Length: 50 * measure.Inch, Quantity: 2},
			{Label: "shelf cleat", Length: 30 * measure.Inch, Quantity: 2},
		},
		Rules: optimize.Rules{
			OffcutValues: []optimize.OffcutValue{{Length: 24 * measure.Inch, Value: 100}, {Length: 48 * measure.Inch, Value: 400}},
			Goals:        []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue, optimize.GoalPatterns},
		},
	}, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, l := range plan.Goals {
		fmt.Println(l.Goal, l.Value, l.Bound, l.Proven)
	}
	for _, pat := range plan.Patterns {
		fmt.Println(pat.Count, "x", pat.Pieces, "leaves", pat.Offcut)
	}
	// Output:
	// least cost 3000 3000 true
	// most worth 400 400 true
	// fewest patterns 2 1 false
	// 1 x [0 0] leaves 1' 8"
	// 1 x [1 1] leaves 5'
}

// The blackboard's cap turns a corner: its two pieces come from one stick, side by side, so
// that the grain continues around it.
func ExampleRules_groups() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 1300}},
		Pieces: []stock.Piece{
			{Label: "cap, long", Length: 52 * measure.Inch},
			{Label: "cap, return", Length: 30 * measure.Inch},
			{Label: "shelf", Length: 40 * measure.Inch},
		},
		Kerf: measure.Inch / 8,
		Rules: optimize.Rules{
			Groups: []optimize.Group{{Kind: optimize.GroupInSequence, Pieces: []int{0, 1}}},
		},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, pat := range plan.Patterns {
		for _, i := range pat.Pieces {
			fmt.Print(p.Pieces[i].Label, "; ")
		}
		fmt.Println("leaves", pat.Offcut)
	}
	// Output:
	// cap, long; cap, return; leaves 1' 1-3/4"
	// shelf; leaves 4' 7-7/8"
}

// A clear board costs more than a knotty one. Visible pieces need the better grade; the rest
// may lie between the knots.
func ExampleProblem_grades() {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "clear", Length: 8 * measure.Foot, Price: 2900, Grade: 1},
			{Label: "knotty", Length: 8 * measure.Foot, Price: 1100, Limit: 2,
				Defects: []stock.Defect{{From: 35 * measure.Inch, To: 37 * measure.Inch}}},
		},
		Pieces: []stock.Piece{
			{Label: "window stool", Length: 50 * measure.Inch, Grade: 1},
			{Label: "shelf", Length: 34 * measure.Inch, Quantity: 2},
		},
		Kerf: measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, pat := range plan.Patterns {
		for i, k := range pat.Pieces {
			if i > 0 {
				fmt.Print(", ")
			}
			fmt.Print(p.Pieces[k].Label)
		}
		fmt.Println(" from", p.Sticks[pat.Stick].Label, pat.Stretch)
	}
	fmt.Println(plan.Cost, plan.Proven)
	// Output:
	// window stool from clear []
	// shelf, shelf from knotty [0 1]
	// 4000 true
}

// The runs of a takeoff are passed on, so that the corridor's splice is optimized with the
// other cuts. Every lists positions if the studs are unknown.
func ExampleProblem_takeoff() {
	base := stock.Profile{Name: "base", Thickness: measure.MustParse("9/16 in"), Width: measure.MustParse("5-1/4 in"),
		Lengths: []measure.Length{12 * measure.Foot, 16 * measure.Foot}}
	wall := func(name, length string) takeoff.Wall {
		return takeoff.Wall{Name: name, Length: measure.MustParse(length), Corner: takeoff.Corner{Kind: takeoff.CornerStop}}
	}
	list, err := takeoff.Take([]takeoff.Room{
		{Name: "corridor", Walls: []takeoff.Wall{wall("north", "28 ft")}, Studs: takeoff.Studs{First: 7 * measure.Inch, Spacing: 16 * measure.Inch}},
		{Name: "cloakroom", Walls: []takeoff.Wall{wall("east", "5 ft")}},
	}, takeoff.Scheme{Base: &base}, nil)
	if err != nil {
		log.Fatal(err)
	}
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Kerf:   measure.MustParse("1/8 in"),
	}
	for _, run := range list.Runs {
		run.Splice = run.Splice.Every(run.Length, measure.Foot)
		run.Splice.Price = 300 // else a splice might be made for a longer offcut alone
		p.Runs = append(p.Runs, run)
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, part := range plan.Parts {
		fmt.Println(part.Label, part.Length)
	}
	fmt.Println(plan.Cost, plan.Proven)
	p.Runs, p.Pieces = nil, list.PiecesOf(base.Name)
	if plan, err = optimize.Solve(context.Background(), p, nil); err != nil {
		log.Fatal(err)
	}
	fmt.Println("spliced before, and paid for:", plan.Cost+300, plan.Proven)
	// Output:
	// corridor north base 1 of 3 9' 11-9/32"
	// corridor north base 2 of 3 6' 8-9/16"
	// corridor north base 3 of 3 11' 5-9/32"
	// cloakroom east base 5'
	// 6324 true
	// spliced before, and paid for: 7424 true
}
