package main

import (
	"io"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func file(t *testing.T, name string) string {
	t.Helper()
	text, err := fs.ReadFile(site, "site/"+name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Colors that meet on the page, by WCAG 2.2: 4.5 to 1 for text (1.4.3), 3 to 1
// for edges of fields and for the mark of the keyboard (1.4.11).
func TestContrast(t *testing.T) {
	styles := regexp.MustCompile(`(?s):root \{.*?\n *\}`).FindAllString(file(t, "style.css"), -1)
	if len(styles) != 2 {
		t.Fatalf("%d styles, want a light one and a dark one", len(styles))
	}
	for k, style := range styles {
		colors := luminances(t, style)
		for _, c := range []struct {
			front, back string
			want        float64
		}{
			{"chalk", "board", 4.5}, {"chalk", "deep", 4.5}, {"chalk", "note", 4.5}, {"mark", "wall", 4.5}, {"mark", "paper", 4.5}, {"mark", "press", 4.5},
			{"ink", "wall", 4.5}, {"ink", "paper", 4.5}, {"quiet", "wall", 4.5}, {"quiet", "paper", 4.5}, {"quiet", "press", 4.5},
			{"wrong", "wall", 4.5}, {"wrong", "paper", 4.5}, {"edge", "paper", 4.5},
			{"edge", "wall", 3}, {"focus", "wall", 3}, {"focus", "paper", 3},
		} {
			a, ok := colors[c.front]
			b, also := colors[c.back]
			if !ok || !also {
				t.Fatalf("no color %s or %s", c.front, c.back)
			}
			if got := (max(a, b) + 0.05) / (min(a, b) + 0.05); got < c.want {
				t.Errorf("style %d: %s on %s has %.2f to 1, want %.1f", k, c.front, c.back, got, c.want)
			}
		}
	}
}

// luminances are those of the colors of a style, by WCAG 2.2.
func luminances(t *testing.T, style string) map[string]float64 {
	t.Helper()
	colors := map[string]float64{}
	for _, m := range regexp.MustCompile(`--(\w+): #([0-9a-f]{6});`).FindAllStringSubmatch(style, -1) {
		n, err := strconv.ParseUint(m[2], 16, 32)
		if err != nil {
			t.Fatal(err)
		}
		linear := func(c uint64) float64 {
			if v := float64(c) / 255; v > 0.04045 {
				return math.Pow((v+0.055)/1.055, 2.4)
			} else {
				return v / 12.92
			}
		}
		colors[m[1]] = float64(0.2126*linear(n>>16)) + float64(0.7152*linear(n>>8&255)) + float64(0.0722*linear(n&255))
	}
	return colors
}

// Every field has a label, and the page loads nothing from elsewhere.
func TestPage(t *testing.T) {
	page := file(t, "index.html")
	const policy = `content="default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; connect-src 'self'; style-src 'self' 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"`
	if !strings.Contains(page, policy) {
		t.Errorf("the page's policy is not %s", policy)
	}
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		if ids[m[1]] {
			t.Errorf("id %s occurs twice", m[1])
		}
		ids[m[1]] = true
	}
	inputs := 0
	for _, m := range regexp.MustCompile(`(<label[^>]*>[^<]+</label>)?<(?:input|select)([^>]*)>`).FindAllStringSubmatch(page, -1) {
		inputs++
		if strings.Contains(m[2], " hidden") {
			continue // a button stands for it
		}
		if m[1] == "" {
			t.Errorf("no label before <input%s>", m[2])
		}
		if id := regexp.MustCompile(` id="([^"]+)"`).FindStringSubmatch(m[2]); id != nil && !strings.Contains(m[1], `for="`+id[1]+`"`) {
			t.Errorf("%s is not for %s", m[1], id[1])
		}
	}
	if inputs != 38 {
		t.Errorf("%d fields, want 38", inputs)
	}
	// The elements that the script looks for exist.
	names, err := fs.Glob(site, "site/*")
	if err != nil || len(names) < 6 {
		t.Fatalf("files %q: %v", names, err)
	}
	offline := file(t, "offline.js")
	for _, name := range names {
		name = strings.TrimPrefix(name, "site/")
		if name != "index.html" && name != "offline.js" && !strings.Contains(offline, `"`+name+`"`) {
			t.Errorf("%s is not cached for use offline", name)
		}
		script := strings.HasSuffix(name, ".js")
		text := strings.ReplaceAll(file(t, name), "http://www.w3.org/2000/svg", "")
		if script {
			for _, m := range regexp.MustCompile(`(?:\$|getElementById)\("([a-z-]+)"\)`).FindAllStringSubmatch(text, -1) {
				if !ids[m[1]] {
					t.Errorf("%s looks for %s", name, m[1])
				}
			}
			for _, m := range regexp.MustCompile(`from "\./([^"]+)"`).FindAllStringSubmatch(text, -1) {
				file(t, m[1]) // it is there
			}
		}
		if i := strings.Index(text, "//"); !script && i >= 0 || strings.Contains(text, "http:") || strings.Contains(text, "https:") {
			t.Errorf("%s points elsewhere", name)
		}
	}
}

func TestBadCommandLine(t *testing.T) {
	for _, args := range [][]string{{"-port", "1"}, {"page"}} {
		if err := run(t.Context(), io.Discard, args...); err == nil {
			t.Errorf("%q was taken", args)
		}
	}
}
