package cutsheet_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// Of equal pieces in a row, which are one line of the sheet, several may come from short remnants: the
// line gives their number, from the first remnant to the last.
func TestShortRemnantsOfEqualPieces(t *testing.T) {
	several := 0
	rapid.Check(t, func(t *rapid.T) {
		whole := func(name string, least, most int) measure.Length {
			return measure.Length(rapid.IntRange(least, most).Draw(t, name)) * measure.Inch
		}
		p := optimize.Problem{
			Kerf:       whole("kerf", 0, 1) / 8,
			Sticks:     []stock.Stick{{Length: whole("stick", 20, 60)}},
			MinRemnant: whole("least", 0, 25),
		}
		n := rapid.IntRange(1, 3).Draw(t, "kinds")
		for range n {
			p.Pieces = append(p.Pieces, stock.Piece{Length: whole("piece", 2, 9), Quantity: rapid.IntRange(1, 9).Draw(t, "quantity")})
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1_000_000})
		if err != nil {
			t.Skip(err)
		}
		least := p.MinRemnant
		if least == 0 {
			least = 8 * measure.Inch
		}
		style := measure.Style{Graduation: measure.Inch / 16}
		var want []string
		for _, pat := range plan.Patterns {
			left := p.Sticks[pat.Stick].Length
			for j := 0; j < len(pat.Pieces); {
				i, row := pat.Pieces[j], 0
				var short []measure.Length
				for ; j < len(pat.Pieces) && pat.Pieces[j] == i; j, row = j+1, row+1 {
					if l := p.Pieces[i].Length; left < least && left > l {
						short = append(short, left)
					}
					left -= p.Pieces[i].Length + p.Kerf
				}
				if len(short) == 0 {
					continue
				}
				last := short[len(short)-1].Format(style)
				switch {
				case len(short) > 1:
					several++
					which := fmt.Sprintf("the last %d", len(short))
					if len(short) == row {
						which = fmt.Sprintf("all %d", row)
					}
					want = append(want, which+" cut from remnants of only "+short[0].Format(style)+" down to "+last+": clamp them;")
				case row > 1:
					want = append(want, "the last cut from a remnant of only "+last+": clamp it;")
				default:
					want = append(want, "cut from a remnant of only "+last+": clamp it;")
				}
			}
		}
		s, err := cutsheet.New(context.Background(), p, plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := s.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(b.String()), " ")
		for _, w := range want {
			_, rest, found := strings.Cut(text, w)
			if !found {
				t.Fatalf("the sheet does not say %q\n%s", w, &b)
			}
			text = rest
		}
		if strings.Contains(text, "clamp") {
			t.Errorf("the sheet warns of more than %q\n%s", want, &b)
		}
	})
	if several == 0 && !testing.Short() { // which draws few
		t.Error("no row had two short remnants: this tests nothing")
	}
}
