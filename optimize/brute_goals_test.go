package optimize_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// nobody is the charge of a supplier without sticks: with it, costs are money, although every stick
// is free.
var nobody = []optimize.Charge{{Supplier: "nobody", Amount: 4}}

// Every goal after every other, with free sticks and no limit but the saw's. Later goals keep an offcut
// that an earlier one reached.
func TestGoalsInEveryOrderBrute(t *testing.T) {
	t.Parallel()
	levels, proven, held := 0, 0, 0
	for seed := range uint64(200 * *bruteCases) {
		r := rand.New(rand.NewPCG(seed, 101))
		p := tinyBase(r)
		for i := range p.Sticks {
			p.Sticks[i].Price = 0
		}
		p.Rules.Charges = nobody
		if r.IntN(2) == 0 {
			p.Rules.MinHold = measure.Length(4+r.IntN(20)) * u
		}
		goals := []optimize.Goal{optimize.GoalSticks, optimize.GoalLongestOffcut, optimize.GoalCuts}
		if r.IntN(2) == 0 {
			goals = append(goals, optimize.GoalOffcutValue)
			p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * u, Value: 2}, {Length: 12 * u, Value: 5}}
		}
		r.Shuffle(len(goals), func(i, j int) { goals[i], goals[j] = goals[j], goals[i] })
		p.Rules.Goals = append([]optimize.Goal{optimize.GoalCost}, goals...)
		if !againstBrute(t, &p) || t.Failed() {
			t.Fatalf("seed %d\n%s", seed, written(&p))
		}
		if plan, err := optimize.Solve(context.Background(), p, nil); err == nil {
			for _, l := range plan.Goals {
				levels++
				if l.Proven {
					proven++
				}
			}
			if p.Rules.MinHold > 0 {
				held++
			}
		}
	}
	t.Logf("%d of %d goals proven, %d plans with MinHold", proven, levels, held)
	if proven*100 < levels*99 || held == 0 {
		t.Errorf("%d of %d goals proven, %d plans with MinHold", proven, levels, held)
	}
}

// Problems that were once answered wrong, each by itself.
func TestOnceWrong(t *testing.T) {
	const mm = measure.Millimeter
	sticks := func(lengths ...measure.Length) (out []stock.Stick) {
		for _, l := range lengths {
			out = append(out, stock.Stick{Length: l * mm})
		}
		return out
	}
	pieces := func(lengths ...measure.Length) (out []stock.Piece) {
		for _, l := range lengths {
			out = append(out, stock.Piece{Length: l * mm})
		}
		return out
	}
	bevel := stock.End{Kind: stock.EndInsideMiter, Angle: 60 * measure.Degree, Setback: 2 * mm}
	beveled := func(left, right stock.End) optimize.Problem {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 6 * mm, Rack: true}, {Length: 22 * mm, Price: 22}}, Pieces: pieces(1, 8, 2, 6), Kerf: 2 * mm}
		p.Pieces[3].Left, p.Pieces[3].Right, p.Pieces[3].Symmetry = left, right, stock.SymmetryEnds
		p.Rules.MinHold, p.Rules.Nest = 8*mm, true
		return p
	}
	foot := measure.Foot
	for _, tt := range []struct {
		name string
		p    optimize.Problem
		want []int64
	}{
		{"a bevel at the end of a stick is a cut", beveled(stock.End{}, bevel), []int64{44}},
		{"and so it is at the other end", beveled(bevel, stock.End{}), []int64{44}},
		{"an offcut that holds", optimize.Problem{Sticks: sticks(14), Pieces: pieces(8, 8, 1), Kerf: 2 * mm, Rules: optimize.Rules{MinHold: 8 * mm,
			Charges: nobody, Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalLongestOffcut}}}, []int64{0, int64(11 * mm)}},
		{"an offcut after cuts", optimize.Problem{Sticks: sticks(27), Pieces: pieces(12, 7, 7, 9, 3), Kerf: mm,
			Rules: optimize.Rules{Charges: nobody, Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalCuts, optimize.GoalLongestOffcut}}}, []int64{0, 4, int64(19 * mm)}},
		{"cuts after an offcut", optimize.Problem{Sticks: []stock.Stick{{Length: 12 * foot, Price: 1500}, {Length: 10 * foot, Price: 1500}},
			Pieces: []stock.Piece{{Length: 10 * foot, Quantity: 3}}, Kerf: measure.Inch / 8,
			Rules: optimize.Rules{Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalLongestOffcut, optimize.GoalCuts}}}, []int64{4500, int64(2*foot - measure.Inch/8), 1}},
		{"sticks after cuts after an offcut", optimize.Problem{Sticks: sticks(8, 17), Pieces: pieces(3, 3, 8),
			Rules: optimize.Rules{Charges: nobody, Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalLongestOffcut, optimize.GoalCuts, optimize.GoalSticks}}}, nil},
		{"a cut in the yard within the start's trim", optimize.Problem{Sticks: []stock.Stick{{Length: 24 * mm, Price: 3, TrimStart: 5 * mm}}, Pieces: pieces(19),
			Kerf: mm, Rules: optimize.Rules{MaxTransport: 20 * mm}}, []int64{3}},
		{"and within the end's", optimize.Problem{Sticks: []stock.Stick{{Length: 24 * mm, Price: 3, TrimEnd: 5 * mm}}, Pieces: pieces(19),
			Kerf: mm, Rules: optimize.Rules{MaxTransport: 20 * mm}}, []int64{3}},
		{"a trimmed stick is cut", optimize.Problem{Sticks: []stock.Stick{{Length: 9 * mm, Price: 3, TrimEnd: mm}, {Length: 18 * mm, Price: 4}}, Pieces: pieces(8),
			Kerf: mm, Rules: optimize.Rules{MinHold: 9 * mm}}, []int64{4}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !againstBrute(t, &tt.p) {
				t.Fatal("refused")
			}
			got, ok := bruteSolve(&tt.p)
			if !ok || len(tt.want) > 0 && len(got) < len(tt.want) {
				t.Fatalf("brute force: %v %v", got, ok)
			}
			for k, v := range tt.want {
				if got[k] != v {
					t.Errorf("brute force: %v, want %v", got, tt.want)
				}
			}
			plan, err := optimize.Solve(context.Background(), tt.p, nil)
			if err != nil {
				t.Fatal(err)
			}
			for k := range plan.Goals {
				if !plan.Goals[k].Proven {
					t.Errorf("%+v", plan.Goals[k])
				}
			}
		})
	}
}
