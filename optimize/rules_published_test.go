package optimize_test

import (
	"context"
	"errors"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// wantProven solves a problem and compares the plan with the cost; mustSolve checks it.
func wantProven(t *testing.T, p optimize.Problem, cost int64) *optimize.Plan {
	t.Helper()
	plan := mustSolve(t, p)
	if plan.Cost != cost || plan.Bound != cost || !plan.Proven {
		t.Errorf("cost %d, bound %d, proven %v; want %d proven", plan.Cost, plan.Bound, plan.Proven, cost)
	}
	return plan
}

// A cap on the pieces of one stick.
func TestPublishedMost(t *testing.T) {
	const fiber = "1250x5, 1150x64, 1120x9, 1066x18, 1000x11, 520x91"
	for _, tt := range []struct {
		name   string
		stick  int
		most   int
		pieces string
		cost   int64
	}{
		// F. Brandao, Bin packing and related problems: general arc-flow formulation
		// with graph compression, MSc thesis (2012), figure 3.9: linear program
		// 1.667; the optimum was computed outside this project.
		{"Brandao 2012, figure 3.9", 9, 3, "4x1, 3x3, 2x1", 2},
		{"the same with two pieces", 9, 2, "4x1, 3x3, 2x1", 3}, // derived: five pieces, two a stick
		// S. Umetani, fiber industry data fiber06. Published: an example distributed
		// with the arc-flow method of F. Brandao and J. P. Pedroso, with at most 9
		// pieces per roll, asserts 33.
		{"fiber06, 5180", 5180, 9, fiber, 33},
		{"fiber06, 9080", 9080, 9, fiber, 22}, // derived: 198 pieces are 22 times 9
		// The OR-Tools bin packing tutorial again, four bins without a cap: eleven pieces, two a bin,
		// take six (derived).
		{"OR-Tools bin packing tutorial", 100, 2, "48,30,19,36,36,27,42,42,36,24,30", 6},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := optimize.Problem{
				Sticks: []stock.Stick{{Length: measure.Length(tt.stick) * measure.Millimeter, Price: 1}},
				Pieces: list(t, measure.Millimeter, tt.pieces),
				Rules:  optimize.Rules{MaxPieces: tt.most},
			}
			for _, pat := range wantProven(t, p, tt.cost).Patterns {
				if len(pat.Pieces) > tt.most {
					t.Errorf("%d pieces in one pattern", len(pat.Pieces))
				}
			}
		})
	}
}

// frame returns the four sides, long point to long point, of a frame with flat miters.
func frame(short, long, face measure.Length) []stock.Piece {
	miter := stock.End{Kind: stock.EndFlatMiter, Setback: face}
	return []stock.Piece{
		{Label: "long", Length: long, Quantity: 2, Left: miter, Right: miter},
		{Label: "short", Length: short, Quantity: 2, Left: miter, Right: miter},
	}
}

// A picture of 16 x 20 in in molding 2 in wide, with 1/16 in of play on each side of
// the frame: a framing site takes two 4-ft lengths, one side of 24 and one of 20 from
// each, uses 44-1/8 in, and says that two sides of 24 from one length of 48 do not fit.
func TestPublishedFrame(t *testing.T) {
	const in = measure.Inch
	sides := frame(20*in+in/16, 24*in+in/16, 2*in)
	for _, nest := range []bool{false, true} {
		for _, kerf := range []measure.Length{0, in / 8} {
			p := optimize.Problem{
				Sticks: []stock.Stick{{Length: 48 * in, Price: 520}},
				Pieces: sides, Kerf: kerf, Rules: optimize.Rules{Nest: nest},
			}
			plan := wantProven(t, p, 2*520)
			if len(plan.Patterns) != 1 || plan.Patterns[0].Count != 2 {
				t.Fatalf("nest %v, kerf %v: %+v", nest, kerf, plan.Patterns)
			}
			used := measure.Length(0)
			for _, i := range plan.Patterns[0].Pieces {
				used += sides[i].Length
			}
			if used != 44*in+in/8 || !slices.Contains(plan.Patterns[0].Pieces, 0) || !slices.Contains(plan.Patterns[0].Pieces, 1) {
				t.Errorf("nest %v, kerf %v: %v used of %v", nest, kerf, used, plan.Patterns[0].Pieces)
			}

			// Both long sides from one stick: no plan, and none that Check accepts.
			both := p
			both.Pieces = sides[:1]
			both.Sticks = []stock.Stick{{Length: 48 * in, Price: 520, Limit: 1}}
			var none *optimize.InfeasibleError
			if plan, err := optimize.Solve(context.Background(), both, nil); !errors.As(err, &none) {
				t.Errorf("nest %v, kerf %v: both long sides from one stick: %+v, %v", nest, kerf, plan, err)
			}
			bad := *plan
			bad.Patterns = slices.Clone(plan.Patterns)
			bad.Patterns[0].Count = 1
			bad.Patterns = append(bad.Patterns, bad.Patterns[0])
			for k, pieces := range [][]int{{0, 0}, {1, 1}} {
				bad.Patterns[k].Pieces, bad.Patterns[k].Offcut = pieces, 0
				if plan.Patterns[0].Turned != nil {
					bad.Patterns[k].Turned = make([]optimize.Turn, 2)
				}
			}
			if err := optimize.Check(context.Background(), p, &bad); err == nil {
				t.Errorf("nest %v, kerf %v: Check accepts two long sides from one stick", nest, kerf)
			}

			// Flat stock that may be turned is not molding: if the two share a miter, they take 2 x
			// 24-1/16 less 2 in and a cut, and fit (derived).
			both.Pieces = frame(20*in+in/16, 24*in+in/16, 2*in)[:1]
			both.Pieces[0].Symmetry = stock.SymmetryEnds
			if nest {
				wantProven(t, both, 520)
			} else if _, err := optimize.Solve(context.Background(), both, nil); !errors.As(err, &none) {
				t.Errorf("kerf %v: turned without nesting: %v", kerf, err)
			}
		}
	}
}

// A board of 305 x 407 mm in molding of 66 mm with 1 mm of play a side: a framing
// supplier adds up 1956 mm and buys two lengths of 1.5 m. Pooled millimeters promise
// nothing; here they come true, with any blade up to 84 mm and so with 3 (derived:
// 2 x 438 + 540 = 1416).
func TestPublishedFrameSupplier(t *testing.T) {
	const mm = measure.Millimeter
	sides := frame((305+1+2*66)*mm, (407+1+2*66)*mm, 66*mm)
	sum := measure.Length(0)
	for _, s := range sides {
		sum += measure.Length(s.Quantity) * s.Length
	}
	if sum != 1956*mm {
		t.Errorf("the sides add up to %v", sum)
	}
	for _, nest := range []bool{false, true} {
		wantProven(t, optimize.Problem{
			Sticks: []stock.Stick{{Length: 1500 * mm, Price: 1}},
			Pieces: sides, Kerf: 3 * mm, Rules: optimize.Rules{Nest: nest},
		}, 2)
	}
}

// Each scarf of bevel b in wood t thick adds t*tan b to the stock of a run. Bevels of
// 45° ("Splicing Molding", This Old House) and of 30° ("Splicing Baseboards", Fine
// Homebuilding), the latter at the middle of a stud, on wood of 9/16 in: .5625 and
// .3248 in (derived).
func TestPublishedScarf(t *testing.T) {
	const in = measure.Inch
	for _, tt := range []struct {
		bevel   measure.Angle
		overlap measure.Length
	}{
		{45 * measure.Degree, 9 * in / 16},
		{30 * measure.Degree, 3248 * in / 10_000},
	} {
		run := stock.Run{Label: "north wall", Length: 240 * in, Splice: stock.SpliceRule{Overlap: tt.overlap, Bevel: tt.bevel}}
		for x := 16 * in; x < run.Length; x += 16 * in {
			run.Splice.At = append(run.Splice.At, x)
		}
		plan := wantProven(t, optimize.Problem{
			Sticks: []stock.Stick{{Length: 144 * in, Price: 1400}},
			Runs:   []stock.Run{run}, Kerf: in / 8,
		}, 2*1400)
		at := plan.Spliced[0].At
		if len(at) != 1 || !slices.Contains(run.Splice.At, at[0]) {
			t.Fatalf("spliced at %v", at)
		}
		sum := measure.Length(0)
		for _, p := range plan.Parts {
			sum += p.Length
		}
		if sum != run.Length+tt.overlap {
			t.Errorf("bevel %v: the parts add up to %v of %v", tt.bevel, sum, run.Length)
		}
	}
}

// A tip in Fine Homebuilding 25 (1985) says that a splined square joint may be anywhere and saves
// stock, while a scarf in tall base has its place on a stud. A run of 191 in from sticks of 96, prices
// made up: a square joint between 95 and 96 in leaves two parts that fit; the stud at 96 in leaves a
// part of 96 and half a scarf, so a third stick is needed. No part is shorter than a bay of studs
// (common practice, no source).
func TestPublishedSquareSplice(t *testing.T) {
	const in = measure.Inch
	scarf := stock.SpliceRule{Overlap: 9 * in / 16, Bevel: 45 * measure.Degree, MinPart: 16 * in, Price: 100}
	for x := 16 * in; x < 191*in; x += 16 * in {
		scarf.At = append(scarf.At, x)
	}
	square := stock.SpliceRule{Anywhere: true, MinPart: 16 * in, Price: 100}.Every(191*in, in)
	for _, tt := range []struct {
		rule    stock.SpliceRule
		splices int
	}{{scarf, 2}, {square, 1}} {
		plan := wantProven(t, optimize.Problem{
			Sticks: []stock.Stick{{Length: 96 * in, Price: 1000}},
			Runs:   []stock.Run{{Label: "north wall", Length: 191 * in, Splice: tt.rule}},
		}, int64(1000*(tt.splices+1)+100*tt.splices))
		if n := len(plan.Spliced[0].At); n != tt.splices {
			t.Errorf("%d splices, want %d", n, tt.splices)
		}
	}
}

// Stock is chosen by its offcuts, not by its length: US Army correspondence course EN0069A, lesson 4,
// kerf ignored as there, with the length of the stock as the cost; a cap on pieces that those plans
// keep changes nothing.
func TestPublishedStockChoice(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	for _, tt := range []struct {
		name   string
		piece  measure.Length
		n      int
		sticks [2]measure.Length
		want   int   // of sticks, the one that the course chooses
		count  int64 // of those
	}{
		{"EN0069A: four of 2 ft 4 in from 10 or 12 ft", 28 * in, 4, [2]measure.Length{10 * ft, 12 * ft}, 0, 1},
		{"EN0069A: two of 3 ft from 8 or 10 ft", 3 * ft, 2, [2]measure.Length{8 * ft, 10 * ft}, 0, 1},
		{"EN0069A: nine of 3 ft from 8 or 10 ft", 3 * ft, 9, [2]measure.Length{8 * ft, 10 * ft}, 1, 3},
	} {
		for _, most := range []int{0, 4} {
			plan := wantProven(t, optimize.Problem{
				Sticks: []stock.Stick{{Length: tt.sticks[0]}, {Length: tt.sticks[1]}},
				Pieces: []stock.Piece{{Length: tt.piece, Quantity: tt.n}},
				Rules:  optimize.Rules{MaxPieces: most},
			}, tt.count*int64(tt.sticks[tt.want]))
			if plan.Sticks() != tt.count || plan.Patterns[0].Stick != tt.want {
				t.Errorf("%s: %+v", tt.name, plan.Patterns)
			}
		}
	}
}
