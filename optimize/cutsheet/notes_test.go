package cutsheet_test

import (
	"encoding/csv"
	"html"
	"reflect"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// noted is the job of base on a floor that falls at the chimney and has a register in it.
func noted() (optimize.Problem, *cutsheet.Options) {
	p, o := base()
	p.Pieces[2].Notes = []string{`rip 1/8" off the lower edge`} // of the length of the next, which is left as it is
	p.Pieces[13].Notes = []string{
		`taper the lower edge: take off 0" at the left end, 3/16" at the right end`, `notch the lower edge 1' 1/4" x 4-1/8" up, 3' 2" from the left end`,
	}
	p.Pieces[16].Notes = []string{"ease the upper edge"}
	return p, o
}

// alike is a job of pieces of one length, some of which need work: three of the second, two of the
// fourth.
func alike() optimize.Problem {
	p := optimize.Problem{
		Kerf:   measure.Inch / 8,
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}},
	}
	for i, label := range []string{"corridor N", "corridor E", "corridor S", "corridor W"} {
		p.Pieces = append(p.Pieces, stock.Piece{Label: label, Length: 3 * measure.Foot, Quantity: i%3 + 2})
	}
	p.Pieces[1].Notes = []string{"rip 1/8 in off the lower edge", " ", "notch the lower edge"}
	p.Pieces[3].Notes = []string{"=rip"}
	return p
}

// The work on a piece is printed with it in every output but the drawing, as often as the piece is
// named there, and pieces that differ only in it stay separate.
func TestNotesStandWithTheirPiece(t *testing.T) {
	p := alike()
	s := sheet(t, p, nil)
	plan := solve(t, p)
	rows := map[string]int{} // cuts of each piece, and how many it has
	for _, pat := range plan.Patterns {
		last := -1
		for _, i := range pat.Pieces {
			if i != last {
				rows[p.Pieces[i].Label]++
			}
			last = i
		}
	}
	table, err := csv.NewReader(strings.NewReader(render(t, s, renderings[3]))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, row := range table[1:] {
		work := row[len(row)-1]
		if row[0] != "piece" {
			if work != "" {
				t.Errorf("work on %q", row)
			}
			continue
		}
		seen[row[4]]++
		one := "only these pieces: "
		if row[6] == "1" {
			one = "only this piece: "
		}
		want := map[string]string{"corridor E": one + "rip 1/8 in off the lower edge; notch the lower edge", "corridor W": one + "=rip"}[row[4]]
		if work != want {
			t.Errorf("work %q on %s, want %q", work, row[4], want)
		}
	}
	if !reflect.DeepEqual(seen, rows) {
		t.Errorf("cuts %v, want %v", seen, rows)
	}
	if table[0][len(table[0])-1] != "Work" || table[0][len(table[0])-2] != "Note" {
		t.Errorf("%q", table[0])
	}
	text := strings.Join(strings.Fields(render(t, s, renderings[0])), " ")
	if n := strings.Count(text, "rip 1/8 in off the lower edge; notch the lower edge"); n != rows["corridor E"] {
		t.Errorf("%d notes in the text, want %d", n, rows["corridor E"])
	}
	// On the page below each cut.
	page := html.UnescapeString(render(t, s, renderings[2]))
	page = strings.NewReplacer(`<span class="one">`, "", "</span>", "").Replace(page)
	if n, want := strings.Count(page, "rip 1/8 in off the lower edge; notch the lower edge"), rows["corridor E"]; n != want {
		t.Errorf("%d notes on the page, want %d", n, want)
	}
	if n := strings.Count(page, "only this piece: rip"); n != 1 {
		t.Errorf("%d lines say that they are for one piece only", n)
	}
}

// Notes are read back as they were written, and a sheet of a time before there were any reads as
// one without.
func TestNotesInJSON(t *testing.T) {
	p := alike()
	text := render(t, sheet(t, p, nil), renderings[4])
	q, plan, o, err := cutsheet.ReadJSON(strings.NewReader(text))
	if err != nil || !reflect.DeepEqual(q, p) || !reflect.DeepEqual(plan, solve(t, p)) {
		t.Fatalf("%+v, %v", q.Pieces, err)
	}
	if again, err := cutsheet.New(t.Context(), q, plan, o); err != nil || render(t, again, renderings[4]) != text {
		t.Errorf("%v", err)
	}
	for i := range p.Pieces {
		p.Pieces[i].Notes = nil
	}
	old := render(t, sheet(t, p, nil), renderings[4])
	if q, _, _, err = cutsheet.ReadJSON(strings.NewReader(old)); err != nil || strings.Contains(old, "notes") || !reflect.DeepEqual(q, p) {
		t.Errorf("%+v, %v", q.Pieces, err)
	}
}
