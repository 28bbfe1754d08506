package paper_test

import (
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/measure"
)

var update = flag.Bool("update", false, "rewrite the recorded papers")

// paperOf is the interface that both documents share.
type paperOf interface {
	Validate() error
	WriteText(io.Writer, int) error
	WriteHTML(io.Writer) error
	WriteJSON(io.Writer) error
}

// lumpSum is a short proposal in another locale.
func lumpSum() *paper.Proposal {
	return &paper.Proposal{
		Client: paper.Party{Name: "Der Werkstattverein"}, Date: date(2026, 11, 2),
		Scope:  []paper.Scope{{Room: "Klassenzimmer", Items: []paper.Item{{Label: "Sockelleiste", Length: 35980 * measure.Millimeter}}}},
		Price:  123456,
		Locale: measure.Locale{Metric: true, DecimalComma: true, Length: measure.Style{Unit: measure.Meter, Graduation: 100 * measure.Millimeter}, Currency: measure.Currency{Symbol: "€", After: true}},
		Dates:  paper.DateDayFirst,
	}
}

func TestGolden(t *testing.T) {
	minutes := week()
	minutes.Minutes, minutes.Dates = true, paper.DateISO
	for name, p := range map[string]paperOf{
		"schoolhouse": schoolhouse(), "lump": lumpSum(), "blank": new(paper.Proposal), "week": week(), "minutes": minutes, "none": new(paper.DaySheets),
	} {
		for ext, write := range map[string]func(io.Writer) error{
			"txt": func(w io.Writer) error { return p.WriteText(w, 0) }, "40.txt": func(w io.Writer) error { return p.WriteText(w, 40) },
			"html": p.WriteHTML, "json": p.WriteJSON,
		} {
			got := text(t, write)
			if again := text(t, write); again != got {
				t.Errorf("%s as %s differs between two runs", name, ext)
			}
			file := filepath.Join("testdata", name+"."+ext)
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
			if got != strings.ReplaceAll(string(want), "\r\n", "\n") {
				t.Errorf("%s differs from the recorded one; run with -update and read the difference", file)
			}
		}
	}
}
