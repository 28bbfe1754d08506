package paper_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/internal/devtools"
)

// long is a sheet of one day that takes several pages.
func long(steps int) *paper.DaySheets {
	s := &paper.DaySheets{Title: "Schoolhouse workshop", Days: []paper.DaySheet{{Date: date(2026, 12, 7), Crew: "Carpenters"}}}
	for i := range steps {
		s.Days[0].Rooms = append(s.Days[0].Rooms, paper.Work{Room: fmt.Sprint("Room ", i), Steps: []paper.Step{
			{Name: "Fit", From: at(7, 8, 0), To: at(7, 9, 0), Do: []string{"walls N, E, S, W", "check every corner"}, Cautions: []paper.Caution{{Text: fmt.Sprint("Mind step ", i, ".")}}},
			{Name: "Clean", Notes: []string{"sweep " + strings.Repeat("and vacuum ", 7*i%90)}, Cautions: []paper.Caution{{Text: "Mind the dust " + strings.Repeat("and noise ", i%50)}}},
		}})
	}
	return s
}

// A real browser shows the papers on a telephone and a screen without sideways scrolling, not even
// hostile ones, and without breaking a length.
func TestBrowserShowsWidths(t *testing.T) {
	tab := devtools.Open(t)
	const broken = `(() => {
const rows = rects => new Set(Array.from(rects, r => Math.round(r.top / 4))).size;
const broken = [], texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
let lengths = 0;
for (let n; n = texts.nextNode();) for (const m of n.data.matchAll(/\d+-\d+\/\d+"/g)) {
	const r = document.createRange();
	r.setStart(n, m.index); r.setEnd(n, m.index + m[0].length);
	lengths++;
	if (rows(r.getClientRects()) !== 1) broken.push(m[0]);
}
return {lengths, broken};
})()`
	pages := map[string]paperOf{"schoolhouse": schoolhouse(), "week": week(), "blank": new(paper.Proposal), "long": long(20)}
	for i, s := range []string{strings.Repeat("w", 5000), "שלום עולם " + strings.Repeat("ש", 300), `</bdi><div style="width:5000px">`} {
		for k, p := range papersOf(s) {
			pages[fmt.Sprintf("hostile-%d-%d", i, k)] = p
		}
	}
	lengths := 0
	for name, p := range pages {
		page := text(t, p.WriteHTML)
		tab.Screen(320, 1200, false)
		tab.Load(page)
		for _, width := range []int{320, 360, 600, 733} {
			tab.Screen(width, 1200, width < 500)
			if got := devtools.Value[int](tab, "document.documentElement.scrollWidth"); got != width {
				t.Errorf("%s is %d pixels wide on a screen of %d", name, got, width)
			}
			got := devtools.Value[struct {
				Lengths int
				Broken  []string
			}](tab, broken)
			if lengths += got.Lengths; len(got.Broken) > 0 {
				t.Errorf("%s on a screen of %d breaks %q", name, width, got.Broken)
			}
		}
		if err := tab.Complaints(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if lengths < 20 {
		t.Errorf("only %d lengths: this tests nothing", lengths)
	}
}

// If a day takes several pages, each of them names the day and the room, and nothing that belongs to
// the next row ends a page.
func TestBrowserKeepsTogether(t *testing.T) {
	tab := devtools.Open(t)
	const head, caution, step = "1 0 0", "0 1 0", "0 0 1"
	page := text(t, long(60).WriteHTML)
	marked := strings.Replace(page, "</style>", `* { print-color-adjust: exact; color: #808080 !important; border-color: #808080 !important; }
.caption th { background: #f00; } .before td { background: #0f0; } tr:not(.before) td { background: #00f; } .tick { background: none !important; }
</style>`, 1)
	tab.Load(marked)
	pages := devtools.Filled(t, tab.Print(8.5, 11))
	if len(pages) < 10 {
		t.Fatalf("%d pages", len(pages))
	}
	rows := 0
	for i, fills := range pages {
		fills = slices.DeleteFunc(fills, func(c string) bool { return c != head && c != caution && c != step })
		if len(fills) < 2 || fills[0] != head || fills[len(fills)-1] != step {
			t.Errorf("page %d: %q", i+1, fills)
		}
		for _, c := range fills {
			if c == caution {
				rows++
			}
		}
	}
	if rows != 120 { // a caution before each step
		t.Errorf("%d cautions", rows)
	}
}

// Printed, a proposal takes few pages of either size, each sheet begins on its own page, and long
// content continues over many.
func TestBrowserPrints(t *testing.T) {
	tab := devtools.Open(t)
	many := schoolhouse()
	for range 5 {
		many.Scope = append(many.Scope, many.Scope...)
	}
	for _, c := range []struct {
		name        string
		paper       paperOf
		least, most int
	}{
		{"schoolhouse", schoolhouse(), 3, 3}, {"blank", new(paper.Proposal), 1, 2}, {"week", week(), 3, 3}, {"many", many, 10, 30}, {"long", long(40), 15, 30},
	} {
		tab.Load(text(t, c.paper.WriteHTML))
		for _, size := range []struct {
			name          string
			width, height float64 // in points, of which 72 are an inch
		}{{"letter", 612, 792}, {"A4", 595.28, 841.89}} {
			if size.name == "A4" && c.most > 3 {
				continue // each takes seconds
			}
			pdf := tab.Print(size.width/72, size.height/72)
			boxes := regexp.MustCompile(`/MediaBox\s*\[\s*0\s+0\s+([0-9.]+)\s+([0-9.]+)`).FindAllSubmatch(pdf, -1)
			if n := len(boxes); !bytes.HasPrefix(pdf, []byte("%PDF-")) || n < c.least || n > c.most {
				t.Errorf("%s on %s: %d pages, want %d to %d", c.name, size.name, n, c.least, c.most)
			}
			for _, box := range boxes {
				w, _ := strconv.ParseFloat(string(box[1]), 64)
				h, _ := strconv.ParseFloat(string(box[2]), 64)
				if w < size.width-1 || w > size.width+1 || h < size.height-1 || h > size.height+1 {
					t.Errorf("%s: a page of %v by %v points", size.name, w, h)
				}
			}
		}
	}
}
