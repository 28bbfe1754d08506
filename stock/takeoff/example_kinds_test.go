package takeoff_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// How base ends at each kind of corner, a wall of 10 ft and, if there is one, the next.
func ExampleCornerKind() {
	base := &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch}
	for _, kind := range []takeoff.CornerKind{
		takeoff.CornerInside, takeoff.CornerOutside, takeoff.CornerOpen, takeoff.CornerStop, takeoff.CornerRough,
	} {
		room := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{
			{Name: "N", Length: 10 * measure.Foot, Corner: takeoff.Corner{Kind: kind}},
			{Name: "E", Length: 8 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
		}}
		list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base}, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		north, east := list.Runs[0], list.Runs[1]
		fmt.Printf("%-8v N ends %-14v at %-12s E begins %v\n", kind, north.Right.Kind, north.Length.About(), east.Left.Kind)
	}
	// Output:
	// inside   N ends square         at 10'          E begins cope
	// outside  N ends outside miter  at 10' 1/2"     E begins outside miter
	// open     N ends return         at 10'          E begins return
	// stop     N ends square         at 10'          E begins square
	// rough    N ends scribe         at 10' 1/4"     E begins scribe
}

// The effect of each kind of opening on a wall of 10 ft: where base stops, and whether it is
// cased.
func ExampleOpeningKind() {
	scheme := takeoff.Scheme{
		Base:   &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch},
		Casing: &stock.Profile{Name: "casing", Thickness: 3 * measure.Inch / 4, Width: 3 * measure.Inch},
	}
	for _, kind := range []takeoff.OpeningKind{takeoff.OpeningDoor, takeoff.OpeningWindow, takeoff.OpeningCased, takeoff.OpeningPlain} {
		room := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{
			Name: "N", Length: 10 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
			Openings: []takeoff.Opening{{Kind: kind, At: 4 * measure.Foot, Width: 3 * measure.Foot, Height: 4 * measure.Foot, Sill: 2 * measure.Foot}},
		}}}
		list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		base := list.TotalsOf("base")
		fmt.Printf("%-14v %v of base, %d returns, %d pieces of casing\n", kind, base.Net.About(), base.Joints.Returns, list.TotalsOf("casing").Pieces)
	}
	// Output:
	// door           6' 5-5/8" of base, 0 returns, 3 pieces of casing
	// window         10' of base, 0 returns, 4 pieces of casing
	// cased opening  6' 5-5/8" of base, 0 returns, 3 pieces of casing
	// plain opening  7' of base, 2 returns, 0 pieces of casing
}

// Codes are for programs, the Reason is for people. An unknown finding of a later version
// concerns everybody.
func ExampleFindingCode() {
	desk := func(code takeoff.FindingCode) string {
		switch code {
		case takeoff.FindingClosure, takeoff.FindingAngleSum, takeoff.FindingOpposite, takeoff.FindingDiagonalFit,
			takeoff.FindingMissedInch, takeoff.FindingMissedFoot, takeoff.FindingMissedDecimeter, takeoff.FindingMissedMeter,
			takeoff.FindingSwappedDigits, takeoff.FindingWrongSide, takeoff.FindingWrongFraction, takeoff.FindingWeakCheck, takeoff.FindingOpeningFit, takeoff.FindingCeilingAngle:
			return "measure again"
		case takeoff.FindingTopBottom, takeoff.FindingOutOfLevel, takeoff.FindingOutOfSquare:
			return "fit on site"
		case takeoff.FindingThickBase, takeoff.FindingProportion, takeoff.FindingPaintLine, takeoff.FindingHighCrown,
			takeoff.FindingTrimFit, takeoff.FindingCasingFit, takeoff.FindingRailFit, takeoff.FindingThinHead, takeoff.FindingWideLap, takeoff.FindingWideBlock:
			return "choose other trim"
		case takeoff.FindingWetSwelling, takeoff.FindingWoodRules, takeoff.FindingOpenJoints, takeoff.FindingTransport:
			return "order otherwise"
		case takeoff.FindingSliver, takeoff.FindingShortReturn, takeoff.FindingSpliceSeen:
			return "plan the cut"
		}
		return "everybody"
	}
	rooms := []takeoff.Room{{Name: "workshop", Height: 9 * measure.Foot, Walls: []takeoff.Wall{
		{Name: "N", Length: 20 * measure.Foot, TopLength: 20*measure.Foot - measure.Inch/2},
		{Name: "E", Length: 12 * measure.Foot},
		{Name: "S", Length: 20 * measure.Foot},
		{Name: "W", Length: 12 * measure.Foot, Openings: []takeoff.Opening{{At: 3 * measure.Inch, Width: 36 * measure.Inch}}},
	}}}
	scheme := takeoff.Scheme{
		Base:   &stock.Profile{Name: "base", Thickness: 7 * measure.Inch / 8, Width: 5 * measure.Inch, Lengths: []measure.Length{16 * measure.Foot}},
		Casing: &stock.Profile{Name: "flat casing", Thickness: 3 * measure.Inch / 4, Width: 4 * measure.Inch},
	}
	findings, err := takeoff.Check(rooms, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	more, err := takeoff.CheckTrim(rooms, scheme, takeoff.Conditions{MaxTransport: 14 * measure.Foot})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range append(findings, more...) {
		switch f.Severity {
		case takeoff.SeverityNote:
			continue
		case takeoff.SeverityAdvice:
			fmt.Printf("%s: %s\n", desk(f.Code), f.Reason)
		default:
			fmt.Printf("%s, before anything is bought: %s\n", desk(f.Code), f.Reason)
		}
	}
	// Output:
	// fit on site: N is 20' at the floor and 19' 11-1/2" at the ceiling
	// choose other trim: the casing of door is 1-3/16" too wide for the left end of the wall; its leg ripped to 2-13/16" fits
	// choose other trim: base is 1/8" thicker than the flat casing that it dies into; its end will show; chamfer it over 1/8" at 45° or about 7/16" at 15°, return it short of there, or let it end at a backband at least 7/8" thick or at a plinth 1" thick and 5-1/8" high
	// order otherwise, before anything is bought: sticks of base of 16' are 2' longer than can be carried; no length that is sold can
}
