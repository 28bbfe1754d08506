package cutsheet_test

import (
	"encoding/csv"
	"html"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/devtools"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// waiting is a sheet of three sticks: the first two have a piece for a room on hold, and the last gives
// twelve pieces.
func waiting(t testing.TB) *cutsheet.Sheet {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot}},
		Pieces: []stock.Piece{
			{Label: "base N", Length: ft(8, 0, 0), Room: "book room"},
			{Label: "base E", Length: ft(8, 0, 0), Room: "book room"},
			{Label: "stop", Length: ft(3, 0, 0), Room: "corridor"},
			{Label: "shelf", Length: ft(3, 0, 0), Room: "entry"},
			{Label: "cleat", Length: ft(0, 10, 0), Quantity: 12},
		},
	}
	o := &cutsheet.Options{Job: "Schoolhouse", Revision: "third of May", Hold: []cutsheet.Hold{{Room: "book room", Reason: `W would be 7' 4-1/2" instead of 7' 5-1/2", or E 4' 11-1/2"`}}}
	return cutAs(t, p, o, []int{2, 0}, []int{3, 1}, slices.Repeat([]int{4}, 12))
}

// In a table or a drawing the sticks on hold come after the others, as on the page, and every line of
// them says so, even for pieces of rooms that are not on hold.
func TestHeldSticksAreLastEverywhere(t *testing.T) {
	s := waiting(t)
	var b strings.Builder
	if err := s.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	wait, note := slices.Index(rows[0], "On hold"), slices.Index(rows[0], "Note")
	order := ""
	for _, r := range rows {
		if r[0] != "piece" {
			continue
		}
		order += r[1]
		if waits := r[wait] != "" || strings.Contains(r[note], "do not cut it yet"); waits != (r[1] != "C") {
			t.Errorf("waits %v: %q", waits, r)
		}
	}
	if order != "CAABB" {
		t.Errorf("rows for %s", order)
	}
	for _, r := range renderings {
		switch out := html.UnescapeString(render(t, s, r)); r.ext {
		case "svg":
			a, c := strings.Index(out, ">A: 1 stick of 12', on hold<"), strings.Index(out, ">C: 1 stick of 12'<")
			if a < 0 || c < 0 || a < c || !strings.Contains(out, "Do not cut these sticks yet.") {
				t.Errorf("svg: A at %d, C at %d", a, c)
			}
		case "txt":
			if !strings.Contains(out, "A: 1 stick of 12', on hold -") || strings.Contains(out, "C: 1 stick of 12', on hold") {
				t.Error("text does not say which sticks are on hold")
			}
		case "html":
			if n := strings.Count(out, `<b class="flag">on hold</b>`); n != 1 { // both are one block
				t.Errorf("%d heads of sticks say that they are on hold", n)
			}
		}
	}
}

// Sticks that are cut as one block have boxes that name the piece of the stick that they are for.
func TestBoxesNameTheirPiece(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot}},
		Pieces: []stock.Piece{{Label: "a", Length: ft(8, 0, 0)}, {Label: "b", Length: ft(8, 0, 0)}},
	}
	page := render(t, cutAs(t, p, nil, []int{0}, []int{1}), renderings[2])
	for _, want := range []string{"cut a, stick 1 of 2", "cut b, stick 2 of 2"} {
		if !strings.Contains(page, `aria-label="`+want+`"`) {
			t.Errorf("no box %q", want)
		}
	}
}

// The revision is complete on each tag if a line can hold it, whatever else is dropped.
func TestTagsHaveTheirRevision(t *testing.T) {
	var b strings.Builder
	if err := waiting(t).WriteTags(&b); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(b.String(), "rev. third of May"); n != 16 {
		t.Errorf("the revision is on %d tags of 16", n)
	}
}

// Why a room waits is one paragraph, whatever lengths are in it; the box for all pieces of a cut
// counts for all of them.
func TestBrowserHeld(t *testing.T) {
	b := devtools.Open(t)
	b.Screen(390, 844, true)
	b.Load(render(t, waiting(t), renderings[2]))
	if got := devtools.Value[string](b, `[...document.querySelectorAll(".lines .one, .job .one")].map(e => getComputedStyle(e).display).join(" ")`); strings.Trim(strings.ReplaceAll(got, "inline", ""), " ") != "" || got == "" {
		t.Errorf("lengths in the reasons are set as %q", got)
	}
	devtools.Value[bool](b, `document.querySelector(".all input").checked = true`)
	if texts := strings.Join(b.Read(), " "); !strings.Contains(strings.Join(strings.Fields(texts), " "), "12 of 16 cut") {
		t.Errorf("all twelve are cut: %s", texts)
	}
}
