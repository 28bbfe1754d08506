package cutsheet_test

import (
	"os"
	"slices"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

// picture is the job of the drawing that README shows: few sticks, and of each kind of
// thing that a drawing can hold one.
func picture() (optimize.Problem, *cutsheet.Options) {
	p, o := boards()
	p.Pieces = slices.Delete(p.Pieces, 2, 4)
	p.Pieces[0].Quantity, p.Pieces[1].Quantity = 2, 2
	p.Runs = p.Runs[:1]
	p.Sticks = slices.Clone(p.Sticks)
	p.Sticks[0].Bundle, p.Sticks[1].Breaks = 0, nil
	p.Rules.Spare, p.Rules.Charges = 0, nil
	o.Title = "Schoolhouse workshop: rails and a notice board"
	return p, o
}

// The drawing in README is what the library draws.
func TestDocsPicture(t *testing.T) {
	const file = "../../docs/cut-sheet.svg"
	p, o := picture()
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
		t.Errorf("%s is not as drawn now; run with -update and look at it", file)
	}
}
