package replan_test

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// Amounts in a revision name their unit: cents if something has a price, else lengths as a tape shows
// them.
func TestRevisionNamesUnits(t *testing.T) {
	bare := regexp.MustCompile(`(?:paid:|bought:|by|,) -?\d+(?:,| back| more| less|\n)|\d{7}`)
	rapid.Check(t, func(t *rapid.T) {
		price := int64(rapid.SampledFrom([]int{0, 1}).Draw(t, "priced"))
		p := optimize.Problem{Kerf: measure.Inch / 8}
		for i := range 2 {
			p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(10+4*i) * measure.Foot, Price: price * int64(900+i*350)})
		}
		for range rapid.IntRange(2, 6).Draw(t, "pieces") {
			p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(rapid.IntRange(6, 120).Draw(t, "length")) * measure.Inch})
		}
		plan, err := optimize.Solve(t.Context(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		first := &plan.Patterns[0]
		done := replan.Progress{Started: []replan.Started{{Stick: first.Stick, Left: p.Sticks[first.Stick].Length / 2}}}
		rev, err := replan.Solve(t.Context(), p, plan, done, nil)
		if err != nil {
			t.Fatal(err)
		}
		if rev.ByLength != plan.ByLength {
			t.Errorf("the revision counts %v, its plan counted %v", rev.ByLength, plan.ByLength)
		}
		if found := bare.FindString(rev.String()); found != "" {
			t.Errorf("a number without a unit in %q:\n%s", found, rev)
		}
	})
}
