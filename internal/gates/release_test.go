package gates

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// TestReleases checks that CHANGELOG.md has a date for each version, newest first, and that changes are
// compared with the newest release, or with the one before it until the next commit names the new one.
func TestReleases(t *testing.T) {
	atRoot(t)
	text, err := os.ReadFile("CHANGELOG.md")
	if err != nil {
		t.Fatal(err)
	}
	var versions []string
	last := "9999-99-99"
	for i, line := range regexp.MustCompile(`(?m)^## .*$`).FindAllString(string(text), -1) {
		if i == 0 && line == "## [Unreleased]" {
			continue
		}
		m := regexp.MustCompile(`^## \[(\d+\.\d+\.\d+)\] - (\d{4}-\d\d-\d\d)$`).FindStringSubmatch(line)
		if m == nil {
			t.Errorf("CHANGELOG.md: %q, want ## [X.Y.Z] - YYYY-MM-DD, or ## [Unreleased] as the first", line)
			continue
		}
		if _, err := time.Parse(time.DateOnly, m[2]); err != nil || m[2] > last {
			t.Errorf("CHANGELOG.md: %s is dated %s, the version above it %s (%v)", m[1], m[2], last, err)
		}
		last = m[2]
		versions = append(versions, "v"+m[1])
	}
	baseline, err := os.ReadFile("internal/gates/api/baseline")
	if err != nil {
		t.Fatal(err)
	}
	lines := slices.DeleteFunc(strings.Split(strings.TrimSpace(string(baseline)), "\n"), func(l string) bool { return strings.HasPrefix(l, "#") })
	m := regexp.MustCompile(`^(v\d+\.\d+\.\d+) [0-9a-f]{40}$`).FindStringSubmatch(strings.Join(lines, "\n"))
	if m == nil || !slices.Contains(versions[:min(2, len(versions))], m[1]) {
		t.Errorf("internal/gates/api/baseline: %q, want one of the two newest of %v and a revision", lines, versions)
	}
}
