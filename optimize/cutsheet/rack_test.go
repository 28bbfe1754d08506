package cutsheet_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// Whoever fetches offcuts has the list, not the patterns: of two that are equally long it
// says which is which, in every rendering.
func TestListNamesOffcuts(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{ID: "coat-rail/2", Length: 2 * measure.Foot, Limit: 1, Rack: true},
			{ID: "coat-rail/7", Label: "by the stove", Length: 2 * measure.Foot, Limit: 1, Rack: true},
			{Label: "one of many", Length: 3 * measure.Foot, Limit: 1, Rack: true},
		},
		Pieces: []stock.Piece{{Length: 20 * measure.Inch, Quantity: 2}, {Length: 3 * measure.Foot}},
	}
	s, err := cutsheet.New(context.Background(), p, solve(t, p), nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, write := range map[string]func(*bytes.Buffer) error{
		"text": func(b *bytes.Buffer) error { return s.WriteText(b) },
		"html": func(b *bytes.Buffer) error { return s.WriteHTML(b) },
		"csv":  func(b *bytes.Buffer) error { return s.WriteCSV(b) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		list := b.String()
		switch name {
		case "text":
			list, _, _ = strings.Cut(list, "Before you cut")
		case "html":
			list, _, _ = strings.Cut(list, "<svg")
		case "csv":
			list, _, _ = strings.Cut(list, "\"piece\"")
		}
		for _, want := range []string{"as coat-rail/2", "as coat-rail/7", "by the stove", "one of many"} {
			if !strings.Contains(list, want) {
				t.Errorf("%s: the list does not say %q\n%s", name, want, list)
			}
		}
	}
}
