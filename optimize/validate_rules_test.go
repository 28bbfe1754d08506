package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// soundRules is a problem with most rules that has a plan, to be spoiled in one place.
func soundRules() optimize.Problem {
	p := sound()
	p.Sticks = append(p.Sticks, stock.Stick{Label: "knotty", Length: 120 * inch, Price: 500, Limit: 2, Lot: "A",
		Defects: []stock.Defect{{From: 50 * inch, To: 52 * inch}, {From: 51 * inch, To: 60 * inch}}})
	p.Sticks[0].Breaks = []stock.PriceBreak{{From: 4, Price: 1000}, {From: 8, Price: 900}}
	p.Sticks[0].Supplier = "mill"
	p.Sticks[1].Bundle, p.Sticks[1].Minimum = 2, 2
	p.Runs = []stock.Run{{Label: "south wall", Length: 130 * inch, Splice: stock.SpliceRule{
		At: []measure.Length{40 * inch, 56 * inch, 72 * inch}, Overlap: inch, MaxSplices: 2, Price: 300, MinPart: 16 * inch}}}
	p.Rules = optimize.Rules{
		MaxPieces: 5, MinHold: 6 * inch, Spare: 1,
		Groups:       []optimize.Group{{Kind: optimize.GroupInSequence, Pieces: []int{0, 3}}},
		Charges:      []optimize.Charge{{Supplier: "mill", Amount: 2000}},
		OffcutValues: []optimize.OffcutValue{{Length: 20 * inch, Value: 50}, {Length: 40 * inch, Value: 150}},
		Goals:        []optimize.Goal{optimize.GoalCost, optimize.GoalSticks},
	}
	p.Pieces = append(p.Pieces, stock.Piece{Label: "stage side", Length: 5 * inch})
	return p
}

// nested is soundRules with ends that nest.
func nested(p *optimize.Problem) {
	p.Rules.Nest = true
	p.Pieces[0].Left = stock.End{Kind: stock.EndOutsideMiter, Setback: inch}
}

// carried makes the second stick one that is cut in the yard.
func carried(p *optimize.Problem) {
	p.Rules = optimize.Rules{MaxTransport: 120 * inch, YardCut: 200}
}

func TestBadRules(t *testing.T) {
	const top = math.MaxInt64
	if p := soundRules(); errors.Is(solveErr(p), optimize.ErrProblem) {
		t.Fatal(solveErr(p))
	}
	tests := []struct {
		name  string
		spoil func(p *optimize.Problem)
		field string
	}{
		{"bundle", func(p *optimize.Problem) { p.Sticks[1].Bundle = -1 }, "Sticks[1].Bundle"},
		{"bundle of too many", func(p *optimize.Problem) { p.Sticks[0].Bundle = math.MaxInt32 }, "Sticks[0].Bundle"},
		{"bundle beyond the limit", func(p *optimize.Problem) { p.Sticks[1].Bundle = 3 }, "Sticks[1].Bundle"},
		{"minimum", func(p *optimize.Problem) { p.Sticks[1].Minimum = math.MinInt32 }, "Sticks[1].Minimum"},
		{"minimum of too many", func(p *optimize.Problem) { p.Sticks[0].Minimum = math.MaxInt32 }, "Sticks[0].Minimum"},
		{"minimum beyond the limit", func(p *optimize.Problem) { p.Sticks[1].Minimum = 3 }, "Sticks[1].Minimum"},
		{"break from one", func(p *optimize.Problem) { p.Sticks[0].Breaks[0].From = 1 }, "Sticks[0].Breaks[0].From"},
		{"break from nowhere", func(p *optimize.Problem) { p.Sticks[0].Breaks[0].From = -5 }, "Sticks[0].Breaks[0].From"},
		{"breaks that descend", func(p *optimize.Problem) { p.Sticks[0].Breaks[1].From = 4 }, "Sticks[0].Breaks[1].From"},
		{"break from too many", func(p *optimize.Problem) { p.Sticks[0].Breaks[1].From = math.MaxInt32 }, "Sticks[0].Breaks[1].From"},
		{"negative break price", func(p *optimize.Problem) { p.Sticks[0].Breaks[1].Price = -1 }, "Sticks[0].Breaks[1].Price"},

		{"defect before the start", func(p *optimize.Problem) { p.Sticks[2].Defects[0].From = -1 }, "Sticks[2].Defects[0].From"},
		{"defect behind the end", func(p *optimize.Problem) { p.Sticks[2].Defects[1] = stock.Defect{From: 120 * inch, To: 121 * inch} }, "Sticks[2].Defects[1].From"},
		{"defect over the end", func(p *optimize.Problem) { p.Sticks[2].Defects[1].To = 121 * inch }, "Sticks[2].Defects[1].To"},
		{"defect of no length", func(p *optimize.Problem) { p.Sticks[2].Defects[1].To = 51 * inch }, "Sticks[2].Defects[1].To"},
		{"defect that runs backwards", func(p *optimize.Problem) { p.Sticks[2].Defects[1].To = math.MinInt64 }, "Sticks[2].Defects[1].To"},
		{"defects without a limit", func(p *optimize.Problem) { p.Sticks[2].Limit = 0 }, "Sticks[2].Limit"},
		{"defects of too many sticks", func(p *optimize.Problem) { p.Sticks[2].Limit = math.MaxInt32 }, "Sticks[2].Limit"},
		{"nothing but defects", func(p *optimize.Problem) {
			p.Sticks[2].Defects = []stock.Defect{{From: 60 * inch, To: 120 * inch}, {From: 0, To: 60 * inch}}
		}, "Sticks[2].Defects"},
		{"defects and the ends", func(p *optimize.Problem) {
			p.Sticks[2].TrimStart, p.Sticks[2].Defects = inch, []stock.Defect{{From: inch / 2, To: 120 * inch}}
		}, "Sticks[2].Defects"},

		{"run of no length", func(p *optimize.Problem) { p.Runs[0].Length = 0 }, "Runs[0].Length"},
		{"run of negative length", func(p *optimize.Problem) { p.Runs[0].Length = math.MinInt64 }, "Runs[0].Length"},
		{"run beyond what is summed", func(p *optimize.Problem) { p.Runs[0].Length = top }, "Runs[0].Length"},
		{"spliced anywhere", func(p *optimize.Problem) { p.Runs[0].Splice.Anywhere = true }, "Runs[0].Splice.Anywhere"},
		{"splices", func(p *optimize.Problem) { p.Runs[0].Splice.MaxSplices = -1 }, "Runs[0].Splice.MaxSplices"},
		{"price of a splice", func(p *optimize.Problem) { p.Runs[0].Splice.Price = -1 }, "Runs[0].Splice.Price"},
		{"least part", func(p *optimize.Problem) { p.Runs[0].Splice.MinPart = -1 }, "Runs[0].Splice.MinPart"},
		{"clear of the ends", func(p *optimize.Problem) { p.Runs[0].Splice.Clear = -1 }, "Runs[0].Splice.Clear"},
		{"endlessly clear of the ends", func(p *optimize.Problem) { p.Runs[0].Splice.Clear = top }, "Runs[0].Splice.Clear"},
		{"overlap", func(p *optimize.Problem) { p.Runs[0].Splice.Overlap = math.MinInt64 }, "Runs[0].Splice.Overlap"},
		{"splice at the start", func(p *optimize.Problem) { p.Runs[0].Splice.At[0] = 0 }, "Runs[0].Splice.At[0]"},
		{"splice at the end", func(p *optimize.Problem) { p.Runs[0].Splice.At[2] = 130 * inch }, "Runs[0].Splice.At[2]"},
		{"two splices at one place", func(p *optimize.Problem) { p.Runs[0].Splice.At[1] = 40 * inch }, "Runs[0].Splice.At[1]"},
		{"run of another profile", func(p *optimize.Problem) { p.Sticks[0].Profile, p.Runs[0].Profile = "base", "crown" }, "Runs[0].Profile"},

		{"most", func(p *optimize.Problem) { p.Rules.MaxPieces = -1 }, "Rules.MaxPieces"},
		{"hold", func(p *optimize.Problem) { p.Rules.MinHold = -1 }, "Rules.MinHold"},
		{"hold out of range", func(p *optimize.Problem) { p.Rules.MinHold = top }, "Rules.MinHold"},
		{"transport", func(p *optimize.Problem) { p.Rules.MaxTransport = -1 }, "Rules.MaxTransport"},
		{"transport out of range", func(p *optimize.Problem) { p.Rules = optimize.Rules{MaxTransport: top} }, "Rules.MaxTransport"},
		{"yard cut", func(p *optimize.Problem) { p.Rules.YardCut = -1 }, "Rules.YardCut"},
		{"yard cut of nothing", func(p *optimize.Problem) { p.Rules.YardCut = 1 }, "Rules.YardCut"},
		{"spare", func(p *optimize.Problem) { p.Rules.Spare = -1 }, "Rules.Spare"},
		{"too many spares", func(p *optimize.Problem) { p.Rules.Spare = math.MaxInt32 }, "Rules.Spare"},
		{"charge by nobody", func(p *optimize.Problem) { p.Rules.Charges[0].Supplier = "" }, "Rules.Charges[0].Supplier"},
		{"two charges", func(p *optimize.Problem) { p.Rules.Charges = append(p.Rules.Charges, p.Rules.Charges[0]) }, "Rules.Charges[1].Supplier"},
		{"negative charge", func(p *optimize.Problem) { p.Rules.Charges[0].Amount = -1 }, "Rules.Charges[0].Amount"},
		{"charge out of range", func(p *optimize.Problem) { p.Rules.Charges[0].Amount = top }, "Sticks"},
		{"worth of no length", func(p *optimize.Problem) { p.Rules.OffcutValues[0].Length = 0 }, "Rules.OffcutValues[0].Length"},
		{"worth nothing", func(p *optimize.Problem) { p.Rules.OffcutValues[0].Value = 0 }, "Rules.OffcutValues[0].Value"},
		{"lengths of worth descend", func(p *optimize.Problem) { p.Rules.OffcutValues[1].Length = 20 * inch }, "Rules.OffcutValues[1].Length"},
		{"values of worth descend", func(p *optimize.Problem) { p.Rules.OffcutValues[1].Value = 50 }, "Rules.OffcutValues[1].Value"},
		{"worth everything", func(p *optimize.Problem) { p.Rules.OffcutValues[1].Value = top }, "Rules.OffcutValues[1].Value"},

		{"group of no kind", func(p *optimize.Problem) { p.Rules.Groups[0].Kind = 9 }, "Rules.Groups[0].Kind"},
		{"group of nothing", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = nil }, "Rules.Groups[0].Pieces"},
		{"group of one", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0} }, "Rules.Groups[0].Pieces"},
		{"group of one piece twice", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0, 0} }, "Rules.Groups[0].Pieces[1]"},
		{"group of a piece that is not there", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0, 4} }, "Rules.Groups[0].Pieces[1]"},
		{"group of a negative piece", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{-1, 0} }, "Rules.Groups[0].Pieces[0]"},
		{"piece in two groups", func(p *optimize.Problem) {
			p.Rules.Groups = append(p.Rules.Groups, optimize.Group{Kind: optimize.GroupOneLot, Pieces: []int{1, 3}})
		}, "Rules.Groups[1].Pieces[1]"},
		{"sets of unequal number", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0, 1} }, "Rules.Groups[0].Pieces[1]"},
		{"one stick where ends nest", func(p *optimize.Problem) { nested(p); p.Rules.Groups[0].Kind = optimize.GroupOneStick }, "Rules.Groups[0].Kind"},

		{"one stick, begun", func(p *optimize.Problem) { p.Rules.Groups[0].Started = true }, "Rules.Groups[0].Started"},
		{"a lot that is not begun", func(p *optimize.Problem) {
			p.Rules.Groups[0] = optimize.Group{Kind: optimize.GroupOneLot, Pieces: []int{0, 1}, Lot: "A"}
		}, "Rules.Groups[0].Lot"},
		{"begun and done", func(p *optimize.Problem) {
			p.Rules.Groups[0] = optimize.Group{Kind: optimize.GroupOneLot, Started: true}
		}, "Rules.Groups[0].Pieces"},

		{"goal of no name", func(p *optimize.Problem) { p.Rules.Goals[1] = 17 }, "Rules.Goals[1]"},
		{"cost not first", func(p *optimize.Problem) { p.Rules.Goals = p.Rules.Goals[1:] }, "Rules.Goals[0]"},
		{"goal twice", func(p *optimize.Problem) { p.Rules.Goals = append(p.Rules.Goals, optimize.GoalSticks) }, "Rules.Goals[2]"},
		{"worth without steps", func(p *optimize.Problem) {
			p.Sticks[2].Defects, p.Rules.OffcutValues, p.Rules.Goals[1] = nil, nil, optimize.GoalOffcutValue
		}, "Rules.Goals[1]"},

		{"yard and nest", func(p *optimize.Problem) { carried(p); nested(p) }, "Sticks[1].Length"},
		{"yard and defects", func(p *optimize.Problem) {
			carried(p)
			p.Rules.MaxTransport = 100 * inch
			p.Sticks[1].Length = 99 * inch
		}, "Sticks[2].Length"},
		{"yard and cuts", func(p *optimize.Problem) {
			carried(p)
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalCuts}
		}, "Sticks[1].Length"},
		{"carried ends only", func(p *optimize.Problem) { carried(p); p.Rules.MaxTransport = inch / 2; p.Sticks = p.Sticks[1:2] }, "Rules.MaxTransport"},

		{"setback beyond the piece", func(p *optimize.Problem) { nested(p); p.Pieces[0].Left.Setback = top }, "Pieces[0].Left.Setback"},
		{"setback before the end", func(p *optimize.Problem) { nested(p); p.Pieces[0].Right.Setback = -1 }, "Pieces[0].Right.Setback"},
		{"setback beyond the run", func(p *optimize.Problem) { nested(p); p.Runs[0].Right.Setback = top }, "Runs[0].Right.Setback"},
		{"setback before the run's end", func(p *optimize.Problem) { nested(p); p.Runs[0].Left.Setback = math.MinInt64 }, "Runs[0].Left.Setback"},
		{"cuts that cross", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[0].Left.Setback = p.Pieces[0].Length - inch
			p.Pieces[0].Right = stock.End{Kind: stock.EndOutsideMiter, Setback: inch + 1}
		}, "Pieces[0].Right.Setback"},
		{"cuts that leave nothing", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[0].Left.Setback = p.Pieces[0].Length
			p.Pieces[0].Right = stock.End{Kind: stock.EndCope, Setback: p.Pieces[0].Length}
		}, "Pieces[0].Right.Setback"},
		{"cuts that cross in two planes", func(p *optimize.Problem) {
			nested(p)
			p.Runs[0].Left = stock.End{Kind: stock.EndFlatMiter, Setback: p.Runs[0].Length}
			p.Runs[0].Right = stock.End{Kind: stock.EndCope, Setback: 1}
		}, "Runs[0].Right.Setback"},
		{"corner beyond straight", func(p *optimize.Problem) { nested(p); p.Pieces[0].Left.Angle = 180 * measure.Degree }, "Pieces[0].Left.Angle"},
		{"corner below nothing", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[1].Right = stock.End{Kind: stock.EndButt, Angle: -1}
		}, "Pieces[1].Right.Angle"},
		{"scarf along the piece", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[1].Right = stock.End{Kind: stock.EndScarfUnder, Angle: 90 * measure.Degree}
		}, "Pieces[1].Right.Angle"},
		{"corner that all but folds back", func(p *optimize.Problem) {
			nested(p)
			p.Kerf = 1000 * inch
			p.Pieces[0].Left.Angle = 1
		}, "Pieces[0].Left.Angle"},
		{"splice all but along the run", func(p *optimize.Problem) {
			nested(p)
			p.Kerf, p.Runs[0].Splice.Bevel = 1000*inch, 90*measure.Degree-1
		}, "Runs[0].Splice.Bevel"},
		{"group beyond what is summed", func(p *optimize.Problem) {
			p.Rules.Groups[0] = optimize.Group{Kind: optimize.GroupInSequence}
			for len(p.Pieces) < 40 {
				p.Rules.Groups[0].Pieces = append(p.Rules.Groups[0].Pieces, len(p.Pieces))
				p.Pieces = append(p.Pieces, stock.Piece{Label: fmt.Sprint("long ", len(p.Pieces)), Length: 1 << 58})
			}
		}, "Pieces"},
		{"splice along the run", func(p *optimize.Problem) { nested(p); p.Runs[0].Splice.Bevel = 90 * measure.Degree }, "Runs[0].Splice.Bevel"},
		{"end of no kind", func(p *optimize.Problem) { nested(p); p.Pieces[1].Right.Kind = 99 }, "Pieces[1].Right.Kind"},
		{"run's end of no kind", func(p *optimize.Problem) { nested(p); p.Runs[0].Left.Kind = 99 }, "Runs[0].Left.Kind"},
		{"symmetry of no name", func(p *optimize.Problem) { nested(p); p.Pieces[1].Symmetry = 3 }, "Pieces[1].Symmetry"},
		{"stick beyond what is doubled", func(p *optimize.Problem) { p.Sticks[0].Length = 1 << 60 }, "Sticks[0].Length"},
		{"piece beyond what is doubled", func(p *optimize.Problem) { p.Pieces[0].Length = 1 << 60 }, "Pieces[0].Length"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := soundRules()
			tt.spoil(&p)
			err := solveErr(p)
			var bad *optimize.ProblemError
			if !errors.As(err, &bad) || !errors.Is(err, optimize.ErrProblem) {
				t.Fatalf("error %v, want one that names %s", err, tt.field)
			}
			if bad.Field != tt.field || bad.Value == "" || bad.Want == "" {
				t.Errorf("%+v, want field %s", bad, tt.field)
			}
			if !strings.Contains(err.Error(), tt.field) {
				t.Errorf("%q does not name %s", err, tt.field)
			}
			// Check sees it too, but for sums that only compiling makes.
			if err := optimize.Check(context.Background(), p, &optimize.Plan{}); !errors.Is(err, optimize.ErrProblem) && tt.field != "Sticks" && tt.field != "Pieces" {
				t.Errorf("Check: %v", err)
			}
		})
	}
}

func solveErr(p optimize.Problem) error {
	_, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
	return err
}
