package cutsheet_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// kept is how a page keeps a length on one line.
var kept = regexp.MustCompile(`<span class="(?:one|long)">([^<]*)</span>`)

// flow is a rendering without line breaks and without markup.
func flow(t *testing.T, s *cutsheet.Sheet, r rendering) string {
	t.Helper()
	text := render(t, s, r)
	text = kept.ReplaceAllString(text, "$1")
	if r.ext == "svg" || r.ext == "html" {
		text = strings.Join(checkMarkup(t, r.ext, text), " ")
	}
	if r.ext == "csv" {
		text = strings.ReplaceAll(text, `""`, `"`)
	}
	return strings.Join(strings.Fields(text), " ")
}

// The effects of the rules are described in every output for people.
func TestRulesInWords(t *testing.T) {
	p, o := boards()
	o.Locale.Currency, o.ProofDetails = measure.Currency{Symbol: "$"}, true
	s := sheet(t, p, o)
	yardProblem, yardOptions := yard()
	y := sheet(t, yardProblem, yardOptions)
	for _, c := range []struct {
		sheet *cutsheet.Sheet
		in    string // the renderings, by their extensions
		want  string
	}{
		{s, "txt html csv", `spliced at 11' 10" from the left long point; from left to right classroom N chair rail 1 of 2 (11' 10-3/8") and classroom N chair rail 2 of 2 (8' 5/8")`},
		{s, "txt html csv", "in one piece"},
		{s, "txt svg html csv", "classroom N chair rail 2 of 2"},
		{s, "txt html csv", "1 bundle of 2; 1 to cut, 1 whole, not cut"},
		{s, "txt html csv", "price for 4 or more; otherwise $17.90"},
		{s, "txt html csv", "from the mill"},
		{s, "txt html", "1 splice at $3.50"},
		{s, "txt html", "one-time charge by the mill"},
		{s, "txt html", "Spares, kept whole: 1."},
		{s, "txt svg html csv", "turned end for end"},
		{s, "txt html csv", `cannot be used from 3' 7-1/4" to 3' 9-3/4"`},
		{s, "svg", `unusable 3' 7-1/4" to 3' 9-3/4"`},
		{s, "svg", `clear 2: 5' 3-3/4"`},
		{s, "txt html", `Clear stretch 2, from 3' 9-3/4" to 9' 1-1/2"`},
		{s, "txt svg html", "Neighbors whose ends are parallel share one cut."},
		{s, "txt html", "1. least cost: $136.60; proven"},
		{s, "txt html", "2. fewest sticks: 7; proven"},
		{s, "txt svg html", "Proven: no plan that keeps the rules of this job costs less than $136.60."},
		{y, "txt html svg", `The yard cuts it at 7' 4" from the start, after the first piece.`},
		{y, "svg", `yard's cut at 7' 4"`},
		{y, "txt html", "4 yard cuts at $2.00"},
		{y, "txt html", "Side by side from one stick, in this order: bench end W and bench end E."},
	} {
		for _, r := range renderings[:4] {
			if slices.Contains(strings.Fields(c.in), r.ext) && !strings.Contains(flow(t, c.sheet, r), c.want) {
				t.Errorf("%s: no %q in\n%s", r.ext, c.want, flow(t, c.sheet, r))
			}
		}
	}
	if text := flow(t, y, renderings[3]); !strings.Contains(text, `"yard","A",1,,,,,,,,,,,,,,,,,,,,,88.000,`) {
		t.Errorf("no row for the yard's cut in\n%s", text)
	}
}

// The prices of purchases, rack sticks and charges in the table add up to the cost.
func TestTableAddsUp(t *testing.T) {
	for name, job := range jobs {
		p, o := job()
		plan := solve(t, p)
		s, err := cutsheet.New(context.Background(), p, plan, o)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(render(t, s, renderings[3]))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		at := slices.Index(rows[0], "Price total")
		var sum int64
		for _, row := range rows[1:] {
			if row[at] == "" {
				continue
			}
			if !slices.Contains([]string{"buy", "rack", "splice", "yard cut", "charge"}, row[0]) {
				t.Errorf("%s: a price in a row of kind %q", name, row[0])
			}
			n, err := strconv.ParseInt(strings.Replace(row[at], ".", "", 1), 10, 64)
			if err != nil {
				t.Fatal(err)
			}
			sum += n
		}
		if !plan.ByLength && sum != plan.Cost {
			t.Errorf("%s: the rows add up to %d, the cost is %d", name, sum, plan.Cost)
		}
	}
}

// Goals are reported as they are. The plan is cut by hand: one stick of 8 ft yields 5 ft and 2 ft,
// another 5 ft; again by hand, no two sticks leave more than 8 ft less 2 ft and less a kerf in one
// piece, which does not matter here.
func TestLevelsInWords(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: ft(8, 0, 0), Price: 1000}},
		Pieces: []stock.Piece{{Label: "sill", Length: ft(5, 0, 0), Quantity: 2}, {Label: "apron", Length: ft(2, 0, 0)}},
		Rules: optimize.Rules{
			OffcutValues: []optimize.OffcutValue{{Length: ft(3, 0, 0), Value: 250}},
			Goals:        []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue, optimize.GoalCuts, optimize.GoalPatterns, optimize.GoalLongestOffcut},
		},
	}
	plan := optimize.Plan{
		Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1}, Offcut: ft(1, 0, 0)}, {Count: 1, Pieces: []int{0}, Offcut: ft(3, 0, 0)}},
		Buy:      []optimize.Purchase{{Count: 2, Cost: 2000}},
		Cost:     2000, Bound: 2000, Proven: true, Stop: optimize.StopProven,
		Proof: proofOf(t, optimize.ProofSearch, certificate.Evidence{}),
		Goals: []optimize.GoalResult{
			{Goal: optimize.GoalCost, Value: 2000, Bound: 2000, Proven: true},
			{Goal: optimize.GoalOffcutValue, Value: 250, Bound: 500},
			{Goal: optimize.GoalCuts, Value: 3, Bound: 2},
			{Goal: optimize.GoalPatterns, Value: 2, Bound: 2},
			{Goal: optimize.GoalLongestOffcut, Value: int64(ft(3, 0, 0)), Bound: int64(ft(6, 0, 0))},
		},
	}
	s, err := cutsheet.New(context.Background(), p, &plan, &cutsheet.Options{Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}, ProofDetails: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []rendering{renderings[0], renderings[2]} {
		text := flow(t, s, r)
		for _, want := range []string{
			"1. least cost: $20.00; proven",
			"2. most worth: $2.50; not proven, up to $5.00 may be possible",
			"What the plan reaches of each goal is checked; that no plan does better by most worth, fewest cuts rests on the search alone.",
			"3. fewest cuts: 3; not proven, down to 2 may be possible",
			"4. fewest patterns: 2; no plan as good in the earlier goals does better, but one of those is not proven",
			"5. longest offcut: 3'; not proven, up to 6' may be possible",
			"Proven: no plan that keeps the rules of this job costs less than $20.00. This rests on the search alone; a separate check could not confirm it.",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", r.ext, want, text)
			}
		}
	}
}

// Sheets are written as version 3; version 1 can still be read.
func TestJSONVersions(t *testing.T) {
	for _, name := range []string{"base", "plain", "boards", "yard"} {
		p, o := jobs[name]()
		const want = `{"format":"longpoint cut sheet","version":3,`
		if text := render(t, sheet(t, p, o), renderings[4]); !strings.HasPrefix(text, want) {
			t.Errorf("%s: %.60s, want %s", name, text, want)
		}
	}
	// As version 1 was first written, before there were runs and rules.
	const old = `{"format":"longpoint cut sheet","version":1,"title":"Coats","money":{"symbol":"$"},"problem":{"sticks":[{"label":"oak 8","length":"8ft","price":1450}],` +
		`"pieces":[{"label":"coat rail","length":"3ft 10in","quantity":3}]},"plan":{"patterns":[{"stick":0,"count":1,"pieces":[0],"offcut":"4ft 2in"},{"stick":0,"count":1,` +
		`"pieces":[0,0],"offcut":"4in"}],"cost":2900,"bound":0,"proven":false,"objective":"least price","stop":"deadline","work":9,"proof":{"kind":"none","unit":0,"leaf_bound":0}}}`
	p, plan, o, err := cutsheet.ReadJSON(strings.NewReader(old))
	if err != nil {
		t.Fatal(err)
	}
	s, err := cutsheet.New(context.Background(), p, plan, o)
	if err != nil {
		t.Fatal(err)
	}
	if text := render(t, s, renderings[0]); !strings.Contains(text, "[ ] 1 @ 4' 2\"  from A") {
		t.Errorf("not the old sheet:\n%s", text)
	}
	want := strings.Replace(old, `"version":1`, `"version":3`, 1)
	want = strings.Replace(want, `"cost":2900,`, `"buy":[{"stick":0,"count":2,"cost":2900}],"cost":2900,`, 1)
	want = strings.Replace(want, `"objective":"least price",`, ``, 1)
	want = strings.Replace(want, `{"kind":"none","unit":0,"leaf_bound":0}`, `{"version":1,"kind":"none"}`, 1)
	if text := render(t, s, renderings[4]); strings.TrimSpace(text) != want {
		t.Errorf("written again as\n%s\nwant\n%s", text, want)
	}
}

// Labels of runs, lots and suppliers are as little trusted as others.
func TestHostileRules(t *testing.T) {
	for i, l := range hostile {
		p := optimize.Problem{
			Kerf:   measure.Inch / 8,
			Sticks: []stock.Stick{{Label: l, Length: ft(8, 0, 0), Price: 1000, Supplier: "x" + l, Lot: l, Bundle: 2}},
			Runs:   []stock.Run{{Label: l, Length: ft(12, 0, 0), Splice: stock.SpliceRule{At: []measure.Length{ft(6, 0, 0)}, Price: 10}}},
			Rules:  optimize.Rules{Charges: []optimize.Charge{{Supplier: "x" + l, Amount: 5}}},
		}
		if i%2 == 0 {
			p.Sticks[0].Supplier, p.Rules.Charges[0].Supplier = l, l
		}
		s := sheet(t, p, nil)
		for _, r := range renderings[:3] {
			noHidden(t, fmt.Sprintf("%s of %.40q", r.ext, l), render(t, s, r), "\n")
		}
		checkMarkup(t, "SVG", render(t, s, renderings[1]))
		checkMarkup(t, "HTML", render(t, s, renderings[2]))
		rows, err := csv.NewReader(strings.NewReader(render(t, s, renderings[3]))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, field := range row {
				bare := strings.TrimLeft(field, " \u00a0\u3000\"")
				if bare != "" && strings.ContainsAny(bare[:1], "=+-@\t\r\n|%") || strings.HasPrefix(bare, "＝") {
					t.Errorf("field %q starts a formula", field)
				}
			}
		}
	}
	for field, spoil := range map[string]func(p *optimize.Problem){
		"sticks[0].lot":              func(p *optimize.Problem) { p.Sticks[0].Lot = "\xff" },
		"sticks[0].supplier":         func(p *optimize.Problem) { p.Sticks[0].Supplier = "\xff" },
		"runs[1].label":              func(p *optimize.Problem) { p.Runs[1].Label = "\xff" },
		"runs[1].allowances[0].name": func(p *optimize.Problem) { p.Runs[1].Allowances = []stock.Allowance{{Name: "\xff"}} },
		"rules.charges[0].supplier":  func(p *optimize.Problem) { p.Rules.Charges[0].Supplier = "\xff" },
		"pieces[1].right.setback":    func(p *optimize.Problem) { p.Pieces[1].Right.Setback = ft(20, 0, 0) },
	} {
		p, _ := boards()
		plan := solve(t, p)
		spoil(&p)
		var input *measure.FieldError
		if _, err := cutsheet.New(context.Background(), p, plan, nil); err == nil || errors.As(err, &input) && input.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// Without labels runs are named by their number, and one in one piece is no part; a plan that only takes
// from the rack still states its cost.
func TestRunsWithoutLabels(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: ft(8, 0, 0), Limit: 3, Rack: true, Price: 50}},
		Runs: []stock.Run{
			{Length: ft(12, 0, 0), Splice: stock.SpliceRule{At: []measure.Length{ft(6, 0, 0)}, Price: 10, MaxSplices: 1}},
			{Length: ft(7, 0, 0)},
		},
	}
	var b bytes.Buffer
	if err := sheet(t, p, nil).WriteText(&b); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{
		"run 1, 12': joined square at 6' from the left long point; from left to right run 1 part 1 of 2 (6') and run 1 part 2 of 2 (6').",
		"run 2, 7': in one piece.", "7' run 2 1' offcut", "1.50 sticks off the rack", "0.10 1 splice at 0.10", "1.60 cost",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}
