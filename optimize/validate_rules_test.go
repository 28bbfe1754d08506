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
	if p := soundRules(); errors.As(solveErr(p), new(*measure.FieldError)) {
		t.Fatal(solveErr(p))
	}
	tests := []struct {
		name  string
		spoil func(p *optimize.Problem)
		field string
	}{
		{"bundle", func(p *optimize.Problem) { p.Sticks[1].Bundle = -1 }, "sticks[1].bundle"},
		{"bundle of too many", func(p *optimize.Problem) { p.Sticks[0].Bundle = math.MaxInt32 }, "sticks[0].bundle"},
		{"bundle beyond the limit", func(p *optimize.Problem) { p.Sticks[1].Bundle = 3 }, "sticks[1].bundle"},
		{"minimum", func(p *optimize.Problem) { p.Sticks[1].Minimum = math.MinInt32 }, "sticks[1].minimum"},
		{"minimum of too many", func(p *optimize.Problem) { p.Sticks[0].Minimum = math.MaxInt32 }, "sticks[0].minimum"},
		{"minimum beyond the limit", func(p *optimize.Problem) { p.Sticks[1].Minimum = 3 }, "sticks[1].minimum"},
		{"break from one", func(p *optimize.Problem) { p.Sticks[0].Breaks[0].From = 1 }, "sticks[0].breaks[0].from"},
		{"break from nowhere", func(p *optimize.Problem) { p.Sticks[0].Breaks[0].From = -5 }, "sticks[0].breaks[0].from"},
		{"breaks that descend", func(p *optimize.Problem) { p.Sticks[0].Breaks[1].From = 4 }, "sticks[0].breaks[1].from"},
		{"break from too many", func(p *optimize.Problem) { p.Sticks[0].Breaks[1].From = math.MaxInt32 }, "sticks[0].breaks[1].from"},
		{"negative break price", func(p *optimize.Problem) { p.Sticks[0].Breaks[1].Price = -1 }, "sticks[0].breaks[1].price"},

		{"defect before the start", func(p *optimize.Problem) { p.Sticks[2].Defects[0].From = -1 }, "sticks[2].defects[0].from"},
		{"defect behind the end", func(p *optimize.Problem) { p.Sticks[2].Defects[1] = stock.Defect{From: 120 * inch, To: 121 * inch} }, "sticks[2].defects[1].from"},
		{"defect over the end", func(p *optimize.Problem) { p.Sticks[2].Defects[1].To = 121 * inch }, "sticks[2].defects[1].to"},
		{"defect of no length", func(p *optimize.Problem) { p.Sticks[2].Defects[1].To = 51 * inch }, "sticks[2].defects[1].to"},
		{"defect that runs backwards", func(p *optimize.Problem) { p.Sticks[2].Defects[1].To = math.MinInt64 }, "sticks[2].defects[1].to"},
		{"defects without a limit", func(p *optimize.Problem) { p.Sticks[2].Limit = 0 }, "sticks[2].limit"},
		{"defects of too many sticks", func(p *optimize.Problem) { p.Sticks[2].Limit = math.MaxInt32 }, "sticks[2].limit"},
		{"nothing but defects", func(p *optimize.Problem) {
			p.Sticks[2].Defects = []stock.Defect{{From: 60 * inch, To: 120 * inch}, {From: 0, To: 60 * inch}}
		}, "sticks[2].defects"},
		{"defects and the ends", func(p *optimize.Problem) {
			p.Sticks[2].TrimStart, p.Sticks[2].Defects = inch, []stock.Defect{{From: inch / 2, To: 120 * inch}}
		}, "sticks[2].defects"},

		{"run of no length", func(p *optimize.Problem) { p.Runs[0].Length = 0 }, "runs[0].length"},
		{"run of negative length", func(p *optimize.Problem) { p.Runs[0].Length = math.MinInt64 }, "runs[0].length"},
		{"run beyond what is summed", func(p *optimize.Problem) { p.Runs[0].Length = top }, "runs[0].length"},
		{"spliced anywhere", func(p *optimize.Problem) { p.Runs[0].Splice.Anywhere = true }, "runs[0].splice.anywhere"},
		{"splices", func(p *optimize.Problem) { p.Runs[0].Splice.MaxSplices = -1 }, "runs[0].splice.max_splices"},
		{"price of a splice", func(p *optimize.Problem) { p.Runs[0].Splice.Price = -1 }, "runs[0].splice.price"},
		{"least part", func(p *optimize.Problem) { p.Runs[0].Splice.MinPart = -1 }, "runs[0].splice.min_part"},
		{"clear of the ends", func(p *optimize.Problem) { p.Runs[0].Splice.Clear = -1 }, "runs[0].splice.clear"},
		{"endlessly clear of the ends", func(p *optimize.Problem) { p.Runs[0].Splice.Clear = top }, "runs[0].splice.clear"},
		{"overlap", func(p *optimize.Problem) { p.Runs[0].Splice.Overlap = math.MinInt64 }, "runs[0].splice.overlap"},
		{"splice at the start", func(p *optimize.Problem) { p.Runs[0].Splice.At[0] = 0 }, "runs[0].splice.at[0]"},
		{"splice at the end", func(p *optimize.Problem) { p.Runs[0].Splice.At[2] = 130 * inch }, "runs[0].splice.at[2]"},
		{"two splices at one place", func(p *optimize.Problem) { p.Runs[0].Splice.At[1] = 40 * inch }, "runs[0].splice.at[1]"},
		{"run of another profile", func(p *optimize.Problem) { p.Sticks[0].Profile, p.Runs[0].Profile = "base", "crown" }, "runs[0].profile"},

		{"most", func(p *optimize.Problem) { p.Rules.MaxPieces = -1 }, "rules.max_pieces"},
		{"hold", func(p *optimize.Problem) { p.Rules.MinHold = -1 }, "rules.min_hold"},
		{"hold out of range", func(p *optimize.Problem) { p.Rules.MinHold = top }, "rules.min_hold"},
		{"transport", func(p *optimize.Problem) { p.Rules.MaxTransport = -1 }, "rules.max_transport"},
		{"transport out of range", func(p *optimize.Problem) { p.Rules = optimize.Rules{MaxTransport: top} }, "rules.max_transport"},
		{"yard cut", func(p *optimize.Problem) { p.Rules.YardCut = -1 }, "rules.yard_cut"},
		{"yard cut of nothing", func(p *optimize.Problem) { p.Rules.YardCut = 1 }, "rules.yard_cut"},
		{"spare", func(p *optimize.Problem) { p.Rules.Spare = -1 }, "rules.spare"},
		{"too many spares", func(p *optimize.Problem) { p.Rules.Spare = math.MaxInt32 }, "rules.spare"},
		{"charge by nobody", func(p *optimize.Problem) { p.Rules.Charges[0].Supplier = "" }, "rules.charges[0].supplier"},
		{"two charges", func(p *optimize.Problem) { p.Rules.Charges = append(p.Rules.Charges, p.Rules.Charges[0]) }, "rules.charges[1].supplier"},
		{"negative charge", func(p *optimize.Problem) { p.Rules.Charges[0].Amount = -1 }, "rules.charges[0].amount"},
		{"charge out of range", func(p *optimize.Problem) { p.Rules.Charges[0].Amount = top }, "sticks"},
		{"worth of no length", func(p *optimize.Problem) { p.Rules.OffcutValues[0].Length = 0 }, "rules.offcut_values[0].length"},
		{"worth nothing", func(p *optimize.Problem) { p.Rules.OffcutValues[0].Value = 0 }, "rules.offcut_values[0].value"},
		{"lengths of worth descend", func(p *optimize.Problem) { p.Rules.OffcutValues[1].Length = 20 * inch }, "rules.offcut_values[1].length"},
		{"values of worth descend", func(p *optimize.Problem) { p.Rules.OffcutValues[1].Value = 50 }, "rules.offcut_values[1].value"},
		{"worth everything", func(p *optimize.Problem) { p.Rules.OffcutValues[1].Value = top }, "rules.offcut_values[1].value"},

		{"group of no kind", func(p *optimize.Problem) { p.Rules.Groups[0].Kind = 9 }, "rules.groups[0].kind"},
		{"group of nothing", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = nil }, "rules.groups[0].pieces"},
		{"group of one", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0} }, "rules.groups[0].pieces"},
		{"group of one piece twice", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0, 0} }, "rules.groups[0].pieces[1]"},
		{"group of a piece that is not there", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0, 4} }, "rules.groups[0].pieces[1]"},
		{"group of a negative piece", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{-1, 0} }, "rules.groups[0].pieces[0]"},
		{"piece in two groups", func(p *optimize.Problem) {
			p.Rules.Groups = append(p.Rules.Groups, optimize.Group{Kind: optimize.GroupOneLot, Pieces: []int{1, 3}})
		}, "rules.groups[1].pieces[1]"},
		{"sets of unequal number", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces = []int{0, 1} }, "rules.groups[0].pieces[1]"},
		{"one stick where ends nest", func(p *optimize.Problem) { nested(p); p.Rules.Groups[0].Kind = optimize.GroupOneStick }, "rules.groups[0].kind"},

		{"one stick, begun", func(p *optimize.Problem) { p.Rules.Groups[0].Started = true }, "rules.groups[0].started"},
		{"a lot that is not begun", func(p *optimize.Problem) {
			p.Rules.Groups[0] = optimize.Group{Kind: optimize.GroupOneLot, Pieces: []int{0, 3}, Lot: "A"}
		}, "rules.groups[0].lot"},
		{"begun and done", func(p *optimize.Problem) {
			p.Rules.Groups[0] = optimize.Group{Kind: optimize.GroupOneLot, Started: true}
		}, "rules.groups[0].pieces"},

		{"goal of no name", func(p *optimize.Problem) { p.Rules.Goals[1] = 17 }, "rules.goals[1]"},
		{"cost not first", func(p *optimize.Problem) { p.Rules.Goals = p.Rules.Goals[1:] }, "rules.goals[0]"},
		{"goal twice", func(p *optimize.Problem) { p.Rules.Goals = append(p.Rules.Goals, optimize.GoalSticks) }, "rules.goals[2]"},
		{"worth without steps", func(p *optimize.Problem) {
			p.Sticks[2].Defects, p.Rules.OffcutValues, p.Rules.Goals[1] = nil, nil, optimize.GoalOffcutValue
		}, "rules.goals[1]"},

		{"yard and nest", func(p *optimize.Problem) { carried(p); nested(p) }, "sticks[1].length"},
		{"yard and defects", func(p *optimize.Problem) {
			carried(p)
			p.Rules.MaxTransport = 100 * inch
			p.Sticks[1].Length = 99 * inch
		}, "sticks[2].length"},
		{"yard and cuts", func(p *optimize.Problem) {
			carried(p)
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalCuts}
		}, "sticks[1].length"},
		{"carried ends only", func(p *optimize.Problem) { carried(p); p.Rules.MaxTransport = inch / 2; p.Sticks = p.Sticks[1:2] }, "rules.max_transport"},

		{"setback beyond the piece", func(p *optimize.Problem) { nested(p); p.Pieces[0].Left.Setback = top }, "pieces[0].left.setback"},
		{"setback before the end", func(p *optimize.Problem) { nested(p); p.Pieces[0].Right.Setback = -1 }, "pieces[0].right.setback"},
		{"setback beyond the run", func(p *optimize.Problem) { nested(p); p.Runs[0].Right.Setback = top }, "runs[0].right.setback"},
		{"setback before the run's end", func(p *optimize.Problem) { nested(p); p.Runs[0].Left.Setback = math.MinInt64 }, "runs[0].left.setback"},
		{"cuts that cross", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[0].Left.Setback = p.Pieces[0].Length - inch
			p.Pieces[0].Right = stock.End{Kind: stock.EndOutsideMiter, Setback: inch + 1}
		}, "pieces[0].right.setback"},
		{"cuts that leave nothing", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[0].Left.Setback = p.Pieces[0].Length
			p.Pieces[0].Right = stock.End{Kind: stock.EndCope, Setback: p.Pieces[0].Length}
		}, "pieces[0].right.setback"},
		{"cuts that cross in two planes", func(p *optimize.Problem) {
			nested(p)
			p.Runs[0].Left = stock.End{Kind: stock.EndFlatMiter, Setback: p.Runs[0].Length}
			p.Runs[0].Right = stock.End{Kind: stock.EndCope, Setback: 1}
		}, "runs[0].right.setback"},
		{"corner beyond straight", func(p *optimize.Problem) { nested(p); p.Pieces[0].Left.Angle = 180 * measure.Degree }, "pieces[0].left.angle"},
		{"corner below nothing", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[1].Right = stock.End{Kind: stock.EndButt, Angle: -1}
		}, "pieces[1].right.angle"},
		{"scarf along the piece", func(p *optimize.Problem) {
			nested(p)
			p.Pieces[1].Right = stock.End{Kind: stock.EndScarfUnder, Angle: 90 * measure.Degree}
		}, "pieces[1].right.angle"},
		{"corner that all but folds back", func(p *optimize.Problem) {
			nested(p)
			p.Kerf = 1000 * inch
			p.Pieces[0].Left.Angle = 1
		}, "pieces[0].left.angle"},
		{"splice all but along the run", func(p *optimize.Problem) {
			nested(p)
			p.Kerf, p.Runs[0].Splice.Bevel = 1000*inch, 90*measure.Degree-1
		}, "runs[0].splice.bevel"},
		{"group beyond what is summed", func(p *optimize.Problem) {
			p.Rules.Groups[0] = optimize.Group{Kind: optimize.GroupInSequence}
			for len(p.Pieces) < 40 {
				p.Rules.Groups[0].Pieces = append(p.Rules.Groups[0].Pieces, len(p.Pieces))
				p.Pieces = append(p.Pieces, stock.Piece{Label: fmt.Sprint("long ", len(p.Pieces)), Length: 1 << 58})
			}
		}, "pieces"},
		{"splice along the run", func(p *optimize.Problem) { nested(p); p.Runs[0].Splice.Bevel = 90 * measure.Degree }, "runs[0].splice.bevel"},
		{"end of no kind", func(p *optimize.Problem) { nested(p); p.Pieces[1].Right.Kind = 99 }, "pieces[1].right.kind"},
		{"run's end of no kind", func(p *optimize.Problem) { nested(p); p.Runs[0].Left.Kind = 99 }, "runs[0].left.kind"},
		{"symmetry of no name", func(p *optimize.Problem) { nested(p); p.Pieces[1].Symmetry = 3 }, "pieces[1].symmetry"},
		{"stick beyond what is doubled", func(p *optimize.Problem) { p.Sticks[0].Length = 1 << 60 }, "sticks[0].length"},
		{"piece beyond what is doubled", func(p *optimize.Problem) { p.Pieces[0].Length = 1 << 60 }, "pieces[0].length"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := soundRules()
			tt.spoil(&p)
			err := solveErr(p)
			var bad *measure.FieldError
			if !errors.As(err, &bad) {
				t.Fatalf("error %v, want one that names %s", err, tt.field)
			}
			if bad.Field != tt.field || bad.Value == "" && !strings.HasSuffix(tt.field, ".supplier") || bad.Want == "" {
				t.Errorf("%+v, want field %s", bad, tt.field)
			}
			if !strings.Contains(err.Error(), tt.field) {
				t.Errorf("%q does not name %s", err, tt.field)
			}
			// Check sees it too, but for sums that only compiling makes.
			if err := optimize.Check(context.Background(), p, &optimize.Plan{}); !errors.As(err, new(*measure.FieldError)) && tt.field != "sticks" && tt.field != "pieces" {
				t.Errorf("Check: %v", err)
			}
		})
	}
}

func solveErr(p optimize.Problem) error {
	_, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
	return err
}
