// Package longpoint is the guide to a library that plans running trim: baseboard, casing, crown,
// shoe and chair rail in wood, and base in stone or tile. It exports nothing itself.
// A first program:
//
//	package main
//
//	import (
//		"context"
//		"fmt"
//		"log"
//
//		"example.com/longpoint/measure"
//		"example.com/longpoint/optimize"
//		"example.com/longpoint/stock"
//	)
//
//	func main() {
//		plan, err := optimize.Solve(context.Background(), optimize.Problem{
//			Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
//			Pieces: []stock.Piece{{Length: measure.MustParse(`12' 1-3/8"`)}, {Length: measure.MustParse(`41-1/2"`), Quantity: 4}},
//			Kerf:   measure.Inch / 8,
//		}, nil)
//		if err != nil {
//			log.Fatal(err)
//		}
//		for _, p := range plan.Patterns {
//			fmt.Println(p.Count, "of stick", p.Stick, "cut into pieces", p.Pieces, "leaves", p.Offcut)
//		}
//		fmt.Println(plan.Cost, "cents; proven to be the least:", plan.Proven)
//	}
//
// It prints which sticks to buy, how to cut them, and that no plan costs less. examples/recipes
// continues from here.
//
// To cut pieces from sticks, call [example.com/longpoint/optimize.Solve]; to estimate a whole
// job, call [example.com/longpoint/finish/estimate.New]. The examples below show both.
//
//   - [example.com/longpoint/measure] has exact lengths, angles, areas and volumes, and parses
//     and formats them as people write them. The sixteenths of a tape, the decimal feet of a
//     drawing and the millimeters of a supplier are whole numbers of one tick, so nothing is
//     rounded implicitly.
//   - [example.com/longpoint/stock] has the basic types: sticks, pieces, the ends of a piece,
//     runs, profiles. The geometry is in [example.com/longpoint/stock/joint] for the end of a
//     piece, [example.com/longpoint/stock/curve] for trim around curves,
//     [example.com/longpoint/stock/panel] for boxes, stiles and rails on a wall,
//     [example.com/longpoint/stock/stair] for trim along a slope, and
//     [example.com/longpoint/stock/scribe] for trim on surfaces that are not level, plumb or
//     flat. [example.com/longpoint/stock/takeoff] converts measured rooms to pieces and reports
//     errors in the measurements; [example.com/longpoint/stock/takeoff/drawing] draws rooms,
//     walls and joints.
//   - [example.com/longpoint/optimize] decides which sticks to buy and how to cut them. Every
//     plan comes with a proven lower bound on the cost, and Check verifies both without the
//     solver. [example.com/longpoint/optimize/whatif] computes the cost of a change,
//     [example.com/longpoint/optimize/replan] plans the rest of a job after a mishap, and
//     [example.com/longpoint/optimize/cutsheet] writes a plan for the saw.
//   - [example.com/longpoint/finish] covers the work after the saw: fasteners, caulk, filler,
//     paint, mortar and grout, in the cheapest mix of whole packages.
//     [example.com/longpoint/finish/tearout] plans the removal of old trim,
//     [example.com/longpoint/finish/labor] computes hours, and
//     [example.com/longpoint/finish/sequence] and [example.com/longpoint/finish/schedule]
//     compute the order and the dates of the work.
//   - [example.com/longpoint/finish/estimate] combines all of this in one call, from measured
//     rooms to a price. [example.com/longpoint/finish/paper] writes the papers for the client
//     and the crew.
//
// Imports go in one direction:
//
//	measure  <-  stock, stock/joint, stock/curve, stock/panel, stock/stair, stock/scribe, stock/takeoff  <-  optimize
//	stock/takeoff  <-  stock/takeoff/drawing
//	optimize  <-  optimize/whatif, optimize/replan, optimize/cutsheet
//	measure  <-  finish, finish/schedule  <-  finish/sequence, finish/tearout, finish/labor, finish/paper
//	all of these  <-  finish/estimate
//
// # Conventions
//
// Lengths are [example.com/longpoint/measure.Length] and money is an int64 in the currency's
// minor unit; neither is ever a floating-point number. Zero values are usable. Bad input is a
// typed error that names the field and the value; only functions whose names begin with Must
// panic. The same input gives the same output on every machine.
//
// The program in examples/schoolhouse does a whole job, from walls measured with a tape to a
// shopping list. Start reading there.
package longpoint
