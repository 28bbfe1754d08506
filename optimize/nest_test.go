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

// The end part of a run may not be shorter than its own end's Setback.
func TestNestedPartsKeepTheirEdges(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 42 * inch, Limit: 1}, {Length: 16 * inch, Limit: 1}},
		Pieces: []stock.Piece{{Length: 17 * inch, Left: stock.End{Kind: stock.EndScarfUnder, Setback: 3 * inch}}},
		Runs: []stock.Run{{Length: 44 * inch, Right: stock.End{Kind: stock.EndScarfOver, Setback: 3 * inch},
			Splice: stock.SpliceRule{At: []measure.Length{42 * inch}}}},
		Rules: optimize.Rules{Nest: true},
	}
	if plan, err := optimize.Solve(context.Background(), p, nil); !errors.As(err, new(*optimize.InfeasibleError)) {
		t.Fatalf("%+v, %v: want no plan, the part behind the splice is 2 in long and its end 3 in", plan, err)
	}
	p.Sticks[1].Limit = 2
	parts, err := p.Runs[0].Pieces([]measure.Length{42 * inch})
	if err != nil {
		t.Fatal(err)
	}
	plan := &optimize.Plan{Parts: parts, Spliced: []optimize.SplicedRun{{At: []measure.Length{42 * inch}, Pieces: []int{1, 2}}}}
	var bad *optimize.CheckError
	if err := optimize.Check(context.Background(), p, plan); !errors.As(err, &bad) || bad.Field != "spliced[0].at" {
		t.Errorf("Check: %v, want one that names Spliced[0].At", err)
	}

	// As long as the Setback the part is a point at the back, and can be cut.
	p.Sticks[1].Limit = 1
	p.Runs[0].Splice.At[0] = 41 * inch
	p.Sticks[1].Length = 17 * inch
	plan, err = optimize.Solve(context.Background(), p, nil)
	if err != nil || !plan.Proven || plan.Sticks() != 2 {
		t.Fatalf("%+v, %v", plan, err)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Error(err)
	}
}

// Ends with one setback but of two angles are not parallel, whatever the kerf: a cope
// in a corner of 120 degrees is cut at 30 from square, the scarf at 45.
func TestNestedAnglesWithoutKerf(t *testing.T) {
	flat := stock.End{Kind: stock.EndFlatMiter, Setback: 3 * u}
	inside := stock.End{Kind: stock.EndInsideMiter, Setback: 3 * u}
	outside := stock.End{Kind: stock.EndOutsideMiter, Setback: 3 * u}
	cope := stock.End{Kind: stock.EndCope, Angle: 120 * measure.Degree, Setback: 2 * u}
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 46 * u, Price: 4, TrimStart: u, TrimEnd: u}, {Length: 57 * u, Price: 4}, {Length: 34 * u, Price: 6}},
		Pieces: []stock.Piece{{Length: 16 * u, Quantity: 2, Right: flat}, {Length: 17 * u, Quantity: 3, Left: cope, Right: inside},
			{Length: 9 * u, Quantity: 2, Left: cope, Right: outside, Symmetry: stock.SymmetryAll}},
		Runs: []stock.Run{{Length: 69 * u, Left: flat, Right: flat, Splice: stock.SpliceRule{
			At: []measure.Length{6 * u, 17 * u, 22 * u, 29 * u}, Overlap: 2 * u, Bevel: 45 * measure.Degree, Price: 2}}},
		Rules: optimize.Rules{Nest: true},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Error(err)
	}

	// Two pieces fit one stick only if the cope and the scarf could share a cut.
	p = optimize.Problem{
		Sticks: []stock.Stick{{Length: 18 * u, Price: 1}},
		Pieces: []stock.Piece{{Length: 10 * u, Right: stock.End{Kind: stock.EndScarfOver, Setback: 2 * u}}, {Length: 10 * u, Left: cope}},
		Rules:  optimize.Rules{Nest: true},
	}
	for _, tt := range []struct {
		angle measure.Angle
		want  int64
	}{{45 * measure.Degree, 2}, {30*measure.Degree - 1, 2}, {30 * measure.Degree, 1}} {
		p.Pieces[0].Right.Angle = tt.angle
		for _, p.Kerf = range []measure.Length{0, 1} { // a tick's kerf is a 64th at every bevel
			p.Sticks[0].Length = 18*u + p.Kerf*u
			plan, err := optimize.Solve(context.Background(), p, nil)
			if err != nil || plan.Cost != tt.want || !plan.Proven {
				t.Errorf("scarf at %v beside a cut at 30 degrees, kerf %v: %+v, %v, want cost %d", tt.angle, p.Kerf, plan, err, tt.want)
				continue
			}
			if err := optimize.Check(context.Background(), p, plan); err != nil {
				t.Error(err)
			}
		}
	}
}

// cutEnd returns a random end of any kind, mostly with a setback: often one of few, so
// that shapes meet, and not always the one that goes with the angle.
func cutEnd(r *rand.Rand) stock.End {
	e := stock.End{Kind: stock.EndKind(r.IntN(13))}
	if r.IntN(8) > 0 {
		e.Setback = measure.Length(1+r.IntN(3)) * u
	}
	if r.IntN(2) == 0 {
		// All but the third are cut at 30 or 45 degrees from square by some kind.
		e.Angle = oneOf[measure.Angle](r, 30, 60, 80, 120, 135) * measure.Degree
	}
	if e.Kind.Spliced() && e.Angle >= 90*measure.Degree {
		e.Angle = 45 * measure.Degree
	}
	if e.Kind.Raked() {
		e.Angle = oneOf[measure.Angle](r, 0, 30, -30, 45, -45) * measure.Degree
	}
	return e
}

// nestedRuns returns a random problem of pieces and runs whose ends nest.
func nestedRuns(r *rand.Rand) optimize.Problem {
	p := optimize.Problem{Rules: optimize.Rules{Nest: true}}
	p.Kerf = oneOf[measure.Length](r, 0, 0, 1, u/3, u, 2*u)
	for i := range 1 + r.IntN(3) {
		s := stock.Stick{Length: measure.Length(16+r.IntN(36)) * u, Price: int64(1 + r.IntN(8))}
		if i > 0 {
			s.Limit = r.IntN(4)
		}
		if r.IntN(3) == 0 {
			s.TrimStart, s.TrimEnd = measure.Length(r.IntN(3))*u, measure.Length(r.IntN(3))*u
		}
		p.Sticks = append(p.Sticks, s)
	}
	few := []stock.End{{}, cutEnd(r), cutEnd(r), cutEnd(r)}
	end := func() stock.End {
		if r.IntN(4) == 0 {
			return cutEnd(r)
		}
		return oneOf(r, few...)
	}
	runs := r.IntN(3)
	for n := runs; n < 3+r.IntN(2); {
		pc := stock.Piece{Length: measure.Length(3+r.IntN(16)) * u, Quantity: r.IntN(3), Left: end(), Right: end(), Symmetry: stock.Symmetry(r.IntN(3))}
		n += max(1, pc.Quantity)
		p.Pieces = append(p.Pieces, pc)
	}
	for range runs {
		run := stock.Run{Length: measure.Length(10+r.IntN(46)) * u, Left: end(), Right: end()}
		rule := &run.Splice
		rule.Overlap = measure.Length(r.IntN(5)-1) * u / oneOf[measure.Length](r, 1, 1, 2)
		rule.MinPart = measure.Length(r.IntN(4)) * u
		rule.Price, rule.MaxSplices = int64(r.IntN(3)), r.IntN(3)
		rule.RightOver = r.IntN(2) == 1
		if rule.Overlap > 0 && r.IntN(4) > 0 {
			rule.Bevel = oneOf[measure.Angle](r, 30, 45, 45, 60) * measure.Degree
		}
		for x := measure.Length(1 + r.IntN(12)); x*u < run.Length && len(rule.At) < 4-runs; x += 1 + measure.Length(r.IntN(14)) {
			rule.At = append(rule.At, x*u)
		}
		p.Runs = append(p.Runs, run)
	}
	// Goals that are named get more work than the default ones.
	p.Rules.Goals = append([]optimize.Goal{optimize.GoalCost}, oneOf(r, nil, nil, []optimize.Goal{optimize.GoalSticks},
		[]optimize.Goal{optimize.GoalCuts}, []optimize.Goal{optimize.GoalSticks, optimize.GoalLongestOffcut})...)
	return p
}

// TestNestedRunsBrute solves random problems of pieces and runs whose ends nest, with
// ends of every kind.
func TestNestedRunsBrute(t *testing.T) {
	sound := 0
	for seed := range uint64(*bruteCases * 6) {
		p := nestedRuns(rand.New(rand.NewPCG(seed, 3)))
		if againstBrute(t, &p) {
			sound++
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if sound < *bruteCases*3 {
		t.Errorf("only %d problems were valid", sound)
	}
}
