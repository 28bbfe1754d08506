package gates

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
)

var (
	linkTarget = regexp.MustCompile(`\]\(([^)\s]+)\)`)
	heading    = regexp.MustCompile(`(?m)^#+ (.*)$`)
	fenced     = regexp.MustCompile("(?ms)^```.*?^```$")
)

// TestLinks follows each link from one document to another, a picture or a heading.
func TestLinks(t *testing.T) {
	atRoot(t)
	links := 0
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == ".git" || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if path.Ext(name) != ".md" {
			return nil
		}
		for _, m := range linkTarget.FindAllStringSubmatch(prose(t, name), -1) {
			if strings.Contains(m[1], "://") || strings.HasPrefix(m[1], "mailto:") {
				continue
			}
			links++
			file, anchor, _ := strings.Cut(m[1], "#")
			target := filepath.Join(filepath.Dir(name), filepath.FromSlash(file))
			if file == "" {
				target = name
			}
			if _, err := os.Stat(target); err != nil {
				t.Errorf("%s links to %s, which does not exist", name, m[1])
			} else if anchor != "" && !slices.Contains(anchors(t, target), anchor) {
				t.Errorf("%s links to %s, which has no such heading", name, m[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if links < 30 {
		t.Fatalf("%d links: this test looked in the wrong place", links)
	}
}

// prose returns a document without its blocks of code.
func prose(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return fenced.ReplaceAllString(string(text), "")
}

// anchors returns the link targets of a document's headings, as repository hosts make them (from
// memory): lowercase letters, digits and hyphens, spaces as hyphens.
func anchors(t *testing.T, name string) (all []string) {
	t.Helper()
	for _, m := range heading.FindAllStringSubmatch(prose(t, name), -1) {
		all = append(all, strings.Map(func(r rune) rune {
			switch {
			case r == ' ':
				return '-'
			case r == '-' || r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r):
				return unicode.ToLower(r)
			}
			return -1
		}, m[1]))
	}
	return all
}
