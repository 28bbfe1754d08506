package optimize_test

import (
	"context"
	"errors"
	"fmt"
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

// Splices that cost nothing count at the place of GoalSplices in the ladder, before and after each
// other goal.
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
					// So small a problem leaves nothing open, unless an offcut has to be kept, and then
					// rarely.
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
		t.Errorf("%d problems were valid, %d were spliced, %d remain open", sound, spliced, open)
	}
}

// Two runs that both fit a stick are not spliced for a longer offcut, unless that is the first goal;
// without runs there is nothing to count.
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
				t.Errorf("%v: a goal's value that is off by one: %v", tt.goals, err)
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

// idleSplice returns the first splice between two parts of a run that are cut from one clear stretch
// of one stick, or parts just like them: they could have been one part.
func idleSplice(t *testing.T, p *optimize.Problem, plan *optimize.Plan) string {
	type kind struct {
		length      measure.Length
		left, right stock.End
	}
	of := func(pc *stock.Piece) kind { return kind{pc.Length, pc.Left, pc.Right} }
	for k := range plan.Spliced {
		run := &p.Runs[plan.Spliced[k].Run]
		parts, err := run.Pieces(plan.Spliced[k].At)
		if err != nil {
			t.Fatal(err)
		}
		for i := range len(parts) - 1 {
			for q := range plan.Patterns {
				stretch := &plan.Patterns[q]
				have := map[[2]any]int{}
				for n, id := range stretch.Pieces {
					if id -= len(p.Pieces); id < 0 {
						continue
					}
					at := 0
					if stretch.Stretch != nil {
						at = stretch.Stretch[n]
					}
					have[[2]any{at, of(&plan.Parts[id])}]++
				}
				for at := range 10 {
					x, y := [2]any{at, of(&parts[i])}, [2]any{at, of(&parts[i+1])}
					if have[x] > 0 && have[y] > 0 && (x != y || have[x] > 1) {
						return fmt.Sprintf("run %d: %v and %v, stretch %d of pattern %d", k, parts[i].Length, parts[i+1].Length, at, q)
					}
				}
			}
		}
	}
	return ""
}

// No plan splices parts that come from one stretch of a stick, whether splices cost anything or not.
func TestNoIdleSplice(t *testing.T) {
	spliced := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 77))
		p := splicedBase(r)
		for i := range p.Sticks {
			if p.Sticks[i].Limit > 0 && r.IntN(2) == 0 {
				at := measure.Length(6+r.IntN(8)) * u
				p.Sticks[i].Defects = []stock.Defect{{From: at, To: at + u}}
			}
		}
		for i := range p.Runs {
			rule := &p.Runs[i].Splice
			rule.Price = r.Int64N(2) * int64(r.IntN(4))
			rule.Overlap = max(rule.Overlap, 0) // an open joint is shorter than the part without
		}
		if r.IntN(2) == 0 {
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalLongestOffcut}
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue // no plan exists
		}
		if idle := idleSplice(t, &p, plan); idle != "" {
			t.Fatalf("seed %d: %s\n%s", seed, idle, written(&p))
		}
		spliced += int(min(1, splices(plan)))
	}
	if spliced < 50 {
		t.Errorf("%d plans with splices", spliced)
	}
	t.Logf("%d plans with splices", spliced)
}

// A run that may be spliced at every stud for nothing is not spliced at every stud, though no goal
// is named.
func TestFewSplicesForNothing(t *testing.T) {
	const in = inch
	for _, grid := range []measure.Length{16 * in, 4 * in} {
		run := stock.Run{Label: "cornice", Length: 28 * measure.Foot}
		for x := grid; x < run.Length; x += grid {
			run.Splice.At = append(run.Splice.At, x)
		}
		p := optimize.Problem{
			Kerf:   in / 8,
			Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1000, Limit: 8, Defects: []stock.Defect{{From: 30 * in, To: 31 * in}}}},
			Pieces: []stock.Piece{{Length: 8 * measure.Foot}, {Length: 7*measure.Foot + 4*in + 3*in/4}, {Length: 41*in + in/2, Quantity: 2}},
			Runs:   []stock.Run{run},
		}
		plan := mustSolve(t, p)
		if idle := idleSplice(t, &p, plan); plan.Cost != 5000 || splices(plan) > 8 || idle != "" {
			t.Errorf("studs each %v: cost %d with %d splices %s", grid, plan.Cost, splices(plan), idle)
		}
	}
}
