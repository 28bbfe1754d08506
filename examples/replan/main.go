// Command replan cuts the classroom's baseboard until a piece splits, and plans the rest: with
// the sticks on hand first, and keeping as much of the plan as possible.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"log"
	"os"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

func classroom() optimize.Problem {
	piece := func(label, length string) stock.Piece {
		return stock.Piece{Label: label, Length: measure.MustParse(length)}
	}
	return optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "12 ft", Length: 12 * measure.Foot, Price: 1908},
			{Label: "16 ft", Length: 16 * measure.Foot, Price: 2608},
		},
		Pieces: []stock.Piece{
			piece("north, west of stove", `11' 2-1/4"`), piece("north, east of stove", `9' 7"`),
			piece("east, below windows", `14' 8-1/2"`), piece("south, by the door", `6' 3-3/4"`),
			piece("south, blackboard", `12' 1-3/8"`), piece("west, cloakroom door", `4' 5"`),
			piece("west, corner", `7' 4-3/4"`), piece("chimney, left", `1' 11"`), piece("chimney, right", `1' 11-1/8"`),
		},
		Kerf: measure.MustParse("1/8 in"),
	}
}

func run(w io.Writer) error {
	ctx := context.Background()
	p := classroom()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "Planned: %d sticks, $%d.%02d.\n\n", plan.Sticks(), plan.Cost/100, plan.Cost%100)

	// The day's work: everything is bought, the first pattern is cut and its offcut kept, and
	// the first stick of the second split at a knot, 40 inches from its end.
	first, second := plan.Patterns[0], plan.Patterns[1]
	done := replan.Progress{
		Bought:  true,
		Cut:     []int{first.Count},
		Started: []replan.Started{{Stick: second.Stick, Left: p.Sticks[second.Stick].Length - 40*measure.Inch}},
	}
	if first.Offcut > 0 {
		done.Owned = []replan.Owned{{Stick: first.Stick, Place: replan.PlaceLeftover, Length: first.Offcut, Count: first.Count}}
	}
	rev, err := replan.Solve(ctx, p, plan, done, nil)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "After the split:\n%s\n", rev)
	if rev.Plan == nil {
		return nil
	}
	sheet, err := cutsheet.New(ctx, rev.Problem, rev.Plan, &cutsheet.Options{Title: "Classroom base, what is left", Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}})
	if err != nil {
		return err
	}
	return sheet.WriteText(w)
}

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: replan\n\nThe job and the accident are in the program: change them there.")
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(os.Stdout); err != nil {
		log.Fatal(err)
	}
}
