package paper_test

import (
	"encoding/xml"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/finish/paper"
)

// attr returns the value of an attribute, or "".
func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// Accessibility of the page: a language, headings in order, table heads with their scope, a name for
// each box (WCAG 2.2, success criteria 1.3.1, 2.4.6, 3.1.1, 4.1.2).
func TestPageIsAccessible(t *testing.T) {
	full := schoolhouse()
	full.Cautions = []paper.Caution{{Text: "x"}}
	for name, p := range map[string]paperOf{"schoolhouse": schoolhouse(), "full": full, "lump": lumpSum(), "blank": new(paper.Proposal), "week": week(), "none": new(paper.DaySheets)} {
		accessible(t, name, text(t, p.WriteHTML))
	}
}

// accessible verifies that of a page.
func accessible(t *testing.T, name, html string) {
	t.Helper()
	level, ones, spans := 0, 0, 0
	var open []string
	var columns int // of the table that is open
	for _, mark := range read(t, html).marks {
		switch e := mark.(type) {
		case xml.EndElement:
			if e.Name.Local == "tr" && spans != columns && columns > 0 {
				t.Errorf("%s: a row of %d columns in a table of %d", name, spans, columns)
			}
			if e.Name.Local == "tr" && columns == 0 {
				columns = spans
			}
			open = open[:len(open)-1]
		case xml.StartElement:
			switch tag := e.Name.Local; tag {
			case "html":
				if attr(e, "lang") != "en" {
					t.Errorf("%s: no language", name)
				}
			case "h1", "h2", "h3", "h4":
				n := int(tag[1] - '0')
				if n > level+1 {
					t.Errorf("%s: h%d after h%d", name, n, level)
				}
				if level = n; n == 1 {
					ones++
				}
			case "table":
				columns = 0
			case "tr":
				spans = 0
			case "th", "td":
				n, err := strconv.Atoi(attr(e, "colspan"))
				if err != nil {
					n = 1
				}
				spans += n
				if scope := attr(e, "scope"); tag == "th" && !slices.Contains([]string{"col", "row", "colgroup", "rowgroup"}, scope) {
					t.Errorf("%s: a heading cell with scope %q", name, scope)
				}
			case "input":
				if attr(e, "type") != "checkbox" || attr(e, "aria-label") == "" && !slices.Contains(open, "label") {
					t.Errorf("%s: a box without a name", name)
				}
			}
			open = append(open, e.Name.Local)
		}
	}
	if ones != 1 {
		t.Errorf("%s: %d main headings", name, ones)
	}
}

// luminance is that of WCAG 2.2 for a color such as 14181b.
func luminance(hex string) float64 {
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil {
		return math.NaN()
	}
	part := func(shift uint) float64 {
		c := float64(v>>shift&0xff) / 255
		if c <= 0.04045 {
			return float64(c / 12.92)
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return float64(0.2126*part(16)) + float64(0.7152*part(8)) + float64(0.0722*part(0))
}

// Text is readable in black and white: dark on white by at least 7 to 1 (success criterion 1.4.6), and
// its hue carries no meaning.
func TestInkIsDark(t *testing.T) {
	style, err := os.ReadFile("style.css")
	if err != nil {
		t.Fatal(err)
	}
	inks := regexp.MustCompile(`[ {;]color: ([^;]*);`).FindAllStringSubmatch(string(style), -1)
	if len(inks) < 5 {
		t.Fatalf("%d inks found", len(inks))
	}
	for _, m := range inks {
		contrast := 1.05 / (luminance(strings.TrimPrefix(m[1], "#")) + 0.05)
		if !(contrast >= 7) {
			t.Errorf("%s on white has a contrast of %.1f", m[1], contrast)
		}
	}
	for _, banned := range []string{"url(", "@import", "http", "expression"} {
		if strings.Contains(string(style), banned) {
			t.Errorf("the style has %s", banned)
		}
	}
}

// A page loads nothing from elsewhere and runs nothing.
func TestPageStandsAlone(t *testing.T) {
	for _, p := range []paperOf{schoolhouse(), week()} {
		got := text(t, p.WriteHTML)
		for _, banned := range []string{"<script", "<link", "<img", "<iframe", "src=", "href", "url(", "http://", "https://", "onload", "onclick"} {
			if strings.Contains(strings.ToLower(got), banned) {
				t.Errorf("the page has %s", banned)
			}
		}
		if !strings.Contains(got, "default-src &#39;none&#39;") {
			t.Error("the page has no policy")
		}
	}
}

// The package's own texts for a client have no word for internal figures.
func TestOwnWordsSayNothingInternal(t *testing.T) {
	for _, p := range []paperOf{papersOf("x")[0], new(paper.Proposal)} {
		got := text(t, p.WriteHTML)
		_, got, _ = strings.Cut(got, "<body>")
		for _, word := range regexp.MustCompile(`[a-z]+`).FindAllString(strings.ToLower(got), -1) {
			if slices.Contains(internal, word) && word != "people" {
				t.Errorf("the page says %s", word)
			}
		}
	}
}
