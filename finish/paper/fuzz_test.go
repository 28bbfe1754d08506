package paper_test

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/longpoint/finish/paper"
)

// Whatever a file contains, an accepted document is valid, can be written in every form, and reads back
// the same.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob("testdata/*.json")
	if err != nil || len(files) < 5 {
		f.Fatal(files, err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"format":"longpoint day sheets","version":1,"day_sheets":{"days":[{"date":"2026-12-07","rooms":[{"room":"R","steps":[{"name":"S","from":"2026-12-07T23:00:00-06:00","to":"2026-12-08T00:00:00-06:00"}]}]}]}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<14 {
			return
		}
		try := func(p paperOf, again func(io.Reader) (paperOf, error)) {
			if err := p.Validate(); err != nil {
				t.Fatal(err)
			}
			first := text(t, p.WriteJSON)
			read, err := again(strings.NewReader(first))
			if err != nil {
				t.Fatal(err)
			}
			if second := text(t, read.WriteJSON); second != first {
				t.Fatalf("%s\nreads back as\n%s", first, second)
			}
			noHidden(t, text(t, p.WriteHTML), "\n")
			noHidden(t, fits(t, p, 40), "\n\f")
		}
		if p, err := paper.ReadProposal(bytes.NewReader(data)); err == nil {
			try(p, func(r io.Reader) (paperOf, error) {
				again, err := paper.ReadProposal(r)
				if err == nil && again.Price != p.Price {
					t.Error("the price is different")
				}
				return again, err
			})
		}
		if s, err := paper.ReadDaySheets(bytes.NewReader(data)); err == nil {
			try(s, func(r io.Reader) (paperOf, error) { return paper.ReadDaySheets(r) })
		}
	})
}
