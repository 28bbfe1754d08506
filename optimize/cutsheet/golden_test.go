package cutsheet_test

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

var (
	update = flag.Bool("update", false, "rewrite the recorded sheets")
	anew   = flag.Bool("anew", false, "find the recorded plans anew")
)

// rendering is one of the ways to write a sheet.
type rendering struct {
	ext   string
	write func(*cutsheet.Sheet, io.Writer) error
}

var renderings = []rendering{
	{"txt", (*cutsheet.Sheet).WriteText}, {"svg", (*cutsheet.Sheet).WriteSVG}, {"html", (*cutsheet.Sheet).WriteHTML},
	{"csv", (*cutsheet.Sheet).WriteCSV}, {"json", (*cutsheet.Sheet).WriteJSON},
}

func render(t testing.TB, s *cutsheet.Sheet, r rendering) string {
	t.Helper()
	var b bytes.Buffer
	if err := r.write(s, &b); err != nil {
		t.Fatalf("%s: %v", r.ext, err)
	}
	return b.String()
}

func TestGolden(t *testing.T) {
	unicode := func() (optimize.Problem, *cutsheet.Options) {
		p, o := base()
		o.Unicode, o.Color = true, true
		o.Locale.Length = measure.Style{Graduation: measure.Inch / 16, Typographic: true}
		o.Locale.Currency = measure.Currency{Symbol: "€", After: true}
		return p, o
	}
	for name, job := range map[string]func() (optimize.Problem, *cutsheet.Options){
		"base": base, "crown": crown, "plain": plain, "unicode": unicode, "boards": boards, "yard": yard, "picture": picture, "noted": noted, "rooms": rooms,
	} {
		p, o := job()
		s := sheet(t, p, o)
		for _, r := range append(renderings[:len(renderings):len(renderings)], rendering{"tags.html", (*cutsheet.Sheet).WriteTags}) {
			if r.ext == "tags.html" && name != "rooms" {
				continue
			}
			if name == "unicode" && r.ext != "txt" || name == "picture" && r.ext != "json" {
				continue
			}
			got := render(t, s, r)
			file := filepath.Join("testdata", name+"."+r.ext)
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s is not as recorded; run with -update and read the difference", file)
			}
		}
	}
}
