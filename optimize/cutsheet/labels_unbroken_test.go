package cutsheet_test

import (
	"bytes"
	"context"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// escape finds an escaped character, or the rest of one at a line break.
var escape = regexp.MustCompile(`\\(?:u[0-9a-f]{0,4}|U[0-9a-f]{0,8}|x[0-9a-f]{0,2})?`)

// A length in a label is kept on one line like those of the sheet, and so is a character
// that is spelled out.
func TestLabelsUnbroken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		label := rapid.Custom(func(t *rapid.T) string {
			var words []string
			for range rapid.IntRange(1, 12).Draw(t, "words") {
				words = append(words, rapid.SampledFrom([]string{
					"wall", "by the stove", `12' 3"`, `7' 4-3/4"`, "7 ft 4 in", "88 3/4", "2253 mm", "11' 1/2\"", "שלט עץ", "柱と鴨居の間の長い板", "ไทยไม่มีช่องว่าง", "\x1b\x00", "\U000e0041", "9' to 10'",
				}).Draw(t, "word"))
			}
			return strings.Join(words, " ")
		})
		p := optimize.Problem{
			Sticks: []stock.Stick{{Label: label.Draw(t, "stick"), Length: 10 * measure.Foot, Price: 1234567}},
			Pieces: []stock.Piece{{Label: label.Draw(t, "piece"), Length: 3 * measure.Foot, Quantity: 5}},
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		s, err := cutsheet.New(context.Background(), p, plan, &cutsheet.Options{Title: label.Draw(t, "title"), Unicode: rapid.Bool().Draw(t, "unicode")})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := s.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		if found := broken.FindString(b.String()); found != "" {
			t.Errorf("a line ends inside %q\n%s", found, &b)
		}
		for _, e := range escape.FindAllString(b.String(), -1) {
			if len(e) != map[byte]int{'u': 6, 'U': 10, 'x': 4}[append([]byte(e), 0, 0)[1]] {
				t.Errorf("a line ends inside an escaped character: %q\n%s", e, &b)
			}
		}
		b.Reset()
		if err := s.WriteHTML(&b); err != nil {
			t.Fatal(err)
		}
		if found := breakable.FindString(loose(b.String())); found != "" {
			t.Errorf("a browser may break %q", found)
		}
	})
}

// A reader who starts at the top has read the cautions before the first cut.
func TestCautionsBeforeCuts(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot}},
		Pieces: []stock.Piece{{Label: "coat rail", Length: 3 * measure.Foot}},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := cutsheet.New(context.Background(), p, plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, write := range map[string]func(*bytes.Buffer) error{
		"text": func(b *bytes.Buffer) error { return s.WriteText(b) },
		"page": func(b *bytes.Buffer) error { return s.WriteHTML(b) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		if i, j := strings.Index(b.String(), "Saws cause serious injuries"), strings.Index(b.String(), "coat rail"); i < 0 || j < i {
			t.Errorf("%s: cautions at %d, the first cut at %d", name, i, j)
		}
	}
}
