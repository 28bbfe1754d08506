// Frames cuts an order of picture frames in the workshop of a schoolhouse. It prices the order
// with each miter cut separately, and with boards that look the same whichever edge is up
// turned so that neighbors share a cut.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// frame is a number of frames for pictures of one size.
type frame struct {
	what       string
	wide, high measure.Length
	count      int
}

// order is the workshop's order.
var order = []frame{
	{"class photograph", 10 * measure.Inch, 8 * measure.Inch, 6},
	{"county map", 24 * measure.Inch, 36 * measure.Inch, 1},
	{"alphabet chart", 16 * measure.Inch, 20 * measure.Inch, 3},
}

var (
	kerf   = measure.MustParse(`1/8"`)
	face   = 2 * measure.Inch // of molding and of boards
	play   = measure.MustParse(`1/16"`)
	prices = []stock.Stick{{Length: 4 * measure.Foot, Price: 520}, {Length: 8 * measure.Foot, Price: 1010}}
)

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: frames\n\nThe order and the prices are in the program: change them there.")
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "frames:", err)
		os.Exit(1)
	}
}

// pieces returns the four sides of every frame, long point to long point: the picture,
// its play, and the face of the frame at both ends.
func pieces(frames []frame, turns stock.Symmetry) ([]stock.Piece, error) {
	section := stock.Profile{Name: "frame", Role: stock.RoleCasing, Thickness: 3 * measure.Inch / 4, Width: face}
	cut, err := joint.NewCut(section, stock.End{Kind: stock.EndFlatMiter})
	if err != nil {
		return nil, err
	}
	var all []stock.Piece
	for _, f := range frames {
		for _, side := range []struct {
			name string
			of   measure.Length
		}{{"top and bottom", f.wide}, {"sides", f.high}} {
			all = append(all, stock.Piece{
				Label: f.what + ", " + side.name, Length: side.of + play + 2*face, Quantity: 2 * f.count,
				Left: cut.End, Right: cut.End, Symmetry: turns,
			})
		}
	}
	return all, nil
}

// published is a frame from a published guide ("framing site"): a picture of 16 by 20 in
// molding 2 in wide takes a side of 24 and one of 20 from each of two sticks of 4 ft, 44-1/8 in
// of each with the play; two sides of 24 do not fit one stick.
func published(w io.Writer) error {
	sides, err := pieces([]frame{{"frame", 20 * measure.Inch, 16 * measure.Inch, 1}}, stock.SymmetryNone)
	if err != nil {
		return err
	}
	job := optimize.Problem{Sticks: prices[:1], Pieces: sides, Kerf: kerf, Rules: optimize.Rules{Nest: true}}
	plan, err := optimize.Solve(context.Background(), job, nil)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "A picture of 16 by 20 in molding 2 in wide takes %d sticks of 4 ft:\n", plan.Sticks())
	for _, p := range plan.Patterns {
		var sum measure.Length
		for i, n := range p.Pieces {
			if i > 0 {
				fmt.Fprint(w, " and ")
			} else {
				fmt.Fprintf(w, "  %d of ", p.Count)
			}
			fmt.Fprint(w, sides[n].Length.About())
			sum += sides[n].Length
		}
		fmt.Fprintf(w, ", %v of wood\n", sum.Format(measure.Style{Unit: measure.Inch}))
	}
	for _, way := range []struct {
		what  string
		turns stock.Symmetry
	}{{"molding", stock.SymmetryNone}, {"a flat board that may be turned", stock.SymmetryEnds}} {
		long := sides[0]
		long.Symmetry = way.turns
		job.Pieces, job.Sticks = []stock.Piece{long}, []stock.Stick{{Length: 4 * measure.Foot, Limit: 1}}
		_, err := optimize.Solve(context.Background(), job, nil)
		switch {
		case err == nil:
			fmt.Fprintf(w, "Both long sides from one stick of %s: yes.\n", way.what)
		case errors.As(err, new(*optimize.InfeasibleError)):
			fmt.Fprintf(w, "Both long sides from one stick of %s: no.\n", way.what)
		default:
			return err
		}
	}
	return nil
}

func run(w io.Writer) error {
	if err := published(w); err != nil {
		return err
	}

	boards, err := pieces(order, stock.SymmetryEnds)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "\nThe order, %d pieces of flat board:\n", pieceCount(boards))
	job := optimize.Problem{Sticks: prices, Pieces: boards, Kerf: kerf}
	money := measure.Currency{Symbol: "$"}
	var nested *optimize.Plan
	for _, way := range []struct {
		what  string
		turns stock.Symmetry
		nest  bool
	}{
		{"each end cut by itself", stock.SymmetryEnds, false},
		{"miters nest, no board turned", stock.SymmetryNone, true},
		{"miters nest, boards turned end for end", stock.SymmetryEnds, true},
	} {
		for i := range job.Pieces {
			job.Pieces[i].Symmetry = way.turns
		}
		job.Rules.Nest = way.nest
		if nested, err = optimize.Solve(context.Background(), job, nil); err != nil {
			return err
		}
		proven := "proven"
		if !nested.Proven {
			proven = "not proven"
		}
		fmt.Fprintf(w, "  %-40s %2d sticks  $%d.%02d  %s\n", way.what, nested.Sticks(), nested.Cost/100, nested.Cost%100, proven)
	}
	fmt.Fprint(w, "In the first line a cut takes the width of the blade. In the others a miter takes its\n"+
		"width along the stick, which is greater by a cosine, so nesting alone may cost more.\n\n")

	sheet, err := cutsheet.New(context.Background(), job, nested, &cutsheet.Options{Title: "Frames for the workshop", Locale: measure.Locale{Currency: money}})
	if err != nil {
		return err
	}
	return sheet.WriteText(w)
}

func pieceCount(ps []stock.Piece) (n int) {
	for i := range ps {
		n += ps[i].Quantity
	}
	return n
}
