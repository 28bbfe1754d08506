package optimize_test

import (
	"context"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// If any claim of a proof for a problem with rules is wrong, Check names the claim.
func TestCheckNamesWrongProofsWithRules(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "12 ft", Length: 12 * measure.Foot, Price: 1500, Bundle: 2, Supplier: "mill"},
			{Label: "16 ft", Length: 16 * measure.Foot, Price: 2500, Limit: 3, Supplier: "yard"},
		},
		Pieces: []stock.Piece{{Label: "cap", Length: 5 * measure.Foot, Quantity: 6}, {Label: "stool", Length: 3 * measure.Foot}},
		Runs: []stock.Run{{Label: "rail", Length: 14 * measure.Foot, Splice: stock.SpliceRule{
			At: []measure.Length{6 * measure.Foot, 8 * measure.Foot}, Price: 100}}},
		Kerf:  measure.Inch / 8,
		Rules: optimize.Rules{Charges: []optimize.Charge{{Supplier: "mill", Amount: 900}, {Supplier: "yard", Amount: 700}}, Spare: 1},
	}
	good, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if pr := optimize.Unseal(good.Proof); len(pr.Leaves) == 0 || len(pr.Leaves[0].Parts) == 0 {
		t.Fatalf("the plan's proof has no leaf with parts to change: %+v", pr)
	}
	for _, c := range []struct {
		claim string
		spoil func(pr *optimize.OpenProof, l *optimize.Leaf)
	}{
		{"proof.kind", func(pr *optimize.OpenProof, l *optimize.Leaf) { pr.Kind = optimize.ProofMaterial }},
		{"proof.leaf_bound", func(pr *optimize.OpenProof, l *optimize.Leaf) {
			pr.Kind, pr.Leaves, pr.LeafBound = optimize.ProofSearch, nil, 1
		}},
		{"proof.unit", func(pr *optimize.OpenProof, l *optimize.Leaf) { pr.Unit = 0 }},
		{"proof.classes", inAll(func(l *optimize.Leaf) { l.Lo, l.Hi = l.Lo[:1], l.Hi[:1] })},
		{"proof.classes", inAll(func(l *optimize.Leaf) { l.Lo, l.Hi = append(l.Lo, 0), append(l.Hi, 1) })},
		{"proof.pieces", inAll(func(l *optimize.Leaf) { l.Values = nil })},
		{"proof.charges", inAll(func(l *optimize.Leaf) { l.Used = nil })},
		{"proof.leaves[0].lo[1]", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Lo[1] = l.Hi[1] + 1 }},
		{"proof.leaves[0].lo[0]", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Lo[0] = -1 }},
		{"proof.leaves[0].hi[1]", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Hi[1] = 4 }},
		{"proof.leaves[0].scale", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Scale = -1 }},
		{"proof.leaves[0].scale", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Spare = -1 }},
		{"proof.leaves[0].values[1]", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Values[1] = -1 }},
		{"proof.leaves[0].parts[0]", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Parts[0].Value = -1 }},
		{"proof.leaves[0].parts[0]", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Parts[0].Length = 0 }},
		{"proof.leaves[0].used[1]", func(pr *optimize.OpenProof, l *optimize.Leaf) { l.Used[1] = 2 }},
		{"proof.leaves", func(pr *optimize.OpenProof, l *optimize.Leaf) {
			// Boxes that exclude the plan itself.
			for k := range pr.Leaves {
				pr.Leaves[k].Hi[0] = 0
			}
			pr.Leaves = pr.Leaves[:1]
			l.Lo[0] = 0
		}},
	} {
		plan := *good
		forge(t, &plan, func(pr *optimize.OpenProof) { c.spoil(pr, &pr.Leaves[0]) })
		var wrong *optimize.CheckError
		if err := optimize.Check(context.Background(), p, &plan); !errors.As(err, &wrong) || wrong.Field != c.claim {
			t.Errorf("%s: %v", c.claim, err)
		}
	}
}

// inAll changes all leaves: the bytes of a proof state once for all of them the numbers of classes,
// pieces and charges.
func inAll(f func(*optimize.Leaf)) func(*optimize.OpenProof, *optimize.Leaf) {
	return func(pr *optimize.OpenProof, _ *optimize.Leaf) {
		for k := range pr.Leaves {
			f(&pr.Leaves[k])
		}
	}
}
