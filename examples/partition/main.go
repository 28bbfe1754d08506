// Partition cuts the framing of a wall between the classroom of a schoolhouse and the new tool
// room: plates that are joined end to end, studs, and the framing over and beside the door.
// None of it is trim; the same solver buys lumber.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// The wall, and the 2x4s on sale.
var (
	length   = measure.MustParse(`23' 4"`)
	height   = measure.MustParse(`9' 1-1/2"`)
	spacing  = 16 * measure.Inch
	plate    = measure.MustParse(`1-1/2"`) // a 2x4 is 1-1/2 by 3-1/2
	doorAt   = measure.MustParse(`8' 2"`)  // to the rough opening
	doorWide = measure.MustParse(`38-1/2"`)
	doorHigh = measure.MustParse(`82-1/2"`)
	lumber   = []stock.Stick{
		{Label: "2x4 8 ft", Length: 8 * measure.Foot, Price: 398},
		{Label: "2x4 10 ft", Length: 10 * measure.Foot, Price: 585},
		{Label: "2x4 12 ft", Length: 12 * measure.Foot, Price: 712},
		{Label: "2x4 16 ft", Length: 16 * measure.Foot, Price: 1026},
	}
)

// lap is the distance between a joint of the upper top plate and one of the lower: 24 in, as in
// the International Residential Code, R602.3.2 (from memory; the local code decides).
const lap = 24 * measure.Inch

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: partition\n\nThe wall and the prices are in the program: change them there.")
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "partition:", err)
		os.Exit(1)
	}
}

// studs returns the middles of the studs: one at each end, the others on center from the left
// end of the wall, where the edges of its boards will lie.
func studs() []measure.Length {
	at := []measure.Length{plate / 2}
	for x := spacing; x < length-plate; x += spacing {
		at = append(at, x)
	}
	return append(at, length-plate/2)
}

// A door takes two studs at each side of its rough opening: one up to the plates, and a trimmer
// that bears the header. king reports whether a stud at x would overlap the first of
// these, and over whether it would stand on the header.
func king(x measure.Length) bool {
	left, right := doorAt-plate-plate/2, doorAt+doorWide+plate+plate/2
	return max(x-left, left-x) < plate || max(x-right, right-x) < plate
}

func over(x measure.Length) bool {
	return x > doorAt-plate && x < doorAt+doorWide+plate
}

// wall returns the plates as runs, which may be joined where the rule permits, and the rest as
// pieces.
func wall() ([]stock.Run, []stock.Piece) {
	all := studs()
	var full []measure.Length // positions of full-height studs
	short := 0                // number of studs over the door
	for _, x := range all {
		switch {
		case over(x):
			short++
		case !king(x):
			full = append(full, x)
		}
	}
	// A joint lies on the middle of a stud. Those of the two top plates stay apart: the lower
	// uses two of every four positions, the upper those at least lap away from all of these.
	var lower, upper []measure.Length
	for i, x := range full[1 : len(full)-1] {
		if i%4 == 0 {
			lower = append(lower, x)
		}
	}
	for _, x := range full[1 : len(full)-1] {
		clear := true
		for _, y := range lower {
			clear = clear && max(x-y, y-x) >= lap
		}
		if clear {
			upper = append(upper, x)
		}
	}
	runs := []stock.Run{
		{Label: "bottom plate, left of the door", Length: doorAt},
		{Label: "bottom plate, right of the door", Length: length - doorAt - doorWide},
		{Label: "top plate, lower", Length: length, Splice: stock.SpliceRule{At: lower, MinPart: 4 * measure.Foot}},
		{Label: "top plate, upper", Length: length, Splice: stock.SpliceRule{At: upper, MinPart: 4 * measure.Foot}},
	}
	for i := range runs {
		runs[i].Net = runs[i].Length
	}
	stud := height - 3*plate
	header := 2 * plate // flat 2x4s: the wall bears nothing
	return runs, []stock.Piece{
		{Label: "stud", Length: stud, Quantity: len(full) + 2}, // and the two at the sides of the door
		{Label: "trimmer", Length: doorHigh - plate, Quantity: 2},
		{Label: "header", Length: doorWide + 2*plate, Quantity: 2},
		{Label: "cripple", Length: height - 2*plate - header - doorHigh, Quantity: short},
	}
}

func run(w io.Writer) error {
	runs, pieces := wall()
	job := optimize.Problem{Sticks: lumber, Runs: runs, Pieces: pieces, Kerf: measure.MustParse(`1/8"`)}
	plan, err := optimize.Solve(context.Background(), job, nil)
	if err != nil {
		return err
	}
	sheet, err := cutsheet.New(context.Background(), job, plan, &cutsheet.Options{Title: "Partition, classroom to tool room", Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}})
	if err != nil {
		return err
	}
	if err := sheet.WriteText(w); err != nil {
		return err
	}
	_, err = fmt.Fprintln(w, "\nThe wall bears nothing. Bearing, bracing and fire blocking are matters for the local code\nand for licensed people.")
	return err
}
