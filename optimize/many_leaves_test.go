package optimize_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// TestManyLeaves has jobs with so large demands that a tree grows until its leaves are too many for Check. Then the
// relaxation of the whole problem alone shows most of the bound.
func TestManyLeaves(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 7))
	trees, single := 0, 0
	for k := range 8 {
		p := optimize.Problem{Kerf: measure.Inch / 8}
		for n, price := range []int64{1900, 2240, 2580} {
			p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(12+2*n) * measure.Foot, Price: price})
		}
		for range 12 {
			p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(200+r.IntN(1000)) * measure.Inch / 16, Quantity: 1e9 - r.IntN(1000)})
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 25_000_000})
		if err != nil {
			t.Fatalf("job %d: %v", k, err)
		}
		report, err := optimize.Audit(context.Background(), p, plan)
		if err != nil {
			t.Fatalf("job %d: %v", k, err)
		}
		if shown, _ := report.Bound(); float64(shown) < 0.9999*float64(plan.Bound) {
			t.Errorf("job %d: bound %d, shown %d, %v", k, plan.Bound, shown, plan.Proof.Kind())
		}
		switch plan.Proof.Kind() {
		case optimize.ProofTree:
			trees++
		case optimize.ProofDual, optimize.ProofSearch:
			single++
		}
	}
	if trees < 2 || single < 1 {
		t.Errorf("%d proofs by trees, %d by one leaf or a search: too few of one kind", trees, single)
	}
}
