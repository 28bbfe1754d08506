package cutsheet_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/optimize/cutsheet"
)

// The edges of all pages identify the paper: title, job, date and revision, fingerprint, page number
// and number of pages. Whatever the texts are, they stay texts, and are short.
func TestEdgesOfPages(t *testing.T) {
	number := regexp.MustCompile(`\\[0-9a-f]{6}`)
	for name, o := range map[string]cutsheet.Options{
		"all":     {Title: "Base", Job: "Old schoolhouse", Date: "7 Dec 2026", Revision: "B"},
		"none":    {},
		"hostile": {Title: `"; } </style><script>` + strings.Repeat("w", 500), Job: "a\nb\x00 " + strings.Repeat("窓", 90), Date: `\"`, Revision: "*/ } @page { size: 1cm"},
	} {
		p, _ := plain()
		s := sheet(t, p, &o)
		page := render(t, s, renderings[2])
		_, style, _ := strings.Cut(page, "<style>")
		style, _, _ = strings.Cut(style, "</style>")
		if strings.Count(style, "{") != strings.Count(style, "}") || strings.Contains(style, "<") {
			t.Errorf("%s: a text ends its string", name)
		}
		edge := func(where string) string {
			m := regexp.MustCompile(`\n  @` + where + ` { content: "([^"]*)"; }`).FindStringSubmatch(style)
			if m == nil {
				t.Fatalf("%s: nothing at %s", name, where)
			}
			return number.ReplaceAllStringFunc(m[1], func(s string) string {
				n, err := strconv.ParseInt(s[1:], 16, 32)
				if err != nil {
					t.Fatal(err)
				}
				return string(rune(n))
			})
		}
		if got := edge("bottom-left"); got != "fingerprint "+s.Fingerprint() {
			t.Errorf("%s: at the bottom %q", name, got)
		}
		if !strings.Contains(style, `@bottom-right { content: "page " counter(page) " of " counter(pages); }`) {
			t.Errorf("%s: pages have no numbers", name)
		}
		left, right := edge("top-left"), edge("top-right")
		switch {
		case name == "all" && (left != "Base · Old schoolhouse" || right != "7 Dec 2026 · revision B"),
			name == "none" && (left != "Cut sheet" || right != ""),
			len([]rune(left)) > 100 || len([]rune(right)) > 50:
			t.Errorf("%s: at the top %q and %q", name, left, right)
		}
	}
}

// How the proof was made is folded away on a screen and left out on paper, unless it is asked for;
// the one line that says how good the plan is stands last in any case.
func TestProofDetailsOnRequest(t *testing.T) {
	p, _ := plain()
	for _, asked := range []bool{false, true} {
		page := render(t, sheet(t, p, &cutsheet.Options{ProofDetails: asked}), renderings[2])
		if open := strings.Contains(page, `<details open="open">`); open != asked || strings.Count(page, "<details") != 1 {
			t.Errorf("asked for %v: open %v", asked, open)
		}
		_, style, _ := strings.Cut(page, "@media print {")
		if !strings.Contains(style[:strings.Index(style, "\n}")], "details:not([open]) { display: none; }") {
			t.Error("folded sections are on paper")
		}
		last := page[strings.LastIndex(page, "<section"):]
		if !strings.Contains(last, "Proven: no plan takes less stock than") || strings.Contains(last, "Left over") {
			t.Errorf("last comes %s", last)
		}
	}
}
