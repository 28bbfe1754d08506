package paper_test

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/internal/devtools"
)

// browse runs the browser that LONGPOINT_BROWSER names, without a window and in a
// directory of its own, and returns what it prints.
func browse(t *testing.T, dir string, args ...string) string {
	t.Helper()
	browser := os.Getenv("LONGPOINT_BROWSER")
	ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
	defer cancel()
	args = append([]string{
		"--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--disable-dev-shm-usage", "--no-first-run",
		"--disable-extensions", "--disable-background-networking", "--user-data-dir=" + filepath.Join(dir, "profile"),
	}, args...)
	var complaints strings.Builder
	command := exec.CommandContext(ctx, browser, args...)
	command.Stderr = &complaints
	out, err := command.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", browser, err, complaints.String())
	}
	return string(out)
}

// needsBrowser skips a test where no browser is named, and returns a function that saves a
// page and returns its address.
func needsBrowser(t *testing.T) (dir string, save func(name, text string) string) {
	t.Helper()
	if os.Getenv("LONGPOINT_BROWSER") == "" {
		t.Skip("set LONGPOINT_BROWSER to the path of a browser to look at the page in it")
	}
	if testing.Short() {
		t.Skip("takes seconds")
	}
	dir = t.TempDir()
	return dir, func(name, text string) string {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return "file://" + file
	}
}

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

// A real browser shows the papers on a telephone and a screen without pushing them sideways,
// not even hostile ones, and without breaking a length.
func TestBrowserShowsWidths(t *testing.T) {
	dir, save := needsBrowser(t)
	const tell = `function rows(rects) { return new Set(Array.from(rects, r => Math.round(r.top / 4))).size }
const broken = [], texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
for (let n; n = texts.nextNode();) for (const m of n.data.matchAll(/\d+-\d+\/\d+"/g)) {
	const r = document.createRange();
	r.setStart(n, m.index); r.setEnd(n, m.index + m[0].length);
	if (rows(r.getClientRects()) !== 1) broken.push(m[0]);
}
parent.postMessage(location.hash.slice(1) + " wide " + document.documentElement.scrollWidth + " broken [" + broken + "]", "*")`
	pages := map[string]paperOf{"schoolhouse": schoolhouse(), "week": week(), "blank": new(paper.Proposal), "long": long(20)}
	for i, s := range []string{strings.Repeat("w", 5000), "שלום עולם " + strings.Repeat("ש", 300), `</bdi><div style="width:5000px">`} {
		for k, p := range papersOf(s) {
			pages[fmt.Sprintf("hostile-%d-%d", i, k)] = p
		}
	}
	var frames strings.Builder
	want := map[string]bool{}
	for name, p := range pages {
		page := text(t, p.WriteHTML)
		const policy = "default-src &#39;none&#39;; style-src &#39;unsafe-inline&#39;"
		if !strings.Contains(page, policy) {
			t.Fatal("the page has no policy")
		}
		// A copy of the page without its policy tells how wide it is.
		told := strings.Replace(page, policy, "", 1)
		told = strings.Replace(told, "</body>", "<script>"+tell+"</script></body>", 1)
		address := save(name+".html", told)
		for _, width := range []string{"320", "360", "600", "733"} {
			want[name+" wide "+width+" broken []"] = true
			frames.WriteString(`<iframe src="` + address + "#" + name + `" style="border:0;width:` + width + `px;height:1200px"></iframe>`)
		}
	}
	frame := `<!DOCTYPE html><body><ul></ul><script>onmessage = function (e) { const li = document.createElement("li"); li.textContent = e.data; document.querySelector("ul").append(li) }</script>` + frames.String()
	dom := browse(t, dir, "--window-size=800,1300", "--virtual-time-budget=20000", "--dump-dom", save("frame.html", frame))
	for _, m := range regexp.MustCompile(`<li>(.*?)</li>`).FindAllStringSubmatch(dom, -1) {
		if !want[m[1]] {
			t.Errorf("%.200q", m[1])
		}
		delete(want, m[1])
	}
	if len(want) > 0 {
		t.Errorf("missing are %v", slices.Sorted(maps.Keys(want)))
	}
}

// Where a day goes on over several pages, each of them says which day and room it is, and
// nothing that belongs to the next row ends a page.
func TestBrowserKeepsTogether(t *testing.T) {
	dir, save := needsBrowser(t)
	const head, caution, step = "1 0 0", "0 1 0", "0 0 1"
	page := text(t, long(60).WriteHTML)
	marked := strings.Replace(page, "</style>", `* { print-color-adjust: exact; color: #808080 !important; border-color: #808080 !important; }
.caption th { background: #f00; } .before td { background: #0f0; } tr:not(.before) td { background: #00f; } .tick { background: none !important; }
</style>`, 1)
	file := filepath.Join(dir, "paper.pdf")
	browse(t, dir, "--no-pdf-header-footer", "--print-to-pdf="+file, save("paper.html", marked))
	pdf, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	pages := devtools.Filled(t, pdf)
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

// Printed, a proposal takes few pages of either size, each sheet begins on a page of its own,
// and what is long goes on over many.
func TestBrowserPrints(t *testing.T) {
	dir, save := needsBrowser(t)
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
		page := text(t, c.paper.WriteHTML)
		for _, size := range []struct {
			name          string
			width, height float64 // in points
		}{{"letter", 612, 792}, {"A4", 595.28, 841.89}} {
			// The page leaves the size to the printer. Here it is asked for by a rule.
			if size.name == "A4" && c.most > 3 {
				continue // each takes seconds
			}
			sized := strings.Replace(page, "@page {", "@page { size: "+size.name+";", 1)
			if sized == page {
				t.Fatal("the page has no rule for paper")
			}
			file := filepath.Join(dir, "paper.pdf")
			browse(t, dir, "--no-pdf-header-footer", "--print-to-pdf="+file, save("paper.html", sized))
			pdf, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
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
