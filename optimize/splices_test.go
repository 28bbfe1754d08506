package optimize_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// splicedBase returns a random problem of one or two runs whose splices cost nothing.
func splicedBase(r *rand.Rand) optimize.Problem {
	p := tinyBase(r)
	features[0].Add(r, &p)
	for i := range p.Runs {
		p.Runs[i].Splice.Price = 0
	}
	return p
}

// Splices that cost nothing count where GoalSplices stands in the ladder, before and
// after each other goal.
func TestFewestSplicesBrute(t *testing.T) {
	others := []optimize.Goal{optimize.GoalSticks, optimize.GoalLongestOffcut, optimize.GoalOffcutValue, optimize.GoalCuts, optimize.GoalPatterns}
	sound, spliced, open := 0, 0, 0
	for seed := range uint64(40 * *bruteCases / 6) {
		for k, g := range others {
			r := rand.New(rand.NewPCG(seed, uint64(k)))
			p := splicedBase(r)
			p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * u, Value: 2}, {Length: 12 * u, Value: 5}}
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSplices, g}
			if r.IntN(2) == 0 && g != optimize.GoalPatterns {
				p.Rules.Goals = []optimize.Goal{optimize.GoalCost, g, optimize.GoalSplices}
			}
			if !againstBrute(t, &p) {
				continue
			}
			sound++
			plan, err := optimize.Solve(context.Background(), p, nil)
			if err != nil {
				continue // no plan exists, or againstBrute has said so
			}
			for _, l := range plan.Goals {
				if l.Goal == optimize.GoalSplices {
					if l.Value != splices(plan) {
						t.Errorf("%+v, the plan has %d", l, splices(plan))
					}
					// So small a problem leaves nothing open, but where an offcut
					// has to be kept, and then hardly ever.
					switch {
					case l.Proven:
					case p.Rules.Goals[1] == optimize.GoalLongestOffcut:
						open++
					default:
						t.Errorf("%+v is not proven\n%s", l, written(&p))
					}
					spliced += int(min(l.Value, 1))
				}
			}
			if t.Failed() {
				return
			}
		}
	}
	if sound < 20 || spliced < 3 || open > 1+sound/50 {
		t.Errorf("%d problems made sense, %d were spliced, %d stay open", sound, spliced, open)
	}
}

// Two runs that both fit a stick are not spliced to make an offcut longer, unless that is
// asked for first; without runs there is nothing to count.
func TestFewestSplices(t *testing.T) {
	const in = inch
	// Derived: cut whole, each stick leaves 30 inches; with 30 inches of one run spliced
	// onto the other stick, one leaves 60.
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 96 * in, Price: 10}},
		Runs: []stock.Run{
			{Label: "north", Length: 66 * in, Splice: stock.SpliceRule{At: []measure.Length{16 * in, 30 * in, 48 * in}}},
			{Label: "south", Length: 66 * in, Splice: stock.SpliceRule{At: []measure.Length{16 * in, 30 * in, 48 * in}}},
		},
	}
	for _, tt := range []struct {
		goals            []optimize.Goal
		splices, longest int64
	}{
		{nil, 0, 30},
		{[]optimize.Goal{optimize.GoalCost}, -1, -1},
		{[]optimize.Goal{optimize.GoalCost, optimize.GoalSplices, optimize.GoalLongestOffcut}, 0, 30},
		{[]optimize.Goal{optimize.GoalCost, optimize.GoalLongestOffcut, optimize.GoalSplices}, 1, 60},
	} {
		p.Rules.Goals = tt.goals
		plan := mustSolve(t, p)
		longest := measure.Length(0)
		for k := range plan.Patterns {
			longest = max(longest, plan.Patterns[k].Offcut)
		}
		if plan.Cost != 20 || tt.splices >= 0 && (splices(plan) != tt.splices || longest != measure.Length(tt.longest)*in) {
			t.Errorf("%v: cost %d, %d splices, longest offcut %v", tt.goals, plan.Cost, splices(plan), longest)
		}
		for k := range plan.Goals {
			if !plan.Goals[k].Proven {
				t.Errorf("%v: %+v is not proven", tt.goals, plan.Goals[k])
			}
			wrong := *plan
			wrong.Goals = append([]optimize.GoalResult(nil), plan.Goals...)
			wrong.Goals[k].Value++
			var bad *optimize.CheckError
			if err := optimize.Check(context.Background(), p, &wrong); !errors.As(err, &bad) {
				t.Errorf("%v: a level that is wrong by one: %v", tt.goals, err)
			}
		}
	}

	p.Runs, p.Pieces = nil, []stock.Piece{{Length: 66 * in, Quantity: 2}}
	p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSplices, optimize.GoalSticks}
	plan := mustSolve(t, p)
	if want := (optimize.GoalResult{Goal: optimize.GoalSplices, Proven: true}); plan.Goals[1] != want {
		t.Errorf("%+v, want %+v", plan.Goals[1], want)
	}
}
