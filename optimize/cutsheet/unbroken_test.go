package cutsheet_test

import (
	"context"
	"fmt"
	"html"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

// broken finds a length with a line break inside.
var broken = regexp.MustCompile(`\d(?:'|′| ft)\n *\d[0-9/ -]*(?:"|″| in)|\d\n *(?:ft|in|mm|cm|m)\b|\d-\n *\d+/\d|\d\n *\d+/\d+(?:"|″)`)

// breakable finds a length in which a browser may break a line.
var breakable = regexp.MustCompile(`\d(?:'|′| ft) \d|\d-\d+/\d|\d (?:ft|in|mm|cm|m)\b|\d \d+/\d|\d'-\d`)

var (
	drawings = regexp.MustCompile(`(?s)<svg.*?</svg>\n|<style>.*?</style>|<title>[^<]*</title>`) // a title has no elements, and no lines
	narrow   = regexp.MustCompile(`<td class="n[" ][^<]*</td>`)
	spans    = regexp.MustCompile(`<span class="one">[^<]*</span>`)
	tags     = regexp.MustCompile(`<[^>]*>`)
)

// loose returns the text of a page that is not kept on one line.
func loose(page string) string {
	for _, r := range []*regexp.Regexp{drawings, narrow, spans, tags} {
		page = r.ReplaceAllString(page, " ")
	}
	return html.UnescapeString(page)
}

// spread is a job whose sheet has as many lengths in sentences as possible: a splice, a defect, trims,
// a yard's cut, goals and offcut values.
func spread(t *rapid.T) (optimize.Problem, *cutsheet.Options) {
	label := func(first string) string {
		return first + " " + rapid.StringMatching(`[a-z]{1,9}( [a-z]{1,9})?`).Draw(t, "label")
	}
	fine := func(name string, from, to measure.Length) measure.Length {
		return rapid.Custom(func(t *rapid.T) measure.Length {
			return measure.Length(rapid.Int64Range(int64(from*64/measure.Inch), int64(to*64/measure.Inch)).Draw(t, name)) * measure.Inch / 64
		}).Draw(t, name)
	}
	long := fine("run", 13*measure.Foot, 15*measure.Foot)
	trim := fine("trim", measure.Inch/2, 2*measure.Inch)
	p := optimize.Problem{
		Kerf: measure.Inch / 8,
		Sticks: []stock.Stick{
			{Label: label("oak"), Length: 12 * measure.Foot, TrimStart: trim, TrimEnd: fine("trim", 0, trim)},
			{Label: label("rack"), Length: fine("rack", 7*measure.Foot, 9*measure.Foot), Nominal: 8 * measure.Foot, Limit: 1, Rack: true,
				Defects: []stock.Defect{{From: fine("knot", measure.Foot, 2*measure.Foot), To: fine("knot", 3*measure.Foot, 4*measure.Foot)}}},
		},
		Pieces: []stock.Piece{
			{Label: label("stile"), Length: fine("piece", measure.Foot, 7*measure.Foot), Quantity: rapid.IntRange(1, 3).Draw(t, "quantity")},
			{Label: label("rail"), Length: fine("piece", measure.Foot, 3*measure.Foot)},
		},
		Runs: []stock.Run{{Label: label("run"), Length: long, Splice: stock.SpliceRule{
			At: []measure.Length{fine("at", 4*measure.Foot, 6*measure.Foot), fine("at", 8*measure.Foot, 9*measure.Foot)}, Bevel: 45 * measure.Degree, Overlap: 3 * measure.Inch / 4,
		}}},
		Rules: optimize.Rules{Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalLongestOffcut}},
	}
	o := &cutsheet.Options{
		Title:   label("the job"),
		Unicode: rapid.Bool().Draw(t, "unicode"),
		Locale: measure.Locale{Length: measure.Style{
			Unit:         rapid.SampledFrom([]measure.Length{0, 0, measure.Inch, measure.Foot, measure.Millimeter, measure.Meter}).Draw(t, "unit"),
			Words:        rapid.Bool().Draw(t, "words"),
			Typographic:  rapid.Bool().Draw(t, "typographic"),
			Hyphen:       rapid.Bool().Draw(t, "hyphen"),
			Tight:        rapid.Bool().Draw(t, "tight"),
			DecimalComma: rapid.Bool().Draw(t, "comma"),
			Zeros:        rapid.Bool().Draw(t, "zeros"),
		}},
	}
	switch o.Locale.Length.Unit {
	case 0, measure.Inch:
		o.Locale.Length.Graduation = rapid.SampledFrom([]measure.Length{measure.Inch / 16, measure.Inch / 64}).Draw(t, "graduation")
	case measure.Foot:
		o.Locale.Length.Graduation = measure.Foot / 1000
	default:
		o.Locale.Length.Graduation = measure.Millimeter
	}
	return p, o
}

// No line breaks inside a length, in text or by a browser's choice.
func TestLengthsStayWhole(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p, o := spread(rt)
		s := sheet(t, p, o)
		text := render(t, s, renderings[0])
		if bad := broken.FindString(text); bad != "" {
			rt.Fatalf("%q in\n%s", bad, text)
		}
		page := render(t, s, renderings[2])
		if text := loose(page); breakable.MatchString(text) {
			at := breakable.FindStringIndex(text)
			rt.Fatalf("%q may be broken", text[max(0, at[0]-40):min(len(text), at[1]+40)])
		}
		for _, r := range renderings {
			if out := render(t, s, r); r.ext != "json" && (strings.Contains(out, "\xfe") || strings.Contains(out, "\xff")) {
				rt.Fatalf("%s: a mark is left", r.ext)
			}
		}
	})
}

// Up to ten pieces have a box each, in one strip; beyond that there is a place for a number on paper,
// and on a screen one box that counts for all. The count of checked boxes covers all pieces.
func TestBoxesInOneStrip(t *testing.T) {
	for n := 1; n <= 14; n++ {
		p := optimize.Problem{
			Sticks: []stock.Stick{{Length: 8 * measure.Foot}},
			Pieces: []stock.Piece{{Label: "peg rail", Length: 5 * measure.Foot, Quantity: n}},
		}
		page := render(t, sheet(t, p, nil), renderings[2])
		boxes := strings.Count(page, `<input type="checkbox" aria-label="cut `)
		write := strings.Contains(page, fmt.Sprintf(`<span class="write"> </span> of %d<`, n))
		if n <= 10 && (boxes != n || write) || n > 10 && (boxes != 0 || !write) {
			t.Errorf("%d pieces: %d boxes, a place for a number %v", n, boxes, write)
		}
		if all := strings.Contains(page, fmt.Sprintf(`style="--pieces: %d"/> all %[1]d</label>`, n)); all != (n > 10) {
			t.Errorf("%d pieces: a box for all: %v", n, all)
		}
		if !strings.Contains(page, fmt.Sprintf(` of %d cut</p>`, n)) {
			t.Errorf("%d pieces: ticked boxes are not counted", n)
		}
	}
}

// Nobody is asked to keep a sliver; its length depends on the job or the options.
func TestWasteIsNotKept(t *testing.T) {
	job := func(left measure.Length) optimize.Problem {
		return optimize.Problem{
			Sticks: []stock.Stick{{Length: 8 * measure.Foot}},
			Pieces: []stock.Piece{{Label: "shelf", Length: 8*measure.Foot - left}},
		}
	}
	worth := job(5 * measure.Inch)
	worth.Sticks[0].Price = 900
	worth.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}
	worth.Rules.OffcutValues = []optimize.OffcutValue{{Length: 4 * measure.Inch, Value: 10}}
	inch, millimeter := measure.Inch, measure.Millimeter
	metric := measure.Style{Unit: measure.Millimeter, Graduation: millimeter}
	for _, c := range []struct {
		name string
		p    optimize.Problem
		o    cutsheet.Options
		keep bool
	}{
		{"a sixteenth", job(inch / 16), cutsheet.Options{}, false},
		{"just short of a foot", job(12*inch - inch/16), cutsheet.Options{}, false},
		{"a foot", job(12 * inch), cutsheet.Options{}, true},
		{"300 mm", job(300 * millimeter), cutsheet.Options{Locale: measure.Locale{Length: metric}}, true},
		{"299 mm", job(299 * millimeter), cutsheet.Options{Locale: measure.Locale{Length: metric}}, false},
		{"less where it has a value", worth, cutsheet.Options{}, true},
		{"less where it is asked for", job(2 * inch), cutsheet.Options{Keep: 2 * inch}, true},
		{"the caller before the value", worth, cutsheet.Options{Keep: 6 * inch}, false},
		{"anything", job(inch / 16), cutsheet.Options{Keep: measure.Tick}, true},
	} {
		s := sheet(t, c.p, &c.o)
		for _, r := range renderings[:4] {
			text := flow(t, s, r)
			kept, wasted := "[ ] 1 @", "Waste, shorter than"
			switch r.ext {
			case "svg":
				kept, wasted = "; offcut ", "; waste "
			case "html":
				text = render(t, s, r)
				kept = `aria-label="kept 1 offcut`
			case "csv":
				kept, wasted = `"offcut","A"`, `"waste","A"`
			}
			if r.ext == "txt" {
				_, text, _ = strings.Cut(text, "Left over ---")
			}
			if strings.Contains(text, kept) != c.keep || strings.Contains(text, wasted) == c.keep {
				t.Errorf("%s, %s: keep is %v in\n%s", c.name, r.ext, !c.keep, text)
			}
		}
	}
	p := job(inch)
	if _, err := cutsheet.New(context.Background(), p, solve(t, p), &cutsheet.Options{Keep: -1}); err == nil || !strings.Contains(err.Error(), "options.keep") {
		t.Errorf("a negative Keep: %v", err)
	}
}

// Beside a cut are the readings of the saw; a corner is called one.
func TestSawReadsBesideCuts(t *testing.T) {
	p, o := base()
	s := sheet(t, p, o)
	for _, r := range renderings[:4] {
		text := strings.ReplaceAll(flow(t, s, r), "°", " deg")
		for rest := text; ; {
			before, after, found := strings.Cut(rest, "135")
			if !found {
				break
			}
			rest = after
			if !strings.HasSuffix(before, "corner ") && strings.HasPrefix(after, " deg") {
				t.Errorf("%s: %q", r.ext, before[max(0, len(before)-30):]+"135")
			}
		}
		want := "inside miter 22.5 deg both ends"
		if r.ext == "csv" {
			want = `"inside miter",135,22.5,,"inside miter",135,22.5,,`
		}
		if !strings.Contains(text, want) {
			t.Errorf("%s: no %q", r.ext, want)
		}
	}
	if text := flow(t, s, renderings[0]); !strings.Contains(text, "outside miter, corner 135 deg") {
		t.Error("the saw settings do not name the corner")
	}
}
