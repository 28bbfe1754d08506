package cutsheet_test

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// browse runs the browser that LONGPOINT_BROWSER names, headless and in its own directory, and returns
// its output.
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

// look returns the text that the browser displays.
func look(t *testing.T, dir string, args ...string) image.Image {
	t.Helper()
	shot := filepath.Join(dir, "shot.png")
	browse(t, dir, append([]string{"--screenshot=" + shot}, args...)...)
	f, err := os.Open(shot)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	picture, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

// A real browser shows the drawing and prints the page on both sizes of paper.
func TestBrowser(t *testing.T) {
	if os.Getenv("LONGPOINT_BROWSER") == "" {
		t.Skip("set LONGPOINT_BROWSER to the path of a browser to test the page in it")
	}
	if testing.Short() {
		t.Skip("takes seconds")
	}
	dir := t.TempDir()
	p, o := boards()
	s := sheet(t, p, o)
	save := func(name, text string) string {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return "file://" + file
	}
	page := render(t, s, renderings[2])

	picture := look(t, dir, "--window-size=800,600", save("sheet.svg", render(t, s, renderings[1])))
	// Pieces, text and page: a drawing that fails to load is one color, or an
	// error message without the color of a piece.
	seen := make(map[[3]uint32]int)
	for y := range 600 {
		for x := range 800 {
			r, g, b, _ := picture.At(x, y).RGBA()
			seen[[3]uint32{r >> 8, g >> 8, b >> 8}]++
		}
	}
	for name, c := range map[string][3]uint32{"pieces": {0xf3, 0xe7, 0xcf}, "text": {0x1c, 0x23, 0x28}, "page": {0xff, 0xff, 0xff}} {
		if seen[c] < 200 {
			t.Errorf("%d points have the color of the %s", seen[c], name)
		}
	}

	// A screen as narrow as a telephone, and one as wide as the printed area of US letter, shows the
	// page without sideways scrolling, breaks no length and has the boxes of a cut in one row. The
	// frame is that screen; a copy of the page without its policy reports its width.
	const tell = `function rows(rects) { return new Set(Array.from(rects, r => Math.round(r.top / 4))).size }
const broken = [], texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
for (let n; n = texts.nextNode();) {
	if (n.parentElement.closest("svg")) continue;
	for (const m of n.data.matchAll(/\d+' \d+(-\d+\/\d+)?"|\d+-\d+\/\d+"/g)) {
		const r = document.createRange();
		r.setStart(n, m.index); r.setEnd(n, m.index + m[0].length);
		if (rows(r.getClientRects()) !== 1) broken.push(m[0]);
	}
}
const stacks = Array.from(document.querySelectorAll("td"), td => rows(Array.from(td.querySelectorAll("input"), i => i.getBoundingClientRect())));
parent.postMessage("wide " + document.documentElement.scrollWidth + " lengths " + document.querySelectorAll(".one").length + " broken [" + broken + "] rows " + Math.max(...stacks), "*")`
	many := render(t, sheet(t, optimize.Problem{
		Sticks: []stock.Stick{{Label: "poplar", Length: 8 * measure.Foot}},
		Pieces: []stock.Piece{
			{Label: "notice stile that stands beside the door of the cloakroom", Length: ft(4, 2, 3), Quantity: 9},
			{Label: "peg", Length: ft(0, 4, 3), Quantity: 9},
		},
	}, nil), renderings[2])
	for _, width := range []string{"320", "400", "700", "733", "733 many"} {
		page := page
		if w, ok := strings.CutSuffix(width, " many"); ok {
			width, page = w, many
		}
		const policy = "default-src &#39;none&#39;; style-src &#39;unsafe-inline&#39;"
		if !strings.Contains(page, policy) {
			t.Fatal("the page has no policy")
		}
		told := strings.Replace(page, policy, "", 1)
		told = strings.Replace(told, "</body>", "<script>"+tell+"</script></body>", 1)
		frame := `<!DOCTYPE html><body><p id="wide">unknown</p><script>onmessage = function (e) { document.getElementById("wide").textContent = e.data }</script>` +
			`<iframe src="` + save("told.html", told) + `" style="border:0;width:` + width + `px;height:1200px"></iframe>`
		dom := browse(t, dir, "--window-size=800,1300", "--virtual-time-budget=5000", "--dump-dom", save("frame.html", frame))
		i := max(0, strings.Index(dom, "wide "))
		told, _, _ = strings.Cut(dom[i:], "<")
		if ok, _ := regexp.MatchString("^wide "+width+` lengths [1-9]\d* broken \[\] rows 1$`, told); !ok {
			t.Errorf("on a screen %s wide the page is %.200q", width, told)
		}
	}

	// The page leaves the size to the printer. Here a rule sets it.
	for _, paper := range []struct {
		size          string
		width, height float64 // in points
	}{{"letter", 612, 792}, {"A4", 595.28, 841.89}} {
		sized := strings.Replace(page, "@page {", "@page { size: "+paper.size+";", 1)
		if sized == page {
			t.Fatal("the page has no rule for paper")
		}
		file := filepath.Join(dir, paper.size+".pdf")
		browse(t, dir, "--no-pdf-header-footer", "--print-to-pdf="+file, save(paper.size+".html", sized))
		pdf, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		boxes := regexp.MustCompile(`/MediaBox\s*\[\s*0\s+0\s+([0-9.]+)\s+([0-9.]+)`).FindAllSubmatch(pdf, -1)
		if !bytes.HasPrefix(pdf, []byte("%PDF-")) || len(boxes) < 3 || len(boxes) > 8 {
			t.Errorf("%s: %d pages", paper.size, len(boxes))
		}
		for _, box := range boxes {
			w, _ := strconv.ParseFloat(string(box[1]), 64)
			h, _ := strconv.ParseFloat(string(box[2]), 64)
			if w < paper.width-1 || w > paper.width+1 || h < paper.height-1 || h > paper.height+1 {
				t.Errorf("%s: a page of %v by %v points", paper.size, w, h)
			}
		}
	}
}
