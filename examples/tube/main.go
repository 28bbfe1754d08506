// Tube cuts square steel tube for the benches of a workshop: mitered frames, six-sided stool
// rings, and legs cut square. A tube may lie on any of its faces and either way around, so
// neighbors share their miters.
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
	"example.com/longpoint/stock/joint"
)

// The tube, and its lengths on sale.
var (
	side   = measure.MustParse(`1-1/2"`)
	kerf   = measure.MustParse(`3/32"`) // of a cold saw
	sticks = []stock.Stick{
		{Label: "tube 20 ft", Length: 20 * measure.Foot, Price: 5240, TrimStart: measure.Inch / 4},
		{Label: "tube 24 ft", Length: 24 * measure.Foot, Price: 6190, TrimStart: measure.Inch / 4},
	}
)

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: tube\n\nThe benches and the prices are in the program: change them there.")
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "tube:", err)
		os.Exit(1)
	}
}

// mitered returns a piece of the given outside length whose two ends meet others at the angle
// of a corner.
func mitered(label string, outside measure.Length, corner measure.Angle, count int) (stock.Piece, error) {
	tube := stock.Profile{Name: "tube", Thickness: side, Width: side}
	cut, err := joint.NewCut(tube, stock.End{Kind: stock.EndFlatMiter, Angle: corner})
	if err != nil {
		return stock.Piece{}, err
	}
	return stock.Piece{
		Label: label, Length: outside, Quantity: count,
		Left: cut.End, Right: cut.End, Symmetry: stock.SymmetryAll,
	}, nil
}

// pieces returns the pieces of three benches and four stools.
func pieces() ([]stock.Piece, error) {
	hexagon, err := joint.PolygonCorner(6)
	if err != nil {
		return nil, err
	}
	var all []stock.Piece
	for _, m := range []struct {
		label   string
		outside measure.Length
		corner  measure.Angle
		count   int
	}{
		{"bench frame, long side", 70 * measure.Inch, 90 * measure.Degree, 6},
		{"bench frame, short side", 28 * measure.Inch, 90 * measure.Degree, 6},
		{"stool ring, side", 8 * measure.Inch, hexagon, 24},
	} {
		p, err := mitered(m.label, m.outside, m.corner, m.count)
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return append(all,
		stock.Piece{Label: "bench leg", Length: measure.MustParse(`34-1/2"`), Quantity: 12, Symmetry: stock.SymmetryAll},
		stock.Piece{Label: "stool leg", Length: measure.MustParse(`16-1/4"`), Quantity: 12, Symmetry: stock.SymmetryAll},
	), nil
}

func run(w io.Writer) error {
	list, err := pieces()
	if err != nil {
		return err
	}
	job := optimize.Problem{Sticks: sticks, Pieces: list, Kerf: kerf}
	var plan *optimize.Plan
	for _, way := range []struct {
		what string
		nest bool
	}{{"each end cut by itself", false}, {"neighbors share their miters", true}} {
		job.Rules.Nest = way.nest
		if plan, err = optimize.Solve(context.Background(), job, &optimize.Options{Work: 1_000_000_000}); err != nil {
			return err
		}
		fmt.Fprintf(w, "%-30s $%d.%02d, at least $%d.%02d\n", way.what, plan.Cost/100, plan.Cost%100, plan.Bound/100, plan.Bound%100)
	}
	sheet, err := cutsheet.New(context.Background(), job, plan, &cutsheet.Options{Title: "Tube for benches and stools", Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}})
	if err != nil {
		return err
	}
	fmt.Fprintln(w)
	if err := sheet.WriteText(w); err != nil {
		return err
	}
	_, err = fmt.Fprintln(w, "\nCut steel throws sparks and burrs, and welding fume is harmful: protect eyes and ears, wear no\ngloves at the blade, ventilate, and leave welding to trained people. Clamp short pieces; no hand\nnear the blade.")
	return err
}
