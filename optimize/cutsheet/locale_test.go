package cutsheet_test

import (
	"encoding/csv"
	"html"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

var (
	customary = regexp.MustCompile(`[0-9½¼¾⅛⅜⅝⅞][ -]?(ft|in|yd|F)\b|[0-9½¼¾⅛⅜⅝⅞][ -]?['"′″]|°F|\b(foot|feet|inch|inches)\b`)
	point     = regexp.MustCompile(`[0-9]\.([0-9]{1,2}\b|[0-9]{4})`) // three digits are a group
	aloud     = regexp.MustCompile(`(?:aria-label|alt|title)="([^"]*)"`)
	markup    = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`)
)

// countryside is the locale of a sheet in meters with decimal commas.
var countryside = measure.Locale{Metric: true, DecimalComma: true, Currency: measure.Currency{Symbol: "EUR", After: true}}

// No rendering that people read has a foot, an inch or a decimal point on a metric sheet
// with decimal commas, whatever the job was measured in.
func TestMetricSheets(t *testing.T) {
	for _, name := range slices.Sorted(maps.Keys(jobs)) {
		if name == "hostile" {
			continue // its labels are anything
		}
		p, o := jobs[name]()
		metric := cutsheet.Options{}
		if o != nil {
			metric = *o
		}
		metric.Locale = countryside
		s := sheet(t, p, &metric)
		texts := map[string]string{}
		texts["txt"] = render(t, s, renderings[0])
		texts["svg"] = html.UnescapeString(markup.ReplaceAllString(render(t, s, renderings[1]), "\n"))
		texts["html"] = html.UnescapeString(markup.ReplaceAllString(render(t, s, renderings[2]), "\n"))
		for _, ext := range []string{"svg", "html"} { // and the text for screen readers
			for _, m := range aloud.FindAllStringSubmatch(render(t, s, renderings[map[string]int{"svg": 1, "html": 2}[ext]]), -1) {
				texts[ext] += html.UnescapeString(m[1]) + "\n"
			}
		}
		rows, err := csv.NewReader(strings.NewReader(render(t, s, renderings[3]))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if rows[0][8] != "Millimeters" {
			t.Errorf("%s: the column is headed %s", name, rows[0][8])
		}
		for _, row := range rows[1:] {
			for i, cell := range row {
				switch i {
				case 8, 9, 10, 14, 15, 16, 18, 19, 20, 23: // numbers, which programs read
				default:
					texts["csv"] += cell + "\n"
				}
			}
		}
		for ext, text := range texts {
			for line := range strings.Lines(text) {
				bad := customary.FindString(line) + point.FindString(line)
				if bad != "" {
					t.Errorf("%s.%s: %q in %s", name, ext, bad, line)
				}
			}
		}
	}
}

// A sheet in another locale shows the same plan: the numbers of the table for spreadsheets are equal,
// except for the unit of lengths.
func TestLocaleKeepsTheNumbers(t *testing.T) {
	p, o := boards()
	metric := *o
	metric.Locale, metric.Keep = countryside, 12*measure.Inch // as the other keeps
	plain, err1 := csv.NewReader(strings.NewReader(render(t, sheet(t, p, o), renderings[3]))).ReadAll()
	other, err2 := csv.NewReader(strings.NewReader(render(t, sheet(t, p, &metric), renderings[3]))).ReadAll()
	if err1 != nil || err2 != nil || len(plain) != len(other) {
		t.Fatalf("%d and %d rows, %v, %v", len(plain), len(other), err1, err2)
	}
	for i := range plain[1:] {
		for _, k := range []int{0, 1, 2, 3, 4, 5, 6, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22} {
			if plain[i+1][k] != other[i+1][k] {
				t.Errorf("row %d: %q, metric %q", i+1, plain[i+1], other[i+1])
			}
		}
	}
}

func TestMetricWords(t *testing.T) {
	p := optimize.Problem{
		Kerf:   32 * measure.Millimeter / 10,
		Sticks: []stock.Stick{{Label: "pine", Length: 3 * measure.Meter, Price: 123456}},
		Pieces: []stock.Piece{{Label: "sill", Length: 1250 * measure.Millimeter, Left: stock.End{Kind: stock.EndOutsideMiter, Angle: 135 * measure.Degree}, Quantity: 1500}},
	}
	text := render(t, sheet(t, p, &cutsheet.Options{Locale: countryside}), renderings[0])
	for _, want := range []string{"750 sticks to buy", "1.500 pieces to cut", "cost 925.920,00 EUR", "Kerf 3 mm+", "to the nearest 1 mm", "miter 22,5", "nearest 0,1", "use 83,3%"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}
