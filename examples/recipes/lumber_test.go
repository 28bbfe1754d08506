package recipes_test

import (
	"context"
	"fmt"
	"log"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func Example_lumber() {
	const in, ft = measure.Inch, measure.Foot

	// Pipe: a quarter inch of each end is burred and cut off.
	rails := optimize.Problem{
		Sticks: []stock.Stick{{Length: 21 * ft, Price: 4890, TrimStart: in / 4, TrimEnd: in / 4}},
		Pieces: []stock.Piece{{Label: "handrail", Length: 98 * in, Quantity: 5}, {Label: "post", Length: 36 * in, Quantity: 6}},
		Kerf:   in / 16,
	}

	// Square tube looks alike on every face and from both ends, so neighbors share a miter.
	miter := stock.End{Kind: stock.EndFlatMiter, Setback: 3 * in / 2} // of 1-1/2 in tube at 45 degrees
	frames := optimize.Problem{
		Sticks: []stock.Stick{{Length: 20 * ft, Price: 5240}},
		Pieces: []stock.Piece{{Label: "bench side", Length: 48 * in, Quantity: 10, Left: miter, Right: miter, Symmetry: stock.SymmetryAll}},
		Kerf:   3 * in / 32,
		Rules:  optimize.Rules{Nest: true},
	}

	// Framing: a plate is a run that may be joined on any stud.
	plate := stock.Run{Label: "top plate", Length: 23 * ft}
	for stud := 16 * in; stud < plate.Length; stud += 16 * in {
		plate.Splice.At = append(plate.Splice.At, stud)
	}
	plate.Splice.MinPart, plate.Splice.Price = 4*ft, 300 // a joint takes work
	partition := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * ft, Price: 398}, {Length: 10 * ft, Price: 585}, {Length: 16 * ft, Price: 1026}},
		Pieces: []stock.Piece{{Label: "stud", Length: 92*in + 5*in/8, Quantity: 18}},
		Runs:   []stock.Run{plate},
		Kerf:   in / 8,
	}

	for _, p := range []optimize.Problem{rails, frames, partition} {
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println(plan.Sticks(), "sticks,", plan.Cost, "cents, proven:", plan.Proven)
		for _, run := range plan.Spliced {
			fmt.Println("  ", p.Runs[run.Run].Label, "in", len(run.Pieces), "parts")
		}
	}
	// Output:
	// 3 sticks, 14670 cents, proven: true
	// 2 sticks, 10480 cents, proven: true
	// 20 sticks, 8888 cents, proven: true
	//    top plate in 2 parts
}
