package optimize_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A plan by hand that Check must accept, and single changes that make it wrong. Lengths are in inches,
// to be added up mentally.
type byHand struct {
	name  string
	p     optimize.Problem
	plan  optimize.Plan
	wrong []falsified
}

type falsified struct {
	claim string
	spoil func(p *optimize.Problem, plan *optimize.Plan)
}

func pieces(inches ...measure.Length) (ps []stock.Piece) {
	for _, l := range inches {
		ps = append(ps, stock.Piece{Length: l * inch})
	}
	return ps
}

func stick(inches measure.Length, price int64) stock.Stick {
	return stock.Stick{Length: inches * inch, Price: price}
}

// mitered has a left end long at the back and a right end long at the face, two inches each: two of
// them nest as given.
func mitered(inches measure.Length) stock.Piece {
	return stock.Piece{Length: inches * inch, Left: stock.End{Kind: stock.EndInsideMiter, Setback: 2 * inch}, Right: stock.End{Kind: stock.EndOutsideMiter, Setback: 2 * inch}}
}

func handMade() []byHand {
	knotty := stick(100, 7)
	knotty.Limit, knotty.TrimStart = 1, 2*inch
	knotty.Defects = []stock.Defect{{From: 60 * inch, To: 70 * inch}, {From: 40 * inch, To: 42 * inch}, {From: 1 * inch, To: 5 * inch}}
	// Clear are 5-40, 42-60 and 70-100 in.

	bundled := stick(50, 10)
	bundled.Bundle, bundled.Minimum, bundled.Supplier = 2, 3, "M"
	bundled.Breaks = []stock.PriceBreak{{From: 4, Price: 8}}
	other := stick(60, 0)
	other.Rack, other.Limit, other.Supplier = true, 1, "N"

	run := stock.Run{Label: "north", Length: 100 * inch, Profile: "base", Left: stock.End{Kind: stock.EndCope},
		Splice: stock.SpliceRule{At: []measure.Length{30 * inch, 50 * inch, 70 * inch}, Overlap: 2 * inch, Bevel: 45 * measure.Degree, MaxSplices: 1, MinPart: 20 * inch, Price: 5}}
	parts, err := run.Pieces([]measure.Length{50 * inch})
	if err != nil {
		panic(err)
	}

	long := stick(100, 7)
	long.TrimStart, long.TrimEnd = inch, 2*inch

	return []byHand{
		{"grades and most", optimize.Problem{
			Sticks: []stock.Stick{{Length: 50 * inch, Price: 4, Grade: 1}, {Length: 50 * inch, Price: 3}}, Kerf: inch, Rules: optimize.Rules{MaxPieces: 2},
			Pieces: []stock.Piece{{Length: 20 * inch, Grade: 1}, {Length: 10 * inch, Quantity: 2}}},
			optimize.Plan{Cost: 7, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1}, Offcut: 18 * inch}, {Stick: 1, Count: 1, Pieces: []int{1}, Offcut: 39 * inch}}},
			[]falsified{
				{"patterns[0].pieces[0]", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[0].Grade = 2 }},
				{"patterns[1].pieces[0]", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[1].Grade = 1 }},
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) { p.Rules.MaxPieces = 1 }},
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Offcut++ }},
				{"cost", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Cost = 6 }},
				{"by_length", func(_ *optimize.Problem, pl *optimize.Plan) { pl.ByLength = true }},
				{"proven", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Proven = true }},
				{"bound", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Bound = 8 }},
				{"buy", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Buy = append(pl.Buy, optimize.Purchase{Stick: 1, Count: 1, Cost: 3})
				}},
				{"patterns", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns = pl.Patterns[:1] }},
				{"patterns[0].pieces[0]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Count = 2 }},
				{"patterns[0].pieces[0]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Pieces[0] = 2 }},
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Pieces = nil }},
				{"patterns[0].stick", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Stick = -1 }},
				{"patterns[0].count", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Count = math.MinInt }},
				{"patterns[0].turned[0]", func(p *optimize.Problem, pl *optimize.Plan) {
					p.Pieces[0].Symmetry, pl.Patterns[0].Turned = stock.SymmetryAll, []optimize.Turn{optimize.Turn{EndForEnd: true}, optimize.Turn{}}
				}},
				{"patterns[0].stretch", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Stretch = []int{0, 0} }},
				{"patterns[0].yard_after", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].YardAfter = 1 }},
				{"patterns[1].count", func(p *optimize.Problem, pl *optimize.Plan) {
					p.Sticks[1].Limit, pl.Patterns[0].Stick, p.Pieces[0].Grade = 1, 1, 0
				}},
				{"spliced", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Spliced = []optimize.SplicedRun{{}} }},
				{"parts", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts = pieces(3) }},
				{"goals", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals = []optimize.GoalResult{{Value: 7}} }},
			}},
		{"hold by a piece, by an offcut, and uncut", optimize.Problem{
			Sticks: []stock.Stick{stick(50, 1), stick(12, 1)}, Kerf: inch, Rules: optimize.Rules{MinHold: 15 * inch}, Pieces: pieces(20, 28, 14, 12)},
			optimize.Plan{Cost: 3, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1}}, {Count: 1, Pieces: []int{2}, Offcut: 35 * inch}, {Stick: 1, Count: 1, Pieces: []int{3}}}},
			[]falsified{
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) { p.Rules.MinHold = 29 * inch }},
				{"patterns[1].pieces", func(p *optimize.Problem, pl *optimize.Plan) {
					p.Sticks[0].TrimEnd, pl.Patterns[1].Offcut, p.Pieces = 21*inch, 14*inch, pieces(20, 8, 14, 12)
				}},
				{"patterns[2].pieces", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[3].Length-- }},
			}},
		{"ends that nest", optimize.Problem{ // 20+1 + 20+1 + 10+1, less 2 and 2, in 49 and a kerf: cuts at right angles but for the setback
			Sticks: []stock.Stick{stick(51, 1)}, Rules: optimize.Rules{Nest: true},
			Pieces: []stock.Piece{mitered(20), mitered(20), {Length: 10 * inch, Symmetry: stock.SymmetryAll,
				Right: stock.End{Kind: stock.EndInsideMiter, Setback: 2 * inch}}}},
			optimize.Plan{Cost: 1, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1, 2}, Offcut: 5 * inch,
				Turned: []optimize.Turn{optimize.Turn{}, optimize.Turn{}, optimize.Turn{EndForEnd: true}}}}},
			[]falsified{
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Turned = nil }}, // a square end beside a miter
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Patterns[0].Turned[2] = optimize.Turn{EndForEnd: true, Rolled: true}
				}},
				{"patterns[0].offcut", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[1].Left.Angle = 120 * measure.Degree }},
				{"patterns[0].offcut", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[1].Left.Setback++ }},
				{"patterns[0].offcut", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[1].Left.Kind = stock.EndOutsideMiter }},
				{"patterns[0].offcut", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[1].Left.Kind = stock.EndFlatMiter }},
				{"patterns[0].offcut", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[0].Right.Setback-- }},
				{"patterns[0].offcut", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[0].Right.Kind = stock.EndInsideMiter }}, // back beside back
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) { p.Sticks[0].Length = 46*inch - 1 }},
				{"patterns[0].turned[2]", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[2].Symmetry = stock.SymmetryNone }},
				{"patterns[0].turned[2]", func(p *optimize.Problem, pl *optimize.Plan) {
					p.Pieces[2].Symmetry, pl.Patterns[0].Turned[2] = stock.SymmetryEnds, optimize.Turn{Rolled: true}
				}},
				{"patterns[0].turned", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Turned = pl.Patterns[0].Turned[:2] }},
			}},
		{"flat miters", optimize.Problem{ // long at the outer edge at both ends: every second one lies with its edges the other way
			Sticks: []stock.Stick{stick(80, 1)}, Rules: optimize.Rules{Nest: true},
			Pieces: []stock.Piece{{Length: 20 * inch, Quantity: 4, Symmetry: stock.SymmetryAll,
				Left: stock.End{Kind: stock.EndFlatMiter, Setback: 2 * inch}, Right: stock.End{Kind: stock.EndFlatMiter, Setback: 2 * inch}}}},
			optimize.Plan{Cost: 1, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 0, 0, 0}, Offcut: 6 * inch,
				Turned: []optimize.Turn{optimize.Turn{}, optimize.Turn{EndForEnd: true}, optimize.Turn{}, optimize.Turn{Rolled: true}}}}},
			[]falsified{
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Turned = nil }},
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Patterns[0].Turned[1] = optimize.Turn{EndForEnd: true, Rolled: true}
				}},
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Patterns[0].Turned[3] = optimize.Turn{EndForEnd: true, Rolled: true}
				}},
				{"patterns[0].turned[3]", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[0].Symmetry = stock.SymmetryEnds }},
			}},
		{"the kerf of a miter", optimize.Problem{ // 1 in at 45 degrees takes 1.4142 in, in 64ths rounded up 1 27/64
			Sticks: []stock.Stick{stick(44, 1)}, Kerf: inch, Rules: optimize.Rules{Nest: true}, Pieces: []stock.Piece{mitered(20), mitered(20)}},
			optimize.Plan{Cost: 1, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1}, Offcut: 3*inch + 10*inch/64}}},
			[]falsified{{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Offcut = 4 * inch }}}},
		{"defects", optimize.Problem{Sticks: []stock.Stick{knotty}, Kerf: inch, Pieces: pieces(30, 4, 25)},
			optimize.Plan{Cost: 7, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1, 2}, Offcut: 18 * inch, Stretch: []int{0, 0, 2}}}},
			[]falsified{
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Stretch[2] = 1 }},
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[1].Length++ }},
				{"patterns[0].stretch[1]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Stretch = []int{2, 0, 2} }},
				{"patterns[0].stretch[2]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Stretch[2] = 3 }},
				{"patterns[0].stretch[0]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Stretch[0] = -1 }},
				{"patterns[0].stretch", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Stretch = nil }},
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Offcut = 4 * inch }},
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) {
					p.Rules.Groups = []optimize.Group{{Kind: optimize.GroupOneStick, Pieces: []int{1, 2}}} // one stick, but two stretches
				}},
			}},
		{"groups", optimize.Problem{Sticks: []stock.Stick{{Length: 50 * inch, Price: 2, Lot: "A"}, {Length: 60 * inch, Price: 3, Lot: "A"}, {Length: 60 * inch, Price: 3, Lot: "B"}},
			Pieces: pieces(10, 11, 12, 13, 14), Rules: optimize.Rules{Groups: []optimize.Group{{Kind: optimize.GroupInSequence, Pieces: []int{2, 0}}, {Kind: optimize.GroupOneLot, Pieces: []int{3, 4}}}}},
			optimize.Plan{Cost: 5, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{3, 2, 0}, Offcut: 15 * inch}, {Stick: 1, Count: 1, Pieces: []int{4, 1}, Offcut: 35 * inch}}},
			[]falsified{
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Pieces = []int{3, 0, 2} }},
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Pieces = []int{2, 3, 0} }},
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { // apart
					pl.Patterns[0].Pieces, pl.Patterns[0].Offcut = []int{3, 2}, 25*inch
					pl.Patterns[1].Pieces, pl.Patterns[1].Offcut = []int{4, 1, 0}, 25*inch
				}},
				{"patterns[1].stick", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[1].Stick = 2 }},
				{"patterns[0].stick", func(p *optimize.Problem, _ *optimize.Plan) {
					p.Rules.Groups = []optimize.Group{p.Rules.Groups[0], {Kind: optimize.GroupOneLot, Pieces: []int{3, 4}, Started: true, Lot: "B"}}
				}},
				{"patterns[1].stick", func(p *optimize.Problem, _ *optimize.Plan) {
					p.Rules.Groups = []optimize.Group{p.Rules.Groups[0], {Kind: optimize.GroupOneLot, Pieces: []int{1}, Started: true}}
				}},
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) {
					p.Rules.Groups = []optimize.Group{{Kind: optimize.GroupOneStick, Pieces: []int{2, 4}}}
				}},
			}},
		{"a sequence is not turned", optimize.Problem{Sticks: []stock.Stick{stick(50, 1)}, Rules: optimize.Rules{Nest: true, Groups: []optimize.Group{{Kind: optimize.GroupInSequence, Pieces: []int{0, 1}}}},
			Pieces: []stock.Piece{{Length: 20 * inch, Symmetry: stock.SymmetryAll}, {Length: 10 * inch, Symmetry: stock.SymmetryAll}}},
			optimize.Plan{Cost: 1, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1}, Offcut: 20 * inch}}},
			[]falsified{
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Patterns[0].Turned = []optimize.Turn{optimize.Turn{Rolled: true}, optimize.Turn{Rolled: true}}
				}},
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Patterns[0].Turned = []optimize.Turn{optimize.Turn{}, optimize.Turn{EndForEnd: true}}
				}},
			}},
		{"purchases", optimize.Problem{Sticks: []stock.Stick{bundled, other}, Pieces: []stock.Piece{{Length: 40 * inch, Quantity: 2}},
			Rules: optimize.Rules{Spare: 2, Charges: []optimize.Charge{{Supplier: "M", Amount: 100}, {Supplier: "N", Amount: 1000}}}},
			optimize.Plan{Cost: 132, Patterns: []optimize.Pattern{{Count: 2, Pieces: []int{0}, Offcut: 10 * inch}}, Buy: []optimize.Purchase{{Stick: 0, Count: 4, Cost: 32}}},
			[]falsified{
				{"buy[0].count", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Buy[0].Count = 5 }},
				{"buy[0].count", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Buy[0].Count = 2 }},
				{"buy[0].count", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Buy[0].Count = 0 }},
				{"buy[0].count", func(p *optimize.Problem, _ *optimize.Plan) { p.Sticks[0].Limit = 3 }},
				{"buy[0].cost", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Buy[0].Cost = 40 }},
				{"buy[0].stick", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Buy[0].Stick = 2 }},
				{"buy[1].stick", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Buy = append(pl.Buy, pl.Buy[0]) }},
				{"buy", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Buy = nil }},
				{"buy", func(p *optimize.Problem, _ *optimize.Plan) { p.Rules.Spare = 3 }},
				{"buy", func(p *optimize.Problem, pl *optimize.Plan) {
					p.Sticks[0].Bundle, pl.Buy[0].Count, pl.Buy[0].Cost = 3, 3, 30
				}},
				{"cost", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Cost = 32 }},
				{"cost", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Buy = append(pl.Buy, optimize.Purchase{Stick: 1, Count: 1})
				}}, // its charge
			}},
		{"runs", optimize.Problem{Sticks: []stock.Stick{stick(60, 7)}, Runs: []stock.Run{run}},
			optimize.Plan{Cost: 19, Parts: parts, Spliced: []optimize.SplicedRun{{At: []measure.Length{50 * inch}, Pieces: []int{0, 1}}},
				Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0}, Offcut: 9 * inch}, {Count: 1, Pieces: []int{1}, Offcut: 9 * inch}}},
			[]falsified{
				{"spliced[0].run", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Spliced[0].Run = 1 }},
				{"spliced", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Spliced = nil }},
				{"spliced[0].at[0]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Spliced[0].At[0]++ }},
				{"spliced[0].at[0]", func(p *optimize.Problem, _ *optimize.Plan) { // to be avoided is not allowed
					p.Runs[0].Splice.At, p.Runs[0].Splice.Avoid = []measure.Length{30 * inch}, []measure.Length{50 * inch}
				}},
				{"spliced[0].at", func(_ *optimize.Problem, pl *optimize.Plan) {
					pl.Spliced[0].At = []measure.Length{30 * inch, 70 * inch}
				}},
				{"spliced[0].at[0]", func(p *optimize.Problem, _ *optimize.Plan) { p.Runs[0].Splice.MinPart = 52 * inch }},
				{"spliced[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Spliced[0].Pieces = []int{0} }},
				{"spliced[0].pieces[0]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Spliced[0].Pieces = []int{1, 0} }},
				{"parts[1].length", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[1].Length-- }},
				{"parts[0].right", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[0].Right = stock.End{} }},
				{"parts[0].symmetry", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[0].Symmetry = stock.SymmetryAll }},
				{"parts[0].grade", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[0].Grade = -1 }},
				{"parts[0].profile", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[0].Profile = "" }},
				{"parts[1].label", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[1].Label = "south" }},
				{"parts[1].quantity", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[1].Quantity = 2 }},
				{"parts[1].allowances", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts[1].Allowances = nil }},
				{"parts", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Parts = append(pl.Parts, pl.Parts[0]) }},
				{"patterns", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns = pl.Patterns[:1] }},
				{"patterns[0].pieces[0]", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Count = 2 }},
				{"cost", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Cost = 14 }},
			}},
		{"the yard", optimize.Problem{Sticks: []stock.Stick{long}, Kerf: inch, Rules: optimize.Rules{MaxTransport: 60 * inch, YardCut: 3}, Pieces: pieces(30, 10, 50)},
			// 30 and 10 end at 42, past the 39 from which the rest can be carried: the second part is
			// 57, of which 55 can be used.
			optimize.Plan{Cost: 10, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1, 2}, YardAfter: 2, Offcut: 4 * inch}}, Buy: []optimize.Purchase{{Count: 1, Cost: 10}}},
			[]falsified{
				{"patterns[0].offcut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Offcut = 0 }},
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].YardAfter = 1 }},
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].YardAfter = 0 }},
				{"patterns[0].pieces", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].YardAfter = 3 }},
				{"patterns[0].yard_after", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].YardAfter = -1 }},
				{"patterns[0].yard_after", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].YardAfter = 4 }},
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) { p.Rules.MaxPieces = 2 }}, // both parts are one stick
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) { p.Rules.MaxTransport = 41 * inch }},
				{"patterns[0].pieces", func(p *optimize.Problem, pl *optimize.Plan) { // as far as can be carried, but not used
					p.Pieces, p.Rules.MaxTransport, pl.Patterns[0] = pieces(98), 99*inch, optimize.Pattern{Count: 1, Pieces: []int{0}, YardAfter: 1}
				}},
				{"buy[0].cost", func(p *optimize.Problem, _ *optimize.Plan) { p.Rules.YardCut = 4 }},
				{"patterns[0].yard_after", func(p *optimize.Problem, _ *optimize.Plan) { p.Sticks[0].Rack = true }}, // at home already
				{"buy", func(p *optimize.Problem, pl *optimize.Plan) { // cannot be carried as a whole
					p.Rules.Spare, pl.Buy[0], pl.Cost = 1, optimize.Purchase{Count: 2, Cost: 17}, 17
				}},
				{"patterns[0].pieces", func(p *optimize.Problem, _ *optimize.Plan) { // one stick, but two parts of it
					p.Rules.Groups = []optimize.Group{{Kind: optimize.GroupOneStick, Pieces: []int{1, 2}}}
				}},
			}},
		{"levels in turn", optimize.Problem{Sticks: []stock.Stick{stick(50, 0), stick(50, 9)}, Kerf: inch, Pieces: pieces(20),
			Rules: optimize.Rules{Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalLongestOffcut}}},
			optimize.Plan{Proven: true, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0}, Offcut: 29 * inch}},
				Goals: []optimize.GoalResult{{Goal: optimize.GoalCost, Value: 0, Bound: 0, Proven: true}, {Goal: optimize.GoalSticks, Value: 1, Bound: 1, Proven: true}, {Goal: optimize.GoalLongestOffcut, Value: int64(29 * inch), Bound: int64(29 * inch), Proven: true}}},
			[]falsified{
				{"goals[0].proven", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[0].Proven = false }},
				{"goals[1].proven", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[1].Proven = false }},
				{"goals[2].proven", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[2].Bound++ }},
			}},
		{"levels", optimize.Problem{Sticks: []stock.Stick{stick(50, 2), {Length: 40 * inch, Rack: true, Limit: 1}}, Kerf: inch, Pieces: pieces(20, 20, 30),
			Rules: optimize.Rules{OffcutValues: []optimize.OffcutValue{{Length: 9 * inch, Value: 4}, {Length: 40 * inch, Value: 6}},
				Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalCuts, optimize.GoalOffcutValue, optimize.GoalLongestOffcut, optimize.GoalPatterns}}},
			optimize.Plan{Cost: 2, Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1}, Offcut: 8 * inch}, {Stick: 1, Count: 1, Pieces: []int{2}, Offcut: 9 * inch}},
				Goals: []optimize.GoalResult{{Goal: optimize.GoalCost, Value: 2, Bound: 0, Proven: false}, {Goal: optimize.GoalSticks, Value: 2, Bound: 1, Proven: false}, {Goal: optimize.GoalCuts, Value: 3, Bound: 0, Proven: false},
					{Goal: optimize.GoalOffcutValue, Value: -2, Bound: 9, Proven: false}, {Goal: optimize.GoalLongestOffcut, Value: int64(9 * inch), Bound: int64(9 * inch), Proven: false}, {Goal: optimize.GoalPatterns, Value: 2, Bound: 1, Proven: false}}},
			[]falsified{
				{"goals", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals = pl.Goals[:5] }},
				{"goals[1].goal", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[1].Goal = optimize.GoalCuts }},
				{"goals[0].value", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[0].Value = 1 }},
				{"goals[0].bound", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[0].Bound = 2 }}, // more than the plan's
				{"goals[1].value", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[1].Value = 1 }},
				{"goals[2].value", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[2].Value = 4 }},
				{"goals[3].value", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[3].Value = 4 }},
				{"goals[4].value", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[4].Value++ }},
				{"goals[5].value", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[5].Value = 1 }},
				{"goals[1].bound", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[1].Bound = 3 }},
				{"goals[3].bound", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[3].Bound = -3 }},
				{"goals[1].proven", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[1].Proven = true }},
				{"goals[4].proven", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals[4].Proven = true }}, // those before have gaps
				{"goals", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Goals = nil }},
			}},
	}
}

// buys completes a plan without purchases: it buys the sticks that the plan cuts, at their price or
// length.
func buys(p *optimize.Problem, plan *optimize.Plan) {
	if plan.Buy != nil {
		return
	}
	for i := range p.Sticks {
		n := 0
		for k := range plan.Patterns {
			if plan.Patterns[k].Stick == i {
				n += plan.Patterns[k].Count
			}
		}
		each := p.Sticks[i].Price
		if plan.ByLength {
			each = int64(p.Sticks[i].Length)
		}
		if n > 0 {
			plan.Buy = append(plan.Buy, optimize.Purchase{Stick: i, Count: n, Cost: int64(n) * each})
		}
	}
}

// TestCheckRules accepts plans that were worked out by hand, and refuses each change with the claim
// that it makes wrong.
func TestCheckRules(t *testing.T) {
	for k, tt := range handMade() {
		t.Run(tt.name, func(t *testing.T) {
			buys(&tt.p, &tt.plan)
			if err := optimize.Check(context.Background(), tt.p, &tt.plan); err != nil {
				t.Fatal(err)
			}
			for n := range tt.wrong {
				again := handMade()[k]
				w := again.wrong[n]
				buys(&again.p, &again.plan)
				w.spoil(&again.p, &again.plan)
				err := optimize.Check(context.Background(), again.p, &again.plan)
				var bad *optimize.CheckError
				if !errors.As(err, &bad) {
					t.Errorf("%d: error %v, want one that names %s", n, err, w.claim)
				} else if bad.Field != w.claim {
					t.Errorf("%d: %v, want one that names %s", n, err, w.claim)
				}
			}
		})
	}
}

// TestCheckRulesSpoiled spoils Solve's plans at random: those that Check still accepts cost no less
// than the optimum.
func TestCheckRulesSpoiled(t *testing.T) {
	taken, refused := 0, 0
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(99, seed))
		p := bothAdded(r.IntN(len(features)), r.IntN(len(features)), seed)
		want, ok := bruteSolve(&p)
		if !ok {
			continue
		}
		good := solveOrNil(p)
		if good == nil {
			continue
		}
		for range 40 {
			plan := clone(t, good)
			for range 1 + r.IntN(2) {
				spoilRules(r, plan)
			}
			if optimize.Check(context.Background(), p, plan) != nil {
				refused++
				continue
			}
			taken++
			if plan.Cost < want[0] || plan.Bound > want[0] {
				t.Errorf("Check accepts cost %d and bound %d, but the least is %d\n%+v\n%s", plan.Cost, plan.Bound, want[0], plan, written(&p))
			}
			for k := 1; k < min(len(want), len(plan.Goals)) && plan.Cost == want[0]; k++ {
				l := &plan.Goals[k]
				more := l.Goal == optimize.GoalOffcutValue || l.Goal == optimize.GoalLongestOffcut
				if more && l.Value > want[k] || !more && l.Value < want[k] {
					t.Errorf("Check accepts %+v, but the best is %d\n%+v\n%s", l, want[k], plan, written(&p))
				}
				if l.Value != want[k] {
					break
				}
			}
		}
	}
	if taken == 0 || refused < 100 {
		t.Errorf("%d plans accepted, %d rejected: this tests nothing", taken, refused)
	}
}

func solveOrNil(p optimize.Problem) *optimize.Plan {
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		return nil
	}
	return plan
}

// spoilRules changes one thing in a plan, and the cost along with it if the change would otherwise be
// obvious.
func spoilRules(r *rand.Rand, plan *optimize.Plan) {
	pat := &plan.Patterns[r.IntN(len(plan.Patterns))]
	j := r.IntN(len(pat.Pieces))
	switch r.IntN(14) {
	case 0:
		pat.Pieces[j] = r.IntN(5)
	case 1:
		k := r.IntN(len(pat.Pieces))
		pat.Pieces[j], pat.Pieces[k] = pat.Pieces[k], pat.Pieces[j]
	case 2:
		pat.Stick = r.IntN(3)
	case 3:
		pat.Offcut += measure.Length(r.IntN(5)-2) * u
	case 4:
		to := &plan.Patterns[r.IntN(len(plan.Patterns))]
		if to != pat && len(pat.Pieces) > 1 {
			to.Pieces = append(to.Pieces, pat.Pieces[len(pat.Pieces)-1])
			pat.Pieces = pat.Pieces[:len(pat.Pieces)-1]
		}
	case 5:
		if pat.Turned == nil {
			pat.Turned = make([]optimize.Turn, len(pat.Pieces))
		}
		if j < len(pat.Turned) {
			pat.Turned[j] = anyTurn(r)
		}
	case 6:
		if j < len(pat.Stretch) {
			pat.Stretch[j] = r.IntN(3)
		}
	case 7:
		pat.YardAfter = r.IntN(len(pat.Pieces) + 1)
	case 8, 9:
		if len(plan.Buy) > 0 {
			b := &plan.Buy[r.IntN(len(plan.Buy))]
			n := b.Count
			b.Count += r.IntN(5) - 2
			more := int64(0)
			if n > 0 {
				more = b.Cost / int64(n) * int64(b.Count-n)
			}
			b.Cost += more
			plan.Cost += more
		}
	case 10:
		plan.Cost += int64(r.IntN(5)) - 2
	case 11:
		if len(plan.Spliced) > 0 {
			s := &plan.Spliced[r.IntN(len(plan.Spliced))]
			if len(s.At) > 0 {
				s.At[r.IntN(len(s.At))] += u
			}
		}
	case 12:
		if len(plan.Parts) > 0 {
			plan.Parts[r.IntN(len(plan.Parts))].Length -= u
		}
	case 13:
		if len(plan.Goals) > 1 {
			l := &plan.Goals[1+r.IntN(len(plan.Goals)-1)]
			l.Value += int64(r.IntN(3) - 1)
			l.Bound = l.Value
		}
	}
	plan.Proven = plan.Cost == plan.Bound
	if !plan.Proven {
		plan.Stop = optimize.StopWork
	}
}
