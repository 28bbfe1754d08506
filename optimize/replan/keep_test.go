package replan_test

import (
	"context"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// drawn makes a plan without a proof from patterns with correct offcuts.
func drawn(t *testing.T, p *optimize.Problem, patterns ...optimize.Pattern) *optimize.Plan {
	t.Helper()
	plan := &optimize.Plan{Patterns: patterns}
	for _, pat := range patterns { // in the order of the sticks
		cost := int64(pat.Count) * p.Sticks[pat.Stick].Price
		plan.Cost += cost
		if n := len(plan.Buy); n > 0 && plan.Buy[n-1].Stick == pat.Stick {
			plan.Buy[n-1].Count += pat.Count
			plan.Buy[n-1].Cost += cost
			continue
		}
		plan.Buy = append(plan.Buy, optimize.Purchase{Stick: pat.Stick, Count: pat.Count, Cost: cost})
	}
	if err := optimize.Check(context.Background(), *p, plan); err != nil {
		t.Fatal(err)
	}
	return plan
}

// A pattern that leaves no way to cut the rest is dropped, whatever the cost.
func TestReplanUnfit(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 100, Limit: 1}, {Length: 6 * measure.Foot, Price: 60, Limit: 1}},
		Pieces: []stock.Piece{{Length: 6 * measure.Foot}, {Length: 4 * measure.Foot, Quantity: 2}},
	}
	plan := drawn(t, &p, optimize.Pattern{Stick: 0, Count: 1, Pieces: []int{1, 1}, Offcut: 2 * measure.Foot}, optimize.Pattern{Stick: 1, Count: 1, Pieces: []int{0}})
	done := replan.Progress{Owned: []replan.Owned{{Place: replan.PlaceWhole, Stick: 0}, {Place: replan.PlaceWhole, Stick: 1, Length: 5 * measure.Foot}}}
	rev := mustReplan(t, p, plan, done)
	checkRevision(t, &p, plan, &done, rev)
	if rev.Cost != 0 || len(rev.Changes) != 2 || rev.Changes[0].Reason != replan.ReasonRestDoesNotFit || rev.Changes[1].Reason != replan.ReasonTooShort {
		t.Errorf("%+v", rev)
	}
}

// A plan that was not the best changes if that saves something, and stays otherwise.
func TestReplanPoorPlan(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 100}},
		Pieces: []stock.Piece{{Length: 5 * measure.Foot, Quantity: 3}, {Length: 4 * measure.Foot}},
	}
	plan := drawn(t, &p,
		optimize.Pattern{Stick: 0, Count: 1, Pieces: []int{0, 1}, Offcut: measure.Foot},
		optimize.Pattern{Stick: 0, Count: 2, Pieces: []int{0}, Offcut: 5 * measure.Foot})
	done := replan.Progress{Supply: []replan.Supply{{Stick: 0, Left: 9}}}
	rev := mustReplan(t, p, plan, done)
	checkRevision(t, &p, plan, &done, rev)
	if rev.Cost != 200 || rev.Extra() != -100 || rev.Changes[0].Kept != 1 || rev.Changes[1].Kept != 0 || rev.Changes[1].Reason != replan.ReasonCostsMore || rev.Changes[1].Extra != 100 {
		t.Errorf("%+v\n%v", rev, rev)
	}
	// Three sticks in hand: nothing is saved by cutting otherwise.
	done = replan.Progress{Owned: []replan.Owned{{Place: replan.PlaceWhole, Stick: 0, Count: 3}}}
	rev = mustReplan(t, p, plan, done)
	checkRevision(t, &p, plan, &done, rev)
	if rev.Cost != 0 || !allKept(rev) {
		t.Errorf("%+v\n%v", rev, rev)
	}
	// Unless one of them can go back.
	done.Owned[0].Refund = 90
	rev = mustReplan(t, p, plan, done)
	checkRevision(t, &p, plan, &done, rev)
	if rev.Cost != -90 || len(rev.Surplus) != 1 || rev.Surplus[0].Refund != 90 {
		t.Errorf("%+v\n%v", rev, rev)
	}
}

// A started stick continues with its pieces as they lay.
func TestReplanNestedStick(t *testing.T) {
	miter := stock.End{Kind: stock.EndFlatMiter, Setback: 3 * measure.Inch}
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 100}},
		Pieces: []stock.Piece{
			{Length: 24 * measure.Inch, Quantity: 2, Left: miter, Right: miter, Symmetry: stock.SymmetryEnds},
			{Length: 20 * measure.Inch, Quantity: 2, Left: miter, Right: miter, Symmetry: stock.SymmetryEnds},
		},
		Kerf:  measure.Inch / 8,
		Rules: optimize.Rules{Nest: true},
	}
	plan := mustSolve(t, p)
	if len(plan.Patterns) != 1 || plan.Patterns[0].Turned == nil {
		t.Fatalf("%+v", plan)
	}
	pat := plan.Patterns[0]
	first := p.Pieces[pat.Pieces[0]].Length
	done := replan.Progress{Started: []replan.Started{{Stick: 0, Pieces: pat.Pieces[:1], Left: p.Sticks[0].Length - first - measure.Inch}}}
	rev := mustReplan(t, p, plan, done)
	checkRevision(t, &p, plan, &done, rev)
	if rev.Cost != 0 || !allKept(rev) || rev.Plan.Patterns[0].Turned == nil {
		t.Errorf("%+v", rev)
	}
}

// If price breaks make the last sticks expensive, the old pattern is still kept if nothing costs less.
func TestReplanBreaks(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Length: 10 * measure.Foot, Price: 100, Breaks: []stock.PriceBreak{{From: 4, Price: 40}}},
			{Length: 10 * measure.Foot, Price: 95, Minimum: 2, Limit: 8, Defects: []stock.Defect{{From: 0, To: measure.Inch}}},
		},
		Pieces: []stock.Piece{{Length: 4 * measure.Foot, Quantity: 9}},
	}
	plan := mustSolve(t, p)
	if plan.Cost != 5*40 {
		t.Fatalf("%+v", plan)
	}
	// cut returns progress in which all sticks but some of the first pattern with two
	// pieces are cut.
	cut := func(but int) (d replan.Progress) {
		for _, pat := range plan.Patterns {
			n := pat.Count
			if len(pat.Pieces) == 2 {
				n, but = n-but, 0
			}
			d.Cut = append(d.Cut, n)
		}
		return d
	}
	for _, c := range []struct {
		but  int
		cost int64
	}{{4, 160}, {3, 160}, {2, 160}, {1, 100}} {
		done := cut(c.but)
		rev := mustReplan(t, p, plan, done)
		checkRevision(t, &p, plan, &done, rev)
		if rev.Cost != c.cost || !allKept(rev) || rev.Planned != 0 {
			t.Errorf("%d left: %+v", c.but, rev)
		}
	}
}

// However little the work, the new plan costs no more than continuing the old one.
func TestReplanInAHurry(t *testing.T) {
	tried := 0
	for a := range features {
		for seed := range uint64(4) {
			p := bothAdded(a, a, seed)
			plan, err := optimize.Solve(context.Background(), p, nil)
			if err != nil {
				continue
			}
			done := replan.Progress{Supply: []replan.Supply{{Stick: 0, Left: 1000}}}
			rev, err := replan.Solve(context.Background(), p, plan, done, &optimize.Options{Work: 1})
			if err != nil {
				if !errors.As(err, new(*optimize.LimitError)) && !isField(err) {
					t.Errorf("%s: %v", features[a].Name, err)
				}
				continue
			}
			checkRevision(t, &p, plan, &done, rev)
			tried++
			if rev.Cost > plan.Cost {
				t.Errorf("%s: cost %d, %d by the old plan\n%s", features[a].Name, rev.Cost, plan.Cost, written(&p))
			}
		}
	}
	if tried < 30 {
		t.Errorf("only %d tried: this tests little", tried)
	}
}
