package cutsheet_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"html"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// TestShortRemnants compares the marks of every rendering with remnants that are computed
// piece by piece.
func TestShortRemnants(t *testing.T) {
	marked := 0
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string, least, most int) measure.Length {
			return measure.Length(rapid.IntRange(least, most).Draw(t, name)) * measure.Inch / 4
		}
		p := optimize.Problem{Kerf: length("kerf", 0, 1), MinRemnant: length("least", 0, 80)}
		for range rapid.IntRange(1, 2).Draw(t, "sticks") {
			p.Sticks = append(p.Sticks, stock.Stick{Length: length("stick", 40, 100), TrimStart: length("trim", 0, 4)})
		}
		for range rapid.IntRange(1, 6).Draw(t, "pieces") {
			// No two are alike, so that the page gathers no sticks.
			p.Pieces = append(p.Pieces, stock.Piece{Length: length("piece", 8, 36), Notes: []string{strings.Repeat("i", len(p.Pieces)+1)}})
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		least := p.MinRemnant
		if least == 0 {
			least = 8 * measure.Inch
		}
		type at struct {
			Pattern int            `json:"pattern"`
			Place   int            `json:"place"`
			Remnant measure.Length `json:"remnant"`
		}
		var want []at
		cuts := 0 // rows with a note: equal pieces in a row are one
		for k, pat := range plan.Patterns {
			s := &p.Sticks[pat.Stick]
			left := s.Length - s.TrimStart
			for j, i := range pat.Pieces {
				if l := p.Pieces[i].Length; left < least && left > l {
					want = append(want, at{k, j, left})
					cuts++ // no piece is wanted twice
				}
				left -= p.Pieces[i].Length + p.Kerf
			}
		}
		marked += cuts

		s, err := cutsheet.New(context.Background(), p, plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		const note = "cut from a remnant of only "
		var b bytes.Buffer
		if err := s.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(strings.Join(strings.Fields(b.String()), " "), note); n != cuts {
			t.Errorf("%d notes in the text, want %d\n%s", n, cuts, &b)
		}
		b.Reset()
		if err := s.WriteHTML(&b); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(html.UnescapeString(b.String()), note); n != cuts {
			t.Errorf("%d notes on the page, want %d", n, cuts)
		}
		b.Reset()
		if err := s.WriteCSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, r := range rows {
			if strings.Contains(r[len(r)-2], note) {
				n++
				if r[0] != "piece" {
					t.Errorf("a note beside %q", r)
				}
			}
		}
		if n != cuts {
			t.Errorf("%d notes in the table, want %d", n, cuts)
		}
		b.Reset()
		if err := s.WriteJSON(&b); err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Care []at `json:"care"`
		}
		if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
			t.Fatal(err)
		}
		if len(doc.Care) != len(want) {
			t.Fatalf("JSON has %v, want %v", doc.Care, want)
		}
		for k := range want {
			if doc.Care[k] != want[k] {
				t.Errorf("JSON has %v, want %v", doc.Care[k], want[k])
			}
		}
	})
	if !testing.Short() && marked < 20 {
		t.Errorf("only %d pieces are cut from short remnants", marked)
	}
}
