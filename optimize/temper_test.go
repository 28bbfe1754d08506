package optimize_test

import (
	"context"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

// If pieces nest, a check verifies a good part of the bound and not nothing, however many sticks a plan
// may take.
func TestNestingShowsABound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inches := func(name string, from, to int) measure.Length {
			return measure.Length(rapid.IntRange(from, to).Draw(t, name)) * measure.Inch
		}
		end := stock.End{Kind: stock.EndFlatMiter, Setback: inches("width", 1, 4)}
		p := optimize.Problem{
			Kerf: measure.Inch / 8,
			Sticks: []stock.Stick{
				{Label: "8", Length: 96 * measure.Inch, Price: 1180},
				{Label: "12", Length: 144 * measure.Inch, Price: int64(rapid.IntRange(1700, 1850).Draw(t, "price"))},
			},
			Rules: optimize.Rules{Nest: true},
		}
		for _, label := range []string{"rail", "stile", "slat"} {
			p.Pieces = append(p.Pieces, stock.Piece{Label: label, Length: inches("length", 20, 60), Quantity: rapid.IntRange(2, 6).Draw(t, "quantity"), Left: end, Right: end, Symmetry: stock.SymmetryAll})
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1 << 19})
		if err != nil {
			t.Fatal(err)
		}
		a, err := optimize.Audit(context.Background(), p, plan)
		if err != nil {
			t.Fatal(err)
		}
		if shown, _ := a.Bound(); shown < plan.Bound/2 {
			t.Fatalf("of the bound %d, Check verifies %d, %q", plan.Bound, shown, a.Open())
		}
	})
}
