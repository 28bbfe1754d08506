package main

import (
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A table of amounts that is too wide for the page stacks its cells. No line of it is blank, so that it
// stays one block of the page, and a row of one cell may come first.
func TestWideTable(t *testing.T) {
	long := "poplar casing " + strings.Repeat("x", phoneWidth)
	for _, test := range []struct {
		rows [][]string
		want string
	}{
		{[][]string{{"2 x", "12'", long, "$19"}, {"", "", "total", "$38"}},
			"  2 x\n      12', poplar casing\n      " + strings.Repeat("x", phoneWidth-6) + "\n      xxxxxx, $19\n      total, $38\n"},
		{[][]string{{"", "long", "of", "price"}, {"1 x", "8'", long[:phoneWidth], "$7"}},
			"  1 x\n      long 8', of poplar casing\n      " + strings.Repeat("x", phoneWidth-14) + ", price\n      $7\n"},
		{[][]string{{"a note"}, {"1 x", "8'", long[:phoneWidth], "$7"}},
			"      a note\n  1 x\n      8', poplar casing\n      " + strings.Repeat("x", phoneWidth-14) + ", $7\n"},
		{[][]string{{"", "", long[:phoneWidth], "$7"}},
			"      poplar casing\n      " + strings.Repeat("x", phoneWidth-14) + ", $7\n"},
	} {
		p := &page{width: phoneWidth}
		p.table("  ", "rrlr", test.rows)
		if got := p.b.String(); got != test.want {
			t.Errorf("%q became\n%swant\n%s", test.rows, got, test.want)
		}
	}
}

// A stick waits for every room that is to be measured again, not only for the first.
func TestStickWaitsForAllRooms(t *testing.T) {
	p := optimize.Problem{Pieces: []stock.Piece{{Room: "classroom"}, {Room: "cloakroom"}, {}, {Room: "corridor"}}}
	got := roomsOf(p, optimize.Pattern{Pieces: []int{3, 2, 1, 3, 0}}, map[string]bool{"classroom": true, "corridor": true})
	if want := []string{"corridor", "classroom"}; !slices.Equal(got, want) {
		t.Errorf("it waits for %q, want %q", got, want)
	}
}
