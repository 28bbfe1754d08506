package cutsheet_test

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// picture is the job of the drawing in README: few sticks, and one of each kind of thing that a drawing
// can show. With its prices almost nothing is left between the material bound and the cost: Check can
// follow the proof to its end.
func picture() (optimize.Problem, *cutsheet.Options) {
	p, o := boards()
	p.Pieces = slices.Delete(p.Pieces, 2, 4)
	p.Pieces[0].Quantity, p.Pieces[1].Quantity = 2, 2
	p.Runs = p.Runs[:1]
	p.Sticks = slices.Clone(p.Sticks)
	p.Sticks[0].Bundle, p.Sticks[1].Breaks = 0, nil
	p.Sticks[1].Price, p.Runs[0].Splice.Price = 1770, 295
	p.Pieces = append(p.Pieces, stock.Piece{Label: "peg rail", Length: ft(3, 8, 0), Symmetry: stock.SymmetryAll})
	p.Rules.Spare, p.Rules.Charges, p.Rules.Goals = 0, nil, nil
	o.Title = "Schoolhouse workshop: rails and a notice board"
	return p, o
}

// The drawing in README is the library's own.
func TestDocsPicture(t *testing.T) {
	const file = "testdata/cut-sheet.svg"
	p, o := picture()
	plan := solve(t, p)
	a, err := optimize.Audit(context.Background(), p, plan)
	if err != nil {
		t.Fatal(err)
	}
	if shown, _ := a.Bound(); !plan.Proven || shown != plan.Cost || len(a.Open()) > 0 {
		t.Errorf("the plan costs %d: %v", plan.Cost, a)
	}
	for _, want := range []string{
		"Proven: no plan that keeps the rules of this job costs less than", "a separate check confirms it.", "Cut each stick from its start at the left",
		"Neighbors whose ends are parallel share one cut.", "turned end for end", "Crosshatched: cannot", "classroom N chair rail 2 of 2",
	} {
		if !strings.Contains(flow(t, sheet(t, p, o), renderings[1]), want) {
			t.Errorf("the drawing does not say %q", want)
		}
	}
	got := render(t, sheet(t, p, o), renderings[1])
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs from the drawing; run with -update and look at it", file)
	}
}
