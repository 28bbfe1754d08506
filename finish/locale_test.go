package finish_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

var (
	customary = regexp.MustCompile(`[0-9][ -]?(ft|in|yd|gal|qt|fl oz|cu in|sq ft|sq in|lb|oz|F)\b|[0-9][ -]?['"]|°F|per (ft|in|yd|gal|qt|fl oz|sq ft|lb|oz)\b|\b(foot|feet|inch|inches|ounces?|gallons?|pounds?)\b`)
	point     = regexp.MustCompile(`[0-9]\.[0-9]`)
)

// stocked returns a shelf with everything that the steps use, in US packages.
func stocked(systems ...finish.System) finish.Shelf {
	kinds := map[string]finish.Amount{
		"nails": finish.Count(1000), "brads": finish.Count(1000), "sandpaper": finish.Count(25), "tape": finish.AmountOf(60 * measure.Yard), "backer rod": finish.AmountOf(20 * measure.Foot),
		"thinset": finish.AmountOf(50 * measure.Pound), "grout": finish.AmountOf(25 * measure.Pound), "filler": finish.AmountOf(measure.Quart),
	}
	var shelf finish.Shelf
	seen := map[string]bool{}
	for _, s := range systems {
		for _, m := range s.Materials() {
			if seen[m] {
				continue
			}
			seen[m] = true
			size, ok := kinds[m]
			if !ok {
				size = finish.AmountOf(measure.Gallon)
			}
			shelf.Products = append(shelf.Products, finish.Product{Label: m + " of the school", Material: m, Packages: []finish.Package{{Size: size, Price: 700}}})
		}
	}
	return shelf
}

// A locale changes all texts of a list, and nothing else.
func TestLocaleChangesTextsOnly(t *testing.T) {
	systems := []finish.System{finish.PaintedTrim(), finish.PaintedCasing(), finish.TileBase(), {Label: "glued", Steps: []finish.Step{
		{Task: finish.TaskGlue}, {Task: finish.TaskBackerRod, Section: finish.Section{Width: measure.Inch / 4}}, {Task: finish.TaskClean, Material: "cleaner", Coats: 2},
		{Task: finish.TaskPaint, Yield: finish.Yield{Covers: finish.AmountOf(400 * measure.SquareFoot), Of: finish.AmountOf(measure.Gallon)}},
		{Task: finish.TaskSet, Yield: finish.Notches()[1].Low, Waste: finish.Waste{Share: 125 * measure.Percent / 10, OfPurchase: true}},
	}}}
	shelf := stocked(systems...)
	for i := range shelf.Products {
		if shelf.Products[i].Material == "cleaner" {
			shelf.Products[i].Yield = finish.Yield{Covers: finish.AmountOf(500 * measure.SquareFoot), Of: finish.AmountOf(measure.Gallon)}
		}
	}
	hazards := []finish.Hazard{finish.HazardSmallPieces, finish.HazardLeadPaint, finish.HazardLadders, finish.HazardFiberboard, finish.HazardHotPlastic}
	texts := 0
	rapid.Check(t, func(t *rapid.T) {
		l := func(name string, most measure.Length) measure.Length {
			step := rapid.SampledFrom([]measure.Length{1, measure.Millimeter, measure.Inch / 16}).Draw(t, name+" step")
			return step * measure.Length(rapid.Int64Range(1, int64(most/step)).Draw(t, name))
		}
		n := func(name string) int64 { return rapid.Int64Range(0, 40).Draw(t, name) }
		var work []finish.Work
		for i, s := range systems {
			j := finish.Job{Label: s.Label, Length: l("length", 200*measure.Foot), Height: l("height", 8*measure.Inch), Runs: n("runs"), Splices: n("splices"), Corners: 4, Outside: 1, Glued: n("glued"), Hazards: hazards,
				Preprimed: rapid.Bool().Draw(t, "preprimed"), Holes: n("holes")}
			if i >= 2 {
				j.Tile = finish.Tile{Length: 12 * measure.Inch, Thickness: l("thickness", measure.Inch), Joint: l("joint", measure.Inch/4)}
			}
			work = append(work, finish.Work{System: s, Job: j})
		}
		plain, err := finish.NewList(work, shelf)
		if err != nil {
			t.Fatal(err)
		}
		there := shelf
		there.Locale = measure.Locale{Metric: true, DecimalComma: true}
		metric, err := finish.NewList(work, there)
		if err != nil {
			t.Fatal(err)
		}
		check := func(text string) {
			texts++
			if bad := customary.FindString(text); bad != "" {
				t.Errorf("%q in %s", bad, text)
			}
			if bad := point.FindString(text); bad != "" {
				t.Errorf("%q in %s", bad, text)
			}
		}
		for i := range metric.Steps {
			s, p := &metric.Steps[i].Need, &plain.Steps[i].Need
			for k, why := range s.Reasoning {
				check(why)
				if strings.Contains(why, "not stated") || k >= len(p.Reasoning) {
					t.Errorf("%q", s.Reasoning)
				}
			}
			s.Reasoning, p.Reasoning = nil, nil
		}
		for i := range metric.Purchases {
			for k := range metric.Purchases[i].Lines {
				check(metric.Purchases[i].Lines[k].Package)
				metric.Purchases[i].Lines[k].Package = plain.Purchases[i].Lines[k].Package
			}
		}
		for i, c := range metric.Cautions {
			check(c.Trigger)
			if bad := customary.FindString(c.Text); bad != "" {
				t.Errorf("%q in %s", bad, c.Text)
			}
			metric.Cautions[i].Text = plain.Cautions[i].Text
		}
		if d := cmp.Diff(plain, metric, cmp.Comparer(func(a, b finish.Amount) bool { return a == b })); d != "" {
			t.Errorf("more than the texts differ (-plain +metric)\n%s", d)
		}
	})
	if texts < 1000 {
		t.Errorf("only %d texts were read", texts)
	}
}

func TestLeadCautionsMetric(t *testing.T) {
	removed := []finish.RemovedTrim{{Room: "classroom", Length: 20 * measure.Meter, Girth: 150 * measure.Millimeter}}
	all, err := finish.USLeadRule().Cautions(finish.Building{Year: 1924}, removed, measure.Locale{Metric: true, DecimalComma: true})
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	for _, c := range all {
		text.WriteString(c.Trigger + ": " + c.Text + "\n")
	}
	if bad := customary.FindString(text.String()); bad != "" {
		t.Errorf("%q in %s", bad, text.String())
	}
	// 6, 20 and 2 sq ft are 0.557, 1.858 and 0.186 m²: no more than the rule allows.
	for _, want := range []string{"more than 0,55 m² of painted surface", "or 1,85 m² outside", "limit is 0,18 m² in a room", "classroom: 3 m² of painted trim removed, the limit is 0,55 m²", "593 °C or more"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is not in\n%s", want, text.String())
		}
	}
}

// A safe minimum is not smaller in millimeters.
func TestShortPiecesMetric(t *testing.T) {
	var text [2]string
	for i, c := range []measure.Locale{{}, {Metric: true}} {
		list, err := finish.Cautions(c, finish.HazardSmallPieces)
		if err != nil {
			t.Fatal(err)
		}
		text[i] = list[0].Text
	}
	number := regexp.MustCompile(`\d+ (in|mm)\b`)
	us, metric := number.FindAllString(text[0], -1), number.FindAllString(text[1], -1)
	if len(us) != 2 || len(metric) != 2 {
		t.Fatalf("%q, %q", us, metric)
	}
	for i := range us {
		if d := measure.MustParse(metric[i]) - measure.MustParse(us[i]); d < 0 || d > measure.Millimeter {
			t.Errorf("%s is written as %s", us[i], metric[i])
		}
	}
}

// Products sold by the gallon are given per liter for people who buy by the liter.
func TestMetricReasoning(t *testing.T) {
	shelf := finish.Shelf{Locale: measure.Locale{Metric: true}, Products: []finish.Product{{Label: "paint", Material: "paint", Packages: []finish.Package{{Size: finish.AmountOf(5 * measure.Liter / 2), Price: 3000}}}}}
	system := finish.System{Label: "paint", Steps: []finish.Step{{Task: finish.TaskPaint, Coats: 2, Yield: finish.Yield{Covers: finish.AmountOf(350 * measure.SquareFoot), Of: finish.AmountOf(measure.Gallon)}, Waste: finish.Waste{Share: 10 * measure.Percent}}}}
	list, err := finish.NewList([]finish.Work{{System: system, Job: finish.Job{Label: "base", Length: 40 * measure.Meter, Height: 140 * measure.Millimeter}}}, shelf)
	if err != nil {
		t.Fatal(err)
	}
	// 350 sq ft per gal is 32.516 m² per 3.7854 L, 8.59 m² per L; 11.2 m² take 1.304 L.
	want := []string{"40 m with a developed face of 140 mm", "5.6 m², 2 coats, 8.59 m² per L: 1.3 L", "plus waste, 10% of the need: 1.43 L"}
	if d := cmp.Diff(want, list.Steps[0].Need.Reasoning); d != "" {
		t.Errorf("(-want +got)\n%s", d)
	}
	if got := list.Purchases[0].Lines[0].Package; got != "2.5 L" {
		t.Errorf("the package is called %s", got)
	}
	shelf.Locale.Currency.Minor = 12
	if _, err := finish.NewList(nil, shelf); err == nil || !strings.Contains(err.Error(), "locale.currency.minor is 12") {
		t.Errorf("a currency with a minor unit of 12: %v", err)
	}
}
