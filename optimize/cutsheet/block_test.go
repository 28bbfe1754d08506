package cutsheet_test

import (
	"context"
	"fmt"
	"html"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// cutAs makes the sheet of a plan that states how each stick is cut.
func cutAs(t interface {
	Helper()
	Fatal(...any)
}, p optimize.Problem, o *cutsheet.Options, patterns ...[]int) *cutsheet.Sheet {
	t.Helper()
	plan := optimize.Plan{ByLength: true, Stop: optimize.StopWork}
	for _, pieces := range patterns {
		st := &p.Sticks[0]
		left := st.Length
		for _, i := range pieces {
			left -= p.Pieces[i].Length + p.Kerf
		}
		plan.Patterns = append(plan.Patterns, optimize.Pattern{Count: 1, Pieces: pieces, Offcut: max(left, 0)})
		plan.Cost += int64(st.Length)
	}
	plan.Buy = []optimize.Purchase{{Count: len(patterns), Cost: plan.Cost}}
	s, err := cutsheet.New(context.Background(), p, &plan, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var block = regexp.MustCompile(`(?s)<tbody class="stick.*?</tbody>`)

// blocksOf are the blocks of sticks of a page.
func blocksOf(t *testing.T, s *cutsheet.Sheet) []string {
	t.Helper()
	return block.FindAllString(render(t, s, renderings[2]), -1)
}

// Sticks that differ only in the labels and places of their pieces are one block; any other difference
// makes two.
func TestSticksCutAlikeAreOneBlock(t *testing.T) {
	legs := func(change func(second *stock.Piece)) []string {
		p := optimize.Problem{
			Sticks: []stock.Stick{{Length: ft(8, 0, 0)}},
			Pieces: []stock.Piece{
				{Label: "door leg left", Length: ft(6, 10, 0), Room: "classroom", Wall: "N", Left: board},
				{Label: "door leg left", Length: ft(6, 10, 0), Room: "classroom", Wall: "N", Left: board},
			},
		}
		change(&p.Pieces[1])
		return blocksOf(t, cutAs(t, p, &cutsheet.Options{Hold: []cutsheet.Hold{{Room: "corridor"}}}, []int{0}, []int{1}))
	}
	for name, c := range map[string]struct {
		change func(*stock.Piece)
		blocks int
		says   string
	}{
		"nothing": {func(*stock.Piece) {}, 1, "<bdi>door leg left</bdi></td>"},
		"label":   {func(p *stock.Piece) { p.Label = "window leg" }, 1, `<span class="of">A</span> <bdi>door leg left</bdi>; <span class="of">B</span> <bdi>window leg</bdi>`},
		"wall":    {func(p *stock.Piece) { p.Wall = "S" }, 1, "<bdi>door leg left</bdi></td>"},
		"room":    {func(p *stock.Piece) { p.Room = "cloakroom" }, 1, "<bdi>door leg left</bdi></td>"},
		"length":  {func(p *stock.Piece) { p.Length += measure.Inch / 16 }, 2, ""},
		"end":     {func(p *stock.Piece) { p.Left, p.Right = p.Right, p.Left }, 2, ""},
		"notes":   {func(p *stock.Piece) { p.Notes = []string{"notch"} }, 2, "only this piece: notch"},
		"waits":   {func(p *stock.Piece) { p.Room = "corridor" }, 2, "wait: corridor is on hold"},
	} {
		got := legs(c.change)
		if len(got) != c.blocks || !strings.Contains(strings.Join(got, ""), c.says) {
			t.Errorf("%s: %d blocks, want %d with %q\n%s", name, len(got), c.blocks, c.says, got)
		}
		if c.blocks == 1 && (!strings.Contains(got[0], `<span class="key">A</span> <span class="key">B</span>`) || !strings.Contains(got[0], "sticks 1 and 2 of 2")) {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// Sticks on hold come after the others, in a section that gives the reason, and the numbers of the
// sticks continue.
func TestHeldBackIsApart(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: ft(8, 0, 0)}},
		Pieces: []stock.Piece{{Label: "sill W", Length: ft(5, 0, 0), Room: "cloakroom"}, {Label: "sill E", Length: ft(5, 1, 0), Room: "classroom"}},
	}
	page := render(t, cutAs(t, p, &cutsheet.Options{Hold: []cutsheet.Hold{{Room: "cloakroom", Reason: "The window is out of plumb."}}}, []int{0}, []int{1}), renderings[2])
	for _, want := range []string{"<h2>To cut</h2>", "stick 1 of 2", "sill E", "<h2>On hold</h2>", "cloakroom, 1 piece: The window is out of plumb.", "stick 2 of 2", "sill W"} {
		_, after, found := strings.Cut(page, want)
		if !found {
			t.Fatalf("no %q after the previous text", want)
		}
		page = after
	}
}

// However sticks are gathered, each piece has one box, each stick one number, and each key one
// block.
func TestBlocksHoldEverything(t *testing.T) {
	number := regexp.MustCompile(`sticks? (\d+)(?: (?:to|and) (\d+))? of (\d+)<`)
	key := regexp.MustCompile(`<span class="key">([A-Z]+)</span>`)
	rapid.Check(t, func(rt *rapid.T) {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: ft(16, 0, 0)}}, Kerf: measure.Inch / 8}
		var patterns [][]int
		for range rapid.IntRange(1, 12).Draw(rt, "sticks") {
			var pieces []int
			for range rapid.IntRange(1, 3).Draw(rt, "pieces") {
				pieces = append(pieces, len(p.Pieces))
				p.Pieces = append(p.Pieces, stock.Piece{
					Label: fmt.Sprint("rail ", len(p.Pieces)), Length: ft(rapid.SampledFrom([]measure.Length{2, 3}).Draw(rt, "feet"), 0, 0),
					Room: rapid.SampledFrom([]string{"", "corridor", "cloakroom"}).Draw(rt, "room"),
				})
			}
			patterns = append(patterns, pieces)
		}
		page := html.UnescapeString(render(t, cutAs(rt, p, &cutsheet.Options{Hold: []cutsheet.Hold{{Room: "corridor"}}}, patterns...), renderings[2]))
		next, keys, boxes, places := 1, map[string]bool{}, 0, 0
		for _, b := range block.FindAllString(page, -1) {
			m := number.FindStringSubmatch(b)
			if m == nil || m[1] != strconv.Itoa(next) || m[3] != strconv.Itoa(len(patterns)) {
				rt.Fatalf("sticks %q, want from %d of %d", m, next, len(patterns))
			}
			n := 1
			if m[2] != "" {
				last, err := strconv.Atoi(m[2])
				if err != nil {
					rt.Fatal(err)
				}
				n = last - next + 1
			}
			next += n
			all := key.FindAllStringSubmatch(b, -1)
			if len(all) != n {
				rt.Errorf("%d sticks with %d keys", n, len(all))
			}
			for _, k := range all {
				if keys[k[1]] {
					rt.Errorf("%s is in two blocks", k[1])
				}
				keys[k[1]] = true
			}
			boxes += strings.Count(b, `aria-label="cut `)
			for _, w := range regexp.MustCompile(`<span class="write"> </span> of (\d+)<`).FindAllStringSubmatch(b, -1) {
				n, err := strconv.Atoi(w[1])
				if err != nil {
					rt.Fatal(err)
				}
				places += n
			}
		}
		if next != len(patterns)+1 || boxes+places != len(p.Pieces) {
			rt.Errorf("%d sticks of %d, boxes for %d pieces of %d", next-1, len(patterns), boxes+places, len(p.Pieces))
		}
		for i := range p.Pieces {
			if !strings.Contains(page, "<bdi>"+p.Pieces[i].Label+"</bdi>") {
				rt.Errorf("no %s", p.Pieces[i].Label)
			}
		}
	})
}
