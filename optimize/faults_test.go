package optimize_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func fieldsOf(err error) []string {
	var fields []string
	for e := range measure.FieldErrors(err) {
		fields = append(fields, e.Field)
	}
	return fields
}

// All faults are reported at once, in the order of the data, and consequences of a fault are not
// reported beside it.
func TestAllFaultsAtOnce(t *testing.T) {
	p := soundRules()
	p.Sticks[0].Length, p.Sticks[0].TrimEnd, p.Sticks[0].Price = 0, inch, -1 // an end of no stick is no second fault
	p.Sticks[0].Breaks[0].From = 9                                           // and neither is the field that must exceed it
	p.Sticks[1].TrimStart, p.Sticks[1].TrimEnd = -1, 200*inch
	p.Sticks[1].Profile, p.Pieces[2].Profile = "base", "crown"
	p.Sticks[2].Limit, p.Sticks[2].Bundle = -7, 3
	p.Sticks[2].Defects[0].To = 0
	p.Pieces[1].Quantity = -4
	p.Runs[0].Splice.At = []measure.Length{20 * inch, 10 * inch, 5 * inch, 4 * inch}
	p.Kerf = -1
	p.Rules.Groups = append(p.Rules.Groups, optimize.Group{Kind: 9, Pieces: []int{2, 99}})
	p.Rules.Charges[0].Supplier = ""
	p.Rules.OffcutValues[0].Length = -1
	p.Rules.Goals = []optimize.Goal{optimize.GoalCost, 99, optimize.GoalCost}
	want := []string{
		"sticks[0].length", "sticks[0].price", "sticks[0].breaks[1].from",
		"sticks[1].trim_start",
		"sticks[2].limit", "sticks[2].defects[0].to",
		"pieces[1].quantity", "pieces[2].profile",
		"kerf",
		"runs[0].splice.at[1]", "runs[0].splice.at[3]",
		"rules.groups[1].kind", "rules.groups[1].pieces[1]",
		"rules.charges[0].supplier", "rules.offcut_values[0].length", "rules.goals[1]", "rules.goals[2]",
	}
	if got := fieldsOf(p.Validate()); !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if got := fieldsOf(solveErr(p)); !slices.Equal(got, want) {
		t.Errorf("Solve: %q", got)
	}
}

// spoils are ways of making one field wrong, each by itself, and the field.
var spoils = []struct {
	field string
	spoil func(*optimize.Problem)
}{
	{"sticks[0].price", func(p *optimize.Problem) { p.Sticks[0].Price = math.MinInt64 }},
	{"sticks[0].trim_start", func(p *optimize.Problem) { p.Sticks[0].TrimStart = -1 }},
	{"sticks[0].bundle", func(p *optimize.Problem) { p.Sticks[0].Bundle = -1 }},
	{"sticks[0].breaks[1].price", func(p *optimize.Problem) { p.Sticks[0].Breaks[1].Price = -1 }},
	{"sticks[1].length", func(p *optimize.Problem) { p.Sticks[1].Length = 0 }},
	{"sticks[1].trim_end", func(p *optimize.Problem) { p.Sticks[1].TrimEnd = -1 }},
	{"sticks[1].nominal", func(p *optimize.Problem) { p.Sticks[1].Nominal = -1 }},
	{"sticks[1].minimum", func(p *optimize.Problem) { p.Sticks[1].Minimum = -5 }},
	{"sticks[2].limit", func(p *optimize.Problem) { p.Sticks[2].Limit = 0 }},
	{"sticks[2].trim_start", func(p *optimize.Problem) { p.Sticks[2].TrimStart = -1 }},
	{"sticks[2].profile", func(p *optimize.Problem) { p.Sticks[0].Profile, p.Sticks[2].Profile = "base", "crown" }},
	{"sticks[2].defects[0].from", func(p *optimize.Problem) { p.Sticks[2].Defects[0].From = -1 }},
	{"pieces[0].quantity", func(p *optimize.Problem) { p.Pieces[0].Quantity = -1 }},
	{"pieces[2].length", func(p *optimize.Problem) { p.Pieces[2].Length = math.MinInt64 }},
	{"kerf", func(p *optimize.Problem) { p.Kerf = math.MaxInt64 }},
	{"runs[0].length", func(p *optimize.Problem) { p.Runs[0].Length = -1 }},
	{"runs[0].splice.anywhere", func(p *optimize.Problem) { p.Runs[0].Splice.Anywhere = true }},
	{"runs[0].splice.overlap", func(p *optimize.Problem) { p.Runs[0].Splice.Overlap = math.MaxInt64 }},
	{"runs[0].splice.max_splices", func(p *optimize.Problem) { p.Runs[0].Splice.MaxSplices = -1 }},
	{"min_remnant", func(p *optimize.Problem) { p.MinRemnant = math.MinInt64 }},
	{"rules.max_pieces", func(p *optimize.Problem) { p.Rules.MaxPieces = -1 }},
	{"rules.min_hold", func(p *optimize.Problem) { p.Rules.MinHold = -1 }},
	{"rules.yard_cut", func(p *optimize.Problem) { p.Rules.YardCut = 5 }},
	{"rules.groups[0].pieces[1]", func(p *optimize.Problem) { p.Rules.Groups[0].Pieces[1] = 77 }},
	{"rules.charges[0].amount", func(p *optimize.Problem) { p.Rules.Charges[0].Amount = -1 }},
	{"rules.spare", func(p *optimize.Problem) { p.Rules.Spare = -1 }},
	{"rules.offcut_values[1].value", func(p *optimize.Problem) { p.Rules.OffcutValues[1].Value = 0 }},
	{"rules.goals[1]", func(p *optimize.Problem) { p.Rules.Goals[1] = 200 }},
}

// Any set of faults that have nothing to do with each other is reported whole and in order.
func TestAnyFaultsAtOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := soundRules()
		var want []string
		for _, s := range spoils {
			if rapid.Bool().Draw(t, s.field) {
				s.spoil(&p)
				want = append(want, s.field)
			}
		}
		if got := fieldsOf(p.Validate()); !slices.Equal(got, want) {
			t.Fatalf("got  %q\nwant %q", got, want)
		}
	})
}

// Of more than a hundred faults the first hundred are reported.
func TestTheFirstHundredFaults(t *testing.T) {
	p := optimize.Problem{Kerf: -1}
	for i := range 300 {
		p.Sticks = append(p.Sticks, stock.Stick{Length: 96 * inch, TrimStart: -1, Price: -1})
		p.Pieces = append(p.Pieces, stock.Piece{Label: fmt.Sprint(i)})
	}
	var want []string
	for i := range 50 {
		want = append(want, fmt.Sprintf("sticks[%d].price", i), fmt.Sprintf("sticks[%d].trim_start", i))
	}
	err := p.Validate()
	if got := fieldsOf(err); !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	p.Sticks = p.Sticks[:49]
	want = append(want[:98], "pieces[0].length", "pieces[1].length")
	if got := fieldsOf(p.Validate()); !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	if strings.Count(err.Error(), "\n") != 99 || errors.As(err, new(*optimize.InfeasibleError)) {
		t.Error(err)
	}
}
