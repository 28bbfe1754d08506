// Baseboard takes one run of trim from measurement to saw: the blank wall of a schoolhouse
// corridor, longer than any stick on sale, so it is spliced on a stud.
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
	"example.com/longpoint/stock/takeoff"
)

// The supplier's profile, and the prices of its lengths in cents.
var (
	base = stock.Profile{
		Name: "base", Thickness: measure.MustParse(`9/16"`), Width: measure.MustParse(`5-1/4"`),
		Lengths: []measure.Length{8 * measure.Foot, 12 * measure.Foot, 16 * measure.Foot},
	}
	sticks = []stock.Stick{
		{Length: 8 * measure.Foot, Price: 1248},
		{Length: 12 * measure.Foot, Price: 1908},
		{Length: 16 * measure.Foot, Price: 2608},
	}
)

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: baseboard\n\nThe wall, the base and the prices are in the program: change them there.")
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "baseboard:", err)
		os.Exit(1)
	}
}

func run(w io.Writer) error {
	wall := takeoff.Wall{Name: "north wall", Length: measure.MustParse(`26' 2-1/4"`), Corner: takeoff.Corner{Kind: takeoff.CornerStop}}
	list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Walls: []takeoff.Wall{wall}}}, takeoff.Scheme{Base: &base}, nil)
	if err != nil {
		return err
	}
	job := optimize.Problem{Sticks: sticks, Pieces: list.PiecesOf(base.Name), Kerf: measure.MustParse(`1/8"`)}
	plan, err := optimize.Solve(context.Background(), job, nil)
	if err != nil {
		return err
	}
	sheet, err := cutsheet.New(context.Background(), job, plan, &cutsheet.Options{Title: "Corridor base", Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}})
	if err != nil {
		return err
	}
	return sheet.WriteText(w)
}
