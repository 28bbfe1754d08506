package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the recorded output")

func TestSheets(t *testing.T) {
	var got bytes.Buffer
	if err := run(&got); err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "sheets.golden")
	if *update {
		if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got.String()); d != "" {
		t.Errorf("the sheets changed (-recorded +now); read the difference, then run with -update:\n%s", d)
	}

	// A file gives the same as the built-in job.
	var again bytes.Buffer
	if err := run(&again, "doors.json"); err != nil || again.String() != got.String() {
		t.Errorf("the job from the file differs, or %v", err)
	}
}

// An error about a wrong job names the place.
func TestBadJobs(t *testing.T) {
	for _, c := range []struct{ name, old, now, want string }{
		{"misspelled", `"kerf"`, `"curf"`, "curf"},
		{"no unit", `"28ft 4-1/8in"`, `"28"`, `rooms[0].walls[0].length is 28`},
		{"outside the wall", `"at": "14ft 9in"`, `"at": "21ft 9in"`, "rooms[0].walls[1].openings[0]"},
		{"no stick is long enough", `{"length": "7ft 1in", "price": 1015},
      {"length": "10ft", "price": 1440},
      {"length": "14ft", "price": 2030},
      {"length": "16ft", "price": 2350}`, `{"length": "6ft", "price": 900}`, "casing: optimize: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(string(builtIn), c.old, c.now, 1)
			if text == string(builtIn) {
				t.Fatal("nothing was replaced")
			}
			file := filepath.Join(t.TempDir(), "doors.json")
			if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
			var out bytes.Buffer
			err := run(&out, file)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want text with %q", err, c.want)
			}
			if out.Len() != 0 {
				t.Errorf("it wrote %d bytes despite the error", out.Len())
			}
			t.Log(err)
		})
	}
	if err := run(&bytes.Buffer{}, "a", "b"); err == nil {
		t.Error("two files were accepted")
	}
}
