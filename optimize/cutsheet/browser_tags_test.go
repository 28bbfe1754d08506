package cutsheet_test

import (
	"bytes"
	"encoding/json"
	"html"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// A real browser prints the tags of two grids where the label paper has them: 3 x 10 of
// 2-5/8 x 1 in on Letter, and 3 x 8 of 70 x 37 mm on A4 (common sizes; no source). Labels that
// are far too long, of wide letters and of other scripts stay within their tags.
func TestBrowserTags(t *testing.T) {
	if os.Getenv("LONGPOINT_BROWSER") == "" {
		t.Skip("set LONGPOINT_BROWSER to the path of a browser to test the tags in it")
	}
	if testing.Short() {
		t.Skip("takes seconds")
	}
	const in, mm = measure.Inch, measure.Millimeter
	p := optimize.Problem{
		Kerf:   in / 8,
		Sticks: []stock.Stick{{Length: ft(16, 0, 0)}},
		Pieces: []stock.Piece{
			{Label: strings.Repeat("very long label ", 20), Length: ft(12, 11, 9), Room: strings.Repeat("W", 90), Wall: "N", Quantity: 13},
			{Label: strings.Repeat("漢字", 60), Length: ft(3, 0, 0), Room: "مرحبا بالعالم", Notes: []string{strings.Repeat("notch the lower edge; ", 30)}, Quantity: 20},
			{Label: "base", Length: ft(2, 0, 0) + in/77, Left: end(stock.EndOutsideMiter, 135), Right: end(stock.EndRake, -33), Room: "corridor", Quantity: 30},
		},
	}
	for _, c := range []struct {
		name                string
		grid                cutsheet.TagGrid
		left, top           float64 // of the first tag, in inches
		right, down         float64 // to the next one
		width, height       float64
		pageWidth, pageTall float64 // in points
	}{
		{"Letter", cutsheet.TagGrid{
			PageWidth: 17 * in / 2, PageHeight: 11 * in, Columns: 3, Rows: 10, Top: in / 2, Bottom: in / 2, Left: 3 * in / 16, Right: 3 * in / 16, ColumnGap: in / 8,
		}, 0.1875, 0.5, 2.75, 1, 2.625, 1, 612, 792},
		{"A4", cutsheet.TagGrid{
			PageWidth: 210 * mm, PageHeight: 297 * mm, Columns: 3, Rows: 8, Top: mm / 2, Bottom: mm / 2, Skip: 5, ByRoom: true,
		}, 0, 0.5 / 25.4, 70 / 25.4, 37 / 25.4, 70 / 25.4, 37 / 25.4, 595.28, 841.89},
	} {
		dir := t.TempDir()
		s := sheet(t, p, &cutsheet.Options{Tags: c.grid, Job: strings.Repeat("Schoolhouse ", 15), Revision: "12"})
		var page bytes.Buffer
		if err := s.WriteTags(&page); err != nil {
			t.Fatal(err)
		}
		save := func(name, text string) string {
			file := filepath.Join(dir, name)
			if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
			return "file://" + file
		}

		// A copy without the policy reports where the tags are on their pages, in inches, and how far
		// anything visible extends beyond its tag.
		const policy = "default-src &#39;none&#39;; style-src &#39;unsafe-inline&#39;"
		const tell = `const all = [];
for (const tag of document.querySelectorAll(".tag")) {
	const page = tag.parentElement.getBoundingClientRect(), b = tag.getBoundingClientRect();
	let spill = 0;
	for (const e of tag.querySelectorAll(":scope > div, .len, .up, .from")) {
		const r = e.getBoundingClientRect();
		spill = Math.max(spill, r.right - b.right, r.bottom - b.bottom, b.left - r.left, b.top - r.top);
	}
	const len = tag.querySelector(".len");
	all.push([(b.left - page.left) / 96, (b.top - page.top) / 96, b.width / 96, b.height / 96, spill, len.scrollWidth - len.clientWidth]);
}
document.body.textContent = "told " + JSON.stringify(all) + " end"`
		told := strings.Replace(strings.Replace(page.String(), policy, "", 1), "</body>", "<script>"+tell+"</script></body>", 1)
		_, told, _ = strings.Cut(html.UnescapeString(browse(t, dir, "--window-size=1200,1300", "--dump-dom", save("told.html", told))), "told ")
		told, _, _ = strings.Cut(told, " end")
		var tags [][6]float64
		if err := json.Unmarshal([]byte(told), &tags); err != nil || len(tags) != 63 {
			t.Fatalf("%s: %v, %d tags, %.200q", c.name, err, len(tags), told)
		}
		for i, tag := range tags {
			place := (i + c.grid.Skip) % (c.grid.Columns * c.grid.Rows)
			column, row := float64(place%c.grid.Columns), float64(place/c.grid.Columns)
			want := [4]float64{c.left + column*c.right, c.top + row*c.down, c.width, c.height}
			for k := range want {
				if math.Abs(tag[k]-want[k]) > 0.5/96 { // half a point of the screen
					t.Errorf("%s: tag %d has %.4f, want %.4f", c.name, i, tag[:4], want)
					break
				}
			}
			if tag[4] > 0.5 || tag[5] > 0 {
				t.Errorf("%s: tag %d: something reaches %.1f points beyond it, its length lacks %.1f", c.name, i, tag[4], tag[5])
			}
		}

		file := filepath.Join(dir, "tags.pdf")
		browse(t, dir, "--no-pdf-header-footer", "--print-to-pdf="+file, save("tags.html", page.String()))
		pdf, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		boxes := regexp.MustCompile(`/MediaBox\s*\[\s*0\s+0\s+([0-9.]+)\s+([0-9.]+)`).FindAllSubmatch(pdf, -1)
		if len(boxes) != 3 {
			t.Errorf("%s: %d pages, want 3", c.name, len(boxes))
		}
		for _, box := range boxes {
			w, _ := strconv.ParseFloat(string(box[1]), 64)
			h, _ := strconv.ParseFloat(string(box[2]), 64)
			if math.Abs(w-c.pageWidth) > 1 || math.Abs(h-c.pageTall) > 1 {
				t.Errorf("%s: a page of %v by %v points", c.name, w, h)
			}
		}
	}
}
