package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/longpoint/measure"
)

// shown runs a job and returns its output and its progress display.
func shown(t *testing.T, j job) (text string, lines []string) {
	t.Helper()
	var w, screen bytes.Buffer
	if err := j.run(context.Background(), &w, &screen); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(screen.String(), "\n") {
		t.Error("more than one line is shown")
	}
	for _, l := range strings.Split(screen.String(), "\r") {
		if l = strings.TrimRight(l, " "); l != "" {
			lines = append(lines, l)
		}
		if len(l) > 78 {
			t.Errorf("a line of %d characters: %s", len(l), l)
		}
	}
	return w.String(), lines
}

func TestRun(t *testing.T) {
	file := filepath.Join(t.TempDir(), "plan.json")
	text, lines := shown(t, job{work: 20_000_000, file: file})
	if want := "61 sticks for $1333.07. Nothing is cheaper by more than $0.93: as far as the steps went.\n"; text != want {
		t.Errorf("%q, want %q", text, want)
	}
	if first := lines[0]; !strings.HasPrefix(first, "$") || !strings.Contains(first, "at best $") || !strings.HasSuffix(first, "(quick)") {
		t.Errorf("first %q", first)
	}
	if again, _ := shown(t, job{work: 20_000_000}); again != text {
		t.Errorf("%q, and again %q", text, again)
	}

	// Less work from there on than it took to get there, and no worse.
	text, _ = shown(t, job{work: 1, file: file})
	if want := "Begun from a plan of $1333.07.\n61 sticks for $1333.07. "; !strings.HasPrefix(text, want) {
		t.Errorf("%q, want %q", text, want)
	}
}

func TestGoodEnough(t *testing.T) {
	text, lines := shown(t, job{work: 2_000_000_000, open: 0.5})
	if !strings.HasSuffix(text, ": as close as was asked for.\n") {
		t.Errorf("%q", text)
	}
	if len(lines) == 0 || strings.Contains(text, "Proven") {
		t.Errorf("%q after %q", text, lines)
	}
}

func TestBadPlan(t *testing.T) {
	for name, tt := range map[string]struct{ text, want string }{
		"no plan":         {`{"patterns": [`, "breaks off"},
		"another problem": {`{"patterns": [{"stick": 9, "count": 1, "pieces": [0]}]}`, "start.patterns[0].stick is 9, want an index below 6"},
	} {
		file := filepath.Join(t.TempDir(), "plan.json")
		if err := os.WriteFile(file, []byte(tt.text), 0o666); err != nil {
			t.Fatal(err)
		}
		err := job{work: 1, file: file}.run(context.Background(), new(bytes.Buffer), new(bytes.Buffer))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %s", name, err, tt.want)
		}
		for f := range measure.FieldErrors(err) {
			if f.Want == "" {
				t.Errorf("%s: %+v", name, f)
			}
		}
	}
}
