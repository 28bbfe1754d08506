package typeset

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// However wide the lines are, a length stays in one unless it is longer than a line, and
// nothing is lost or turned around.
func TestWrapKeepsLengths(t *testing.T) {
	lengths := []string{`7' 4-3/4"`, `11' 3"`, "7 ft 4-3/4 in", `10'-0 1/2"+`, "2254.5 mm", "seven feet four and three quarters inches"}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 90).Draw(t, "width")
		var text, all []string
		for range rapid.IntRange(0, 30).Draw(t, "words") {
			if rapid.Bool().Draw(t, "length") {
				l := rapid.SampledFrom(lengths).Draw(t, "length")
				all = append(all, l)
				text = append(text, rapid.SampledFrom([]string{"", "(", "from the "}).Draw(t, "before")+Unbroken(l)+rapid.SampledFrom([]string{"", ")", "; ", "."}).Draw(t, "after"))
			} else {
				text = append(text, rapid.StringMatching(`[a-z]{1,12}`).Draw(t, "word"))
			}
		}
		s := strings.Join(text, " ")
		lines := Wrap(s, n)
		for i, l := range lines {
			lines[i] = Unmarked(l)
			if w := Cells(l); w > n {
				t.Fatalf("a line of %d cells where %d are: %q", w, n, l)
			}
		}
		spaceless := func(s string) string { return strings.Join(strings.Fields(Unmarked(s)), "") }
		if got := spaceless(strings.Join(lines, " ")); got != spaceless(s) {
			t.Fatalf("%q became %q", s, lines)
		}
		for _, l := range lengths {
			want, got := 0, 0
			for _, other := range all {
				if other == l {
					want++
				}
			}
			if Cells(l)+3 > n { // with the text beside it, it may be longer than a line
				continue
			}
			for _, line := range lines {
				got += strings.Count(line, l)
			}
			if got != want {
				t.Fatalf("%q occurs %d times in one line, want %d, in %q", l, got, want, lines)
			}
		}
	})
}

// What makes text fit for a device leaves marks where they are, and takes no character of
// a label for one.
func TestMarks(t *testing.T) {
	s := "a\ufffdb " + Unbroken("7' 4\"") + " \x07ü"
	for name, got := range map[string]string{"visible": Visible(s), "ascii": ASCII(s)} {
		if strings.Count(got, lengthStart) != 1 || strings.Count(got, lengthEnd) != 1 {
			t.Errorf("%s: %q", name, got)
		}
		if w := words(got); !slices.Contains(w, Unbroken("7' 4\"")) {
			t.Errorf("%s: words %q", name, w)
		}
	}
	if got := Unmarked(ASCII(s)); got != `a\ufffdb 7' 4" \x07\u00fc` {
		t.Errorf("ascii: %q", got)
	}
	if Cells(Unbroken("7' 4\"")) != 5 {
		t.Error("marks take room")
	}
}

// A word however long is broken in time that grows with its length: this one would take
// hours in time that grows with its square.
func TestWrapVeryLongWord(t *testing.T) {
	const n = 3_000_000
	lines := Wrap(strings.Repeat("w", n), 2)
	if len(lines) != n/2 || lines[0] != "ww" || lines[n/2-1] != "ww" {
		t.Errorf("%d lines", len(lines))
	}
}
