package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
)

// job is the initial job of the page.
func job() request {
	return request{
		Title: "Classroom base", Kerf: `1/8"`,
		Pieces: []pieceRow{row("north wall, left", `12' 1-3/8"`, ""), row("beside the stove", `7' 4-3/4"`, " "), {LeftKind: "square"}, row("under the windows", "41 1/2", "2")},
		Sticks: []stickRow{{Length: "12 ft", Price: "$19.08"}, {}, {Length: "16 ft", Price: "26.08"}},
	}
}

func row(label, length, quantity string) pieceRow {
	return pieceRow{Label: label, Length: length, Quantity: quantity}
}

// ask goes the way that the page goes: through text.
func ask(t *testing.T, r request) answer {
	t.Helper()
	a, _ := followed(t, r)
	return a
}

// followed is ask, together with the progress messages.
func followed(t *testing.T, r request) (a answer, told []headway) {
	t.Helper()
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	tell := func(text string) bool {
		h := headway{}
		if err := json.Unmarshal([]byte(text), &h); err != nil {
			t.Fatal(err)
		}
		if h != (headway{}) {
			told = append(told, h)
		}
		return true
	}
	if err := json.Unmarshal([]byte(respond("answer", string(text), tell)), &a); err != nil {
		t.Fatal(err)
	}
	return a, told
}

// The bar and the gap beside it.
func TestHeadway(t *testing.T) {
	r := job()
	for i := range 40 {
		r.Pieces = append(r.Pieces, row(fmt.Sprint(i), fmt.Sprintf("%d %d/16", 11+i*7919%139, 1+i*31%15), fmt.Sprint(1+i%4)))
	}
	a, told := followed(t, r)
	if len(a.Faults) > 0 || len(told) < 3 {
		t.Fatalf("told %d times; faults %v", len(told), a.Faults)
	}
	for k, h := range told {
		if !strings.HasPrefix(h.Cost, "$") || !strings.HasPrefix(h.Gap, "$") || h.Open < 0 || h.Open > 1 || h.Spent < 0 || h.Spent > 1.1 {
			t.Errorf("%+v", h)
		}
		if k > 0 && (h.Open > told[k-1].Open || h.Spent < told[k-1].Spent) {
			t.Errorf("%+v after %+v", h, told[k-1])
		}
	}
	if last := told[len(told)-1]; last.Cost != a.Cost {
		t.Errorf("last %+v, and then %s", last, a.Cost)
	}
}

func TestAnswer(t *testing.T) {
	a := ask(t, job())
	if len(a.Faults) > 0 || a.Sticks != 2 || a.Pieces != 4 || a.Cost != "$45.16" || !a.Proven || a.Gap != "" {
		t.Errorf("got %d sticks, %d pieces, %s, proven %t, gap %q, faults %v", a.Sticks, a.Pieces, a.Cost, a.Proven, a.Gap, a.Faults)
	}
	for _, want := range []string{"<!DOCTYPE html>", "Classroom base", "under the windows", "Saws cause serious injuries"} {
		if !strings.Contains(a.Sheet, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	if again := ask(t, job()); again.Sheet != a.Sheet {
		t.Error("the same form gives a different sheet")
	}

	// Without prices it is the least length.
	r := job()
	r.Sticks = []stickRow{{Length: "12 ft"}, {Length: "16 ft"}}
	if a := ask(t, r); a.Cost != "28'" || !a.Proven {
		t.Errorf("it is %s, proven %t", a.Cost, a.Proven)
	}
}

// A cut that takes nothing is written as 0, in any unit.
func TestNoKerf(t *testing.T) {
	r := job()
	r.Sticks, r.Pieces = []stickRow{{Length: "12 ft"}}, []pieceRow{{Length: "6 ft", Quantity: "2"}}
	if a := ask(t, r); len(a.Faults) > 0 || a.Sticks != 2 {
		t.Errorf("with a kerf it takes %d sticks, %v", a.Sticks, a.Faults)
	}
	for _, zero := range []string{"0", `0"`, "0 mm", "0 ft", " 0 "} {
		r.Kerf = zero
		if a := ask(t, r); len(a.Faults) > 0 || a.Sticks != 1 {
			t.Errorf("with a kerf of %s it takes %d sticks, %v", zero, a.Sticks, a.Faults)
		}
	}
}

// However a length is written or said, it is the same.
func TestRead(t *testing.T) {
	for _, text := range []string{`7' 4-3/4"`, `7'4 3/4`, "7′ 4¾″", "7 ft 4 3/4 in", "88.75", "88 3/4", "2254.25 mm", "seven four and three quarters", " 7-4-3/4 "} {
		if got := read(text); got != `7' 4-3/4"` {
			t.Errorf("%q is read as %s", text, got)
		}
	}
	for _, text := range []string{"", " ", "7-4", "long", "7' 4-3/4\" strong"} {
		if got := read(text); got != "" {
			t.Errorf("%q is read as %s", text, got)
		}
	}
}

func TestFaults(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*request)
		field   string
		message string
		choices []string
	}{
		{"two readings", func(r *request) { r.Pieces[1].Length = "7-4" }, "pieces[1].length", `7' 4"`, []string{`7' 4"`, `7-1/4"`}},
		{"strong", func(r *request) { r.Pieces[1].Length = "88 3/4 strong" }, "pieces[1].length", "how much", []string{`7' 4-3/4"`, `7' 4-25/32"`}},
		{"no length", func(r *request) { r.Pieces[3].Length = "" }, "pieces[3].length", "Write a length", nil},
		{"words", func(r *request) { r.Pieces[3].Length = "long" }, "pieces[3].length", "", nil},
		{"a third", func(r *request) { r.Kerf = `1/3"` }, "kerf", "", nil},
		{"too long", func(r *request) { r.Pieces[3].Length = "17 ft" }, "pieces[3].length", "Too long by 1'", nil},
		{"negative", func(r *request) { r.Pieces[3].Length = "-1 ft" }, "pieces[3].length", "more than zero", nil},
		{"negative stick", func(r *request) { r.Sticks[2].Length = "-1 ft" }, "sticks[2].length", "more than zero", nil},
		{"no kerf", func(r *request) { r.Kerf = "" }, "kerf", "Write 0 if it takes nothing", nil},
		{"a blank kerf", func(r *request) { r.Kerf = " \t" }, "kerf", "Write 0 if it takes nothing", nil},
		{"negative kerf", func(r *request) { r.Kerf = `-1/8"` }, "kerf", "zero or more", nil},
		{"half a piece", func(r *request) { r.Pieces[0].Quantity = "1/2" }, "pieces[0].quantity", "whole number", nil},
		{"no piece", func(r *request) { r.Pieces[0].Quantity = "0" }, "pieces[0].quantity", "whole number", nil},
		{"price", func(r *request) { r.Sticks[0].Price = "19.080" }, "sticks[0].price", "19.08", nil},
		{"debt", func(r *request) { r.Sticks[0].Price = "-5" }, "sticks[0].price", "19.08", nil},
		{"a price forgotten", func(r *request) { r.Sticks[2].Price = "" }, "sticks[2].price", "either every stick has a price, or none", nil},
		{"a price of zero", func(r *request) { r.Sticks[0].Price = "$0.00" }, "sticks[0].price", "either every stick has a price, or none", nil},
		{"limit", func(r *request) { r.Sticks[2].Limit = "some" }, "sticks[2].limit", "whole number", nil},
		{"nothing to cut", func(r *request) { r.Pieces = nil }, "pieces[0].length", "at least one", nil},
		{"nothing to buy", func(r *request) { r.Sticks = []stickRow{{}} }, "sticks[0].length", "at least one", nil},
		{"too few", func(r *request) { r.Sticks = []stickRow{{Length: "16 ft", Price: "26.08", Limit: "1"}} }, "", "not enough", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := job()
			c.change(&r)
			a := ask(t, r)
			if len(a.Faults) != 1 || a.Sheet != "" {
				t.Fatalf("got %v and a sheet of %d bytes", a.Faults, len(a.Sheet))
			}
			f := a.Faults[0]
			if f.Field != c.field || !strings.Contains(f.Message, c.message) || f.Message == "" || c.choices != nil && !slices.Equal(f.Choices, c.choices) {
				t.Errorf("got %+v", f)
			}
			// A choice can replace the text.
			for _, choice := range f.Choices {
				if read(choice) == "" {
					t.Errorf("the choice %q cannot be read", choice)
				}
			}
		})
	}

	// All that is wrong is said at once.
	r := job()
	r.Kerf, r.Pieces[0].Length, r.Sticks[2].Price = "thin", "long", "much"
	if a := ask(t, r); len(a.Faults) != 3 {
		t.Errorf("got %+v", a.Faults)
	}
	if got := respond("answer", "no form", nil); !strings.Contains(got, "cannot be read") {
		t.Errorf("got %s", got)
	}
}

func TestPrice(t *testing.T) {
	for text, want := range map[string]int64{"": 0, "19.08": 1908, "$ 19.08": 1908, "19": 1900, "19.5": 1950, "0.05": 5} {
		f := form{}
		if got := f.price("p", text); got != want || len(f.faults) > 0 {
			t.Errorf("%q is %d cents, %v", text, got, f.faults)
		}
	}
	for _, text := range []string{"19.", ".5", "1,000", "1e3", "19.0 8", "99999999999999999999", "--1", "1.+5"} {
		f := form{}
		if got := f.price("p", text); got != 0 || len(f.faults) != 1 {
			t.Errorf("%q is %d cents, %v", text, got, f.faults)
		}
	}
}

// What the search leaves open is said as money, or as length without prices.
func TestAmount(t *testing.T) {
	if got := fmt.Sprint(money(1207), " ", money(5), " ", money(123456789), " ", length(24384000*3)); got != "$12.07 $0.05 $1,234,567.89 3'" {
		t.Error(got)
	}
}

// A problem's error finds its way back over rows that were left empty.
func TestBlame(t *testing.T) {
	f := form{request: &request{Pieces: make([]pieceRow, 3)}, stickRow: []int{0, 3}, pieceRow: []int{2}, runRow: []int{1}}
	for field, want := range map[string]string{
		"sticks[1].length": "sticks[3].length", "pieces[0].label": "pieces[2].label", "kerf": "kerf", "pieces": "pieces",
		"sticks[1].defects[4].to": "sticks[3].defects", "pieces[0].left.angle": "pieces[2].left_angle", "runs[0].splice.at[2]": "runs[1].at",
		"sticks[0].bundle": "sticks[0].length", "rules.max_pieces": "rules.max_pieces", "pieces[7].length": "pieces[7].length",
		"pieces[99999999999999999999].length": "pieces[99999999999999999999].length", "rules.groups[0].pieces[1]": "pieces",
	} {
		if got := f.blame(&measure.FieldError{Field: field})[0].Field; got != want {
			t.Errorf("%s is at %s, want %s", field, got, want)
		}
	}
}
