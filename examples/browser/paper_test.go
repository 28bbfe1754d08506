package main

import (
	"regexp"
	"strings"
	"testing"
)

var leaf = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// leaves prints the tab and returns the number of pages.
func (b *tab) leaves(name string) int {
	b.t.Helper()
	pdf := b.Print(8.5, 11)
	b.save(name+".pdf", func() []byte { return pdf })
	return len(leaf.FindAll(pdf, -1))
}

// However the page is printed, only the sheet is printed, on as many pages as it takes by itself.
func TestBrowserPaper(t *testing.T) {
	b := page(t)
	alone := b.another()
	value[any](b, "document.querySelector('#pieces input').focus()")
	b.Paste("Array.from({ length: 90 }, (_, i) => `${1 + i % 3} @ ${21 + (i * 7919) % 83} ${1 + (i * 31) % 15}/16 wall ${i}`).join('\\n')")
	b.note("90 pieces were added")
	value[any](b, "document.getElementById('solve').click()")
	b.settled("done")
	html := value[string](b, "document.getElementById('sheet').srcdoc")
	alone.Load(html)
	want := alone.leaves("sheet")
	if want < 3 {
		t.Errorf("the sheet alone takes %d pages", want)
	}
	b.Front()
	value[any](b, `document.getElementById("sheet").contentDocument.querySelector("input").checked = true, window.heard = 0, addEventListener("afterprint", () => heard++)`)
	if got := b.leaves("page"); got != want {
		t.Errorf("the page takes %d pages on paper, the sheet alone %d", got, want)
	}
	b.Until("heard === 1")
	if value[bool](b, `document.querySelector("#paper") !== null || document.title !== "Longpoint: what to buy and how to cut it"`) {
		t.Error("printing left something behind")
	}

	// On paper each part looks as it does on the sheet by itself, ticks come along, and the page
	// of paper is named as the sheet is.
	look := `[...document.querySelectorAll("SCOPE h1, SCOPE h2, SCOPE table, SCOPE td, SCOPE svg, SCOPE p")].filter((e) => !e.matches(".out-of-date")).map((e) => { const s = getComputedStyle(e); return [e.tagName, s.display, s.fontSize, s.fontFamily, s.color, s.borderTop, s.position].join(" "); }).join("\n")`
	for _, x := range []*tab{alone, b} {
		x.Media("print", false)
	}
	value[any](b, "dispatchEvent(new Event('beforeprint'))")
	got, as := value[string](b, strings.ReplaceAll(look, "SCOPE", "#paper")), value[string](alone, strings.ReplaceAll(look, "SCOPE", "body"))
	if got != as || len(got) < 1000 {
		t.Errorf("on paper the sheet looks different:\n%.2000s\nby itself:\n%.2000s", got, as)
	}
	if !value[bool](b, `document.title.includes("Classroom base") && document.querySelector("#paper input").checked`) {
		t.Error("the title or the ticked boxes are missing on paper")
	}
	if n := value[int](b, `document.querySelectorAll("#paper script, #paper iframe").length`); n > 0 {
		t.Errorf("%d animations run on paper", n)
	}
	value[any](b, "dispatchEvent(new Event('afterprint'))")
	b.Media("", false)

	// An outdated sheet prints one page that says so.
	value[any](b, "document.getElementById('kerf').focus()")
	b.Write("1/4")
	if got := b.leaves("stale"); got != 1 {
		t.Errorf("a sheet that is out of date takes %d pages", got)
	}
	b.quiet()
}
