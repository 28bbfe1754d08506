package optimize_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// twoLengths is a problem that more or fewer sticks solve at the same cost.
func twoLengths() optimize.Problem {
	return optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1800}, {Length: 6 * measure.Foot, Price: 900}},
		Pieces: []stock.Piece{{Length: 5 * measure.Foot, Quantity: 4}},
		Kerf:   measure.Inch / 8,
		Rules:  optimize.Rules{Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalCuts, optimize.GoalLongestOffcut}},
	}
}

// If any claim of a proof of a goal after the cost is wrong, Check names the claim.
func TestCheckNamesWrongGoalProofs(t *testing.T) {
	p := twoLengths()
	good := mustSolve(t, p)
	const k = 1
	if good.Goals[k].Proof.Kind() != optimize.ProofDual {
		t.Fatalf("no proof with one leaf to change: %+v", good.Goals[k])
	}
	for _, c := range []struct {
		claim string
		spoil func(r *optimize.GoalResult, pr *optimize.OpenProof, l *optimize.Leaf)
	}{
		{"goals[1].proof.kind", func(_ *optimize.GoalResult, pr *optimize.OpenProof, _ *optimize.Leaf) {
			pr.Kind = optimize.ProofSearch
		}},
		{"goals[1].proof.kind", func(_ *optimize.GoalResult, pr *optimize.OpenProof, _ *optimize.Leaf) {
			pr.Kind = optimize.ProofMaterial
		}},
		{"goals[1].proof.kind", func(_ *optimize.GoalResult, pr *optimize.OpenProof, _ *optimize.Leaf) {
			pr.Kind, pr.Leaves, pr.LeafBound = optimize.ProofOmitted, nil, 0
		}},
		{"goals[1].proof.leaves", func(_ *optimize.GoalResult, pr *optimize.OpenProof, _ *optimize.Leaf) {
			pr.Kind = optimize.ProofTree
		}},
		{"goals[1].proof.leaves", func(_ *optimize.GoalResult, pr *optimize.OpenProof, _ *optimize.Leaf) {
			pr.Leaves = nil
		}},
		{"goals[1].proof.leaf_bound", func(_ *optimize.GoalResult, pr *optimize.OpenProof, _ *optimize.Leaf) { pr.LeafBound-- }},
		{"goals[1].proof.leaf_bound", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) { clear(l.Values) }},
		{"goals[1].proof.unit", func(_ *optimize.GoalResult, pr *optimize.OpenProof, _ *optimize.Leaf) { pr.Unit = 0 }},
		{"goals[1].proof.pieces", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) { l.Values = l.Values[:1] }},
		{"goals[1].proof.pieces", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) {
			l.Values = append(l.Values, 0)
		}},
		{"goals[1].proof.classes", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) {
			l.Lo, l.Hi = l.Lo[1:], l.Hi[1:]
		}},
		{"goals[1].proof.leaves[0].values[1]", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) { l.Values[1] = -1 }},
		{"goals[1].proof.leaves[0].scale", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) { l.Scale = -1 }},
		{"goals[1].proof.leaves[0].values", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) {
			l.Values[0], l.Scale = math.MaxInt64, math.MaxInt64
		}},
		{"goals[1].proof.leaves", func(_ *optimize.GoalResult, _ *optimize.OpenProof, l *optimize.Leaf) { l.Hi[0]-- }},
	} {
		plan := *good
		plan.Goals = slices.Clone(good.Goals)
		r := &plan.Goals[k]
		pr := optimize.Unseal(r.Proof)
		l := copied(&pr.Leaves[0])
		c.spoil(r, pr, &l)
		if len(pr.Leaves) > 0 {
			pr.Leaves = []optimize.Leaf{l}
		}
		var err error
		if r.Proof, err = pr.Sealed(); err != nil {
			t.Fatal(err)
		}
		var wrong *optimize.CheckError
		if err := optimize.Check(context.Background(), p, &plan); !errors.As(err, &wrong) || wrong.Field != c.claim {
			t.Errorf("%s: %v", c.claim, err)
		}
	}
	// The proof of the cost is elsewhere.
	plan := *good
	plan.Goals = slices.Clone(good.Goals)
	plan.Goals[0].Proof = plan.Goals[k].Proof
	var wrong *optimize.CheckError
	if err := optimize.Check(context.Background(), p, &plan); !errors.As(err, &wrong) || wrong.Field != "goals[0].proof.kind" {
		t.Errorf("a proof of the cost among the goals: %v", err)
	}
}

// A proof of a goal's bound holds for plans that are as good in the earlier goals, not for a plan that costs
// more and has fewer sticks.
func TestGoalProofCountsAmongThePlansAsGood(t *testing.T) {
	p := twoLengths()
	p.Sticks[0].Price = 1900
	cheap := mustSolve(t, p)
	if got := cheap.Goals[1]; got.Value != 4 || !got.Proven || got.Proof.Kind() == optimize.ProofNone {
		t.Fatalf("%+v, want 4 sticks with a proof", got)
	}
	q := p
	q.Sticks = p.Sticks[:1]
	dear, err := optimize.Evaluate(context.Background(), p, mustSolve(t, q))
	if err != nil {
		t.Fatal(err)
	}
	if dear.Goals[1].Value != 2 {
		t.Fatalf("%+v, want 2 sticks", dear.Goals[1])
	}
	dear.Goals[1].Bound, dear.Goals[1].Proof = 2, cheap.Goals[1].Proof
	var wrong *optimize.CheckError
	if err := optimize.Check(context.Background(), p, dear); !errors.As(err, &wrong) {
		t.Errorf("accepted the proof of a different bound: %v", err)
	}
	pr := optimize.Unseal(cheap.Goals[1].Proof)
	pr.LeafBound = 2
	if dear.Goals[1].Proof, err = pr.Sealed(); err != nil {
		t.Fatal(err)
	}
	// That fewer than 2 sticks cost more than these may be verified or not; the claim is true.
	if err := optimize.Check(context.Background(), p, dear); err != nil && (!errors.As(err, &wrong) || wrong.Field != "goals[1].proof.leaf_bound") {
		t.Errorf("a true bound: %v", err)
	}
}

// With few steps Check names the proof that it could not follow; with enough it accepts all.
func TestCheckOfGoalsWithin(t *testing.T) {
	p := twoLengths()
	plan := mustSolve(t, p)
	taken := 0
	for steps := int64(0); steps < 1<<16; steps = steps*3/2 + 1 {
		_, err := optimize.AuditWithin(p, plan, steps)
		var wrong *optimize.CheckError
		switch {
		case err == nil:
			taken++
		case !errors.As(err, &wrong) || taken > 0:
			t.Errorf("%d steps: %v", steps, err)
		}
	}
	if taken == 0 {
		t.Error("never taken")
	}
}

// A plan without its proof has no proofs of its goals either, even if its cost needs none.
func TestWithoutProofOfGoals(t *testing.T) {
	for _, price := range []int64{900, 0} {
		p := twoLengths()
		p.Sticks[0].Price, p.Sticks[1].Price = 2*price, price
		if price == 0 { // rack sticks cost nothing beside bought sticks
			p.Sticks[0].Rack, p.Sticks[1].Rack = true, true
			p.Sticks = append(p.Sticks, stock.Stick{Length: 20 * measure.Foot, Price: 1})
		}
		plan := mustSolve(t, p)
		if plan.Goals[1].Proof == (optimize.Proof{}) {
			t.Fatalf("no proof to omit: %+v", plan.Goals)
		}
		bare := plan.WithoutProof()
		for k := range bare.Goals {
			if bare.Goals[k].Proof != (optimize.Proof{}) {
				t.Errorf("%+v", bare.Goals[k])
			}
		}
		if err := optimize.Check(context.Background(), p, bare); err != nil {
			t.Error(err)
		}
		if plan.Goals[1].Proof == (optimize.Proof{}) {
			t.Error("the argument lost its proofs")
		}
	}
}
