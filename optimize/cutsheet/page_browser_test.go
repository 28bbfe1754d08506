package cutsheet_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/devtools"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// first is the first job of README.
func first(t *testing.T) *cutsheet.Sheet {
	t.Helper()
	return sheet(t, optimize.Problem{
		Sticks: []stock.Stick{{Length: ft(12, 0, 0), Price: 1908}, {Length: ft(16, 0, 0), Price: 2608}},
		Pieces: []stock.Piece{{Length: ft(12, 1, 6)}, {Length: ft(7, 4, 12)}, {Length: ft(3, 5, 8), Quantity: 2}},
		Kerf:   measure.Inch / 8,
	}, nil)
}

// house is base from n sticks, one piece on each third, two on the others and three on each seventh, no
// two sticks cut alike: the size of a usual house.
func house(t *testing.T, sticks int) *cutsheet.Sheet {
	t.Helper()
	p := optimize.Problem{Kerf: measure.Inch / 8, Sticks: []stock.Stick{{Label: "primed pine", Length: ft(16, 0, 0), Price: 2608}}}
	plan := optimize.Plan{Stop: optimize.StopWork, Cost: 2608 * int64(sticks), Buy: []optimize.Purchase{{Count: sticks, Cost: 2608 * int64(sticks)}}}
	rooms, walls := []string{"classroom", "cloakroom", "corridor", "teacher's room"}, []string{"N", "E", "S", "W"}
	ends := []stock.End{{}, end(stock.EndCope, 0), end(stock.EndInsideMiter, 0), end(stock.EndOutsideMiter, 135)}
	for k := range sticks {
		n := 2
		if k%3 == 0 {
			n = 1
		}
		if k%7 == 0 {
			n = 3
		}
		pattern := optimize.Pattern{Count: 1}
		left := ft(16, 0, 0)
		for i := range n {
			l := ft(4, 0, measure.Length(k))*measure.Length(i+1)/measure.Length(n) + measure.Length(i)*measure.Inch
			pattern.Pieces = append(pattern.Pieces, len(p.Pieces))
			p.Pieces = append(p.Pieces, stock.Piece{
				Label: fmt.Sprintf("%s %s base %d", rooms[k%4], walls[(k+i)%4], k+1), Room: rooms[k%4], Wall: walls[(k+i)%4], Length: l.Round(measure.Inch/16, measure.RoundDown),
				Left: ends[(k+i)%4], Right: ends[(k+2*i+1)%4],
			})
			left -= p.Pieces[len(p.Pieces)-1].Length + p.Kerf
		}
		pattern.Offcut = left
		plan.Patterns = append(plan.Patterns, pattern)
	}
	s, err := cutsheet.New(context.Background(), p, &plan, &cutsheet.Options{
		Title: "Schoolhouse: primed pine base", Job: "Old schoolhouse", Date: "2026-12-07", Revision: "2",
		Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sizes are those of paper, in inches.
var sizes = map[string][2]float64{"letter": {8.5, 11}, "A4": {210 / 25.4, 297 / 25.4}}

// marked is a page whose parts are painted in pure colors for a test: headings, the lines below them,
// the head of the table, the first and the last row of each stick.
func marked(page string) string {
	return strings.Replace(page, "</style>", `* { print-color-adjust: exact; color: #888 !important; border-color: #888 !important; background: none !important; fill: #888 !important; stroke: #888 !important; }
.cuts thead th:first-child { background: #0f0 !important; } .stick .what th { background: #f00 !important; } .stick tr:last-child > :last-child { background: #00f !important; } input { opacity: 0; }
h2 { background: #ff0 !important; } .list td, h2 + p { background: #0ff !important; }
@page { @bottom-right { background: #f0f; } }
</style>`, 1)
}

const headPaint, firstPaint, lastPaint, edgePaint, headingPaint, belowPaint = "0 1 0", "1 0 0", "0 0 1", "1 0 1", "1 1 0", "0 1 1"

// A real browser prints the first job of README on one page, and nine or ten sticks of a usual house on
// each, none of them split, with the head of the table on every page, on both sizes of paper.
func TestBrowserPrintsSticks(t *testing.T) {
	b := devtools.Open(t)
	for size, wh := range sizes {
		for name, c := range map[string]struct {
			s     *cutsheet.Sheet
			least int // sticks on a full page
		}{"first": {first(t), 0}, "house": {house(t, 60), 9}} {
			b.Load(marked(render(t, c.s, renderings[2])))
			pages := devtools.Filled(t, b.Print(wh[0], wh[1]))
			var sticks []int
			for k, fills := range pages {
				if !slices.Contains(fills, edgePaint) {
					t.Errorf("%s, %s, page %d has no number", name, size, k+1)
				}
				fills = slices.DeleteFunc(fills, func(c string) bool { return c == edgePaint })
				if n := len(fills); n > 0 && (fills[n-1] == headingPaint || fills[n-1] == headPaint) {
					t.Errorf("%s, %s: page %d ends with a heading: %v", name, size, k+1, fills)
				}
				fills = slices.DeleteFunc(fills, func(c string) bool { return c != headPaint && c != firstPaint && c != lastPaint })
				if len(fills) == 0 {
					sticks = append(sticks, 0)
					continue
				}
				want := []string{headPaint}
				for range (len(fills) - 1) / 2 {
					want = append(want, firstPaint, lastPaint)
				}
				if !slices.Equal(fills, want) {
					t.Errorf("%s, %s, page %d: %v", name, size, k+1, fills)
				}
				sticks = append(sticks, len(fills)/2)
			}
			t.Logf("%s on %s: sticks on the pages %v", name, size, sticks)
			if name == "first" {
				if !slices.Equal(sticks, []int{2}) {
					t.Errorf("the first job on %s: sticks on the pages %v", size, sticks)
				}
				continue
			}
			begun := slices.IndexFunc(sticks, func(n int) bool { return n > 0 })
			sum, full := 0, 0
			for k, n := range sticks {
				if sum += n; k > begun && sum < 60 {
					if full++; n < c.least {
						t.Errorf("%s on %s: sticks on the pages %v", name, size, sticks)
					}
				}
			}
			if begun != 1 || sum != 60 || full < 4 {
				t.Errorf("%s on %s: sticks on the pages %v", name, size, sticks)
			}
		}
	}
}

// On a telephone a stick fills the screen and its key stays at the top, its bar is as wide as the
// screen, boxes are large enough for a thumb, and checked boxes are counted.
func TestBrowserTelephone(t *testing.T) {
	b := devtools.Open(t)
	b.Screen(390, 844, true)
	s := house(t, 12)
	b.Load(render(t, s, renderings[2]))
	type seen struct {
		Wide, Sticks            int
		Least, Bar, Box, Length float64
		Top, Foot, Snap, Beyond string
	}
	got := devtools.Value[seen](b, `(() => {
	const all = q => [...document.querySelectorAll(q)], box = e => e.getBoundingClientRect();
	const least = (q, f) => Math.min(...all(q).map(e => f(box(e))));
	const third = all(".stick")[2];
	window.scrollTo({top: box(third).top + scrollY + 40, behavior: "instant"});
	return {
		wide: document.documentElement.scrollWidth, sticks: all(".stick").length,
		least: least(".stick", r => r.height), bar: least("svg.bar", r => r.width), box: least("input", r => Math.min(r.width, r.height)),
		length: Math.min(...all(".cuts td.len").map(e => parseFloat(getComputedStyle(e).fontSize))),
		top: document.elementFromPoint(20, 12).closest("tbody")?.querySelector(".key").textContent ?? "none",
		foot: document.elementFromPoint(200, 836).className,
		beyond: all("main *").filter(e => box(e).right > 390).map(e => e.tagName + "." + e.getAttribute("class")).slice(0, 8).join(" "),
		snap: getComputedStyle(document.documentElement).scrollSnapType,
	}
})()`)
	if got.Wide != 390 || got.Sticks != 12 || got.Least < 760 || got.Bar < 360 || got.Box < 24 || got.Length < 19 || got.Top != "C" || got.Foot != "progress" || got.Beyond != "" || !strings.HasPrefix(got.Snap, "y") {
		t.Errorf("%+v", got)
	}
	for n := range 4 {
		if texts := strings.Join(b.Read(), " "); !strings.Contains(texts, fmt.Sprintf("%d of 23 cut", n)) && !strings.Contains(texts, fmt.Sprintf("%d  of 23 cut", n)) {
			t.Errorf("%d boxes are ticked: %s", n, texts)
		}
		devtools.Value[bool](b, fmt.Sprintf(`document.querySelectorAll(".cuts input")[%d].checked = true`, n))
	}
}

// Screens that are set to be dark are dark; paper is black on white whatever the screen.
func TestBrowserDark(t *testing.T) {
	b := devtools.Open(t)
	p, o := base()
	b.Load(render(t, sheet(t, p, o), renderings[2]))
	const colors = `[getComputedStyle(document.body).backgroundColor, getComputedStyle(document.body).color, getComputedStyle(document.querySelector(".shapes .pc")).fill].join(" ")`
	const onPaper = "rgb(255, 255, 255) rgb(28, 35, 40) rgb(243, 231, 207)"
	for _, c := range []struct {
		media string
		dark  bool
		want  string
	}{
		{"screen", false, onPaper},
		{"screen", true, "rgb(20, 24, 27) rgb(236, 239, 241) rgb(74, 64, 48)"},
		{"print", false, onPaper},
		{"print", true, onPaper},
	} {
		b.Media(c.media, c.dark)
		if got := devtools.Value[string](b, colors); got != c.want {
			t.Errorf("%s, dark %v: %s, want %s", c.media, c.dark, got, c.want)
		}
	}
}

// axe finds nothing to mend, on a wide screen and on a telephone, light and dark. Its program is
// named by LONGPOINT_AXE.
func TestBrowserAxe(t *testing.T) {
	file := os.Getenv("LONGPOINT_AXE")
	if file == "" {
		t.Skip("set LONGPOINT_AXE to the path of axe.min.js to have the page looked through")
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	b := devtools.Open(t)
	pages := map[string]string{}
	for name, job := range jobs {
		p, o := job()
		if o == nil {
			o = new(cutsheet.Options)
		}
		o.ProofDetails = true
		s := sheet(t, p, o)
		pages[name] = render(t, s, renderings[2])
		var tags strings.Builder
		if err := s.WriteTags(&tags); err != nil {
			t.Fatal(err)
		}
		pages[name+" tags"] = tags.String()
	}
	pages["bad"] = regexp.MustCompile(` aria-label="[^"]*"`).ReplaceAllString(pages["plain"], "") // which is found
	for name, page := range pages {
		for _, screen := range []struct {
			width     int
			telephone bool
			dark      bool
		}{{1200, false, false}, {390, true, false}, {390, true, true}} {
			b.Screen(screen.width, 844, screen.telephone)
			b.Media("screen", screen.dark)
			b.Load(page)
			devtools.Value[any](b, string(axe)+";0")
			found := devtools.Value[string](b, `axe.run(document, {resultTypes: ["violations"]}).then(r => JSON.stringify({passed: r.passes.length, violations: r.violations.map(v => [v.id, v.help, v.nodes.slice(0, 3).map(n => n.html)])}))`)
			var result struct {
				Passed     int
				Violations []json.RawMessage
			}
			if err := json.Unmarshal([]byte(found), &result); err != nil {
				t.Fatal(err)
			}
			if (len(result.Violations) > 0) != (name == "bad") || result.Passed < 8 {
				t.Errorf("%s, %+v: %d rules hold; %.1500s", name, screen, result.Passed, result.Violations)
			}
		}
	}
}

// Lengths fit their column, the words of a bar never overlap, and nothing pushes the page
// sideways, in any locale and with hostile labels too, on paper, a screen and a telephone.
func TestBrowserWordsFit(t *testing.T) {
	b := devtools.Open(t)
	const faults = `(() => {
	const found = [], all = (e, q) => [...e.querySelectorAll(q)], seen = e => e.getClientRects().length > 0;
	if (document.documentElement.scrollWidth > innerWidth) found.push("the page is " + document.documentElement.scrollWidth + " wide: " + all(document, "main *").filter(e => e.getBoundingClientRect().right > innerWidth).map(e => e.tagName + "." + e.getAttribute("class")).slice(0, 4));
	for (const td of all(document, ".cuts td.len")) {
		const r = document.createRange(), c = td.getBoundingClientRect();
		r.selectNodeContents(td);
		const t = r.getBoundingClientRect();
		if (t.left < c.left - 1 || t.right > c.right + 1) found.push("length " + td.textContent);
	}
	for (const bar of all(document, "svg.bar")) {
		const c = bar.getBoundingClientRect(), texts = all(bar, "text").filter(seen).map(t => [t.getBoundingClientRect(), t.textContent]).sort((a, b) => a[0].left - b[0].left);
		texts.forEach(([r, t], i) => {
			if (r.left < c.left - 2 || r.right > c.right + 2) found.push("beyond " + t);
			if (i > 0 && r.left < texts[i - 1][0].right) found.push("overlap " + t);
		});
	}
	return found.slice(0, 5).join("; ");
})()`
	captions := 0
	for name, job := range jobs {
		for _, locale := range []measure.Locale{{}, {Metric: true, DecimalComma: true}, {Length: measure.Style{Spoken: true, Graduation: measure.Inch / 16}}, {Length: measure.Style{Unit: measure.Inch, Graduation: measure.Inch / 64}}} {
			p, o := job()
			if o == nil {
				o = new(cutsheet.Options)
			}
			o.Locale = locale
			page := render(t, sheet(t, p, o), renderings[2])
			captions += strings.Count(page, "<text>")
			for _, screen := range []struct {
				width int
				media string
			}{{710, "print"}, {1100, "screen"}, {360, "screen"}} {
				b.Screen(screen.width, 900, screen.width < 400)
				b.Media(screen.media, false)
				b.Load(page)
				if found := devtools.Value[string](b, faults); found != "" {
					t.Errorf("%s, %+v, %+v: %s", name, locale, screen, found)
				}
			}
		}
	}
	if captions < 300 {
		t.Errorf("%d words", captions)
	}
}

// Offcuts in three columns stay in them on paper; those of longer lengths have one column.
func TestBrowserColumnsOfOffcuts(t *testing.T) {
	b := devtools.Open(t)
	p := optimize.Problem{Sticks: []stock.Stick{{Label: "pine", Length: 20 * measure.Foot, Price: 3000}}, Rules: optimize.Rules{MaxPieces: 1}}
	for i := range measure.Length(60) {
		p.Pieces = append(p.Pieces, stock.Piece{Length: 9*measure.Foot + (i+1)*measure.Inch/64})
	}
	b.Screen(710, 900, false)
	b.Media("print", false)
	for _, spoken := range []bool{false, true} {
		o := &cutsheet.Options{Locale: measure.Locale{Length: measure.Style{Graduation: measure.Inch / 64, Spoken: spoken}}}
		b.Load(render(t, sheet(t, p, o), renderings[2]))
		if got := devtools.Value[bool](b, `document.querySelector(".kept") !== null`); got == spoken {
			t.Errorf("spoken %t: in columns %t", spoken, got)
		}
		if wide := devtools.Value[float64](b, "document.documentElement.scrollWidth"); wide > 710 {
			t.Errorf("spoken %t: the page is %v wide", spoken, wide)
		}
		if rows := devtools.Value[[]string](b, `[...document.querySelectorAll(".kept")].flatMap(kept => {
	const gap = parseFloat(getComputedStyle(kept).columnGap), room = (kept.getBoundingClientRect().width - 2 * gap) / 3;
	return [...kept.querySelectorAll("tr")].filter(tr => tr.getBoundingClientRect().width > room + 1).map(tr => tr.textContent + " " + tr.getBoundingClientRect().width + " of " + room);
}).slice(0, 3)`); len(rows) > 0 {
			t.Errorf("wider than their column: %q", rows)
		}
	}
}
