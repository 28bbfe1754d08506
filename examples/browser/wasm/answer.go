package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

// answer is a sheet with the page's summary of it, or the faults of the form.
type answer struct {
	Faults  []fault `json:"faults,omitempty"`
	Sheet   string  `json:"sheet,omitempty"` // as a page
	Name    string  `json:"fingerprint"`     // fingerprint of problem and plan
	Sticks  int64   `json:"sticks"`          // to buy
	Pieces  int64   `json:"pieces"`          // to cut
	Cost    string  `json:"cost"`
	Gap     string  `json:"gap,omitempty"` // largest possible saving of another plan
	Proven  bool    `json:"proven"`
	Stopped bool    `json:"stopped,omitempty"` // the user ended the search
}

// steps limits a solve: a few seconds in a browser. A deadline would work too, but with steps
// the same form gives the same sheet on every machine.
const steps = 200_000_000

var locale = measure.Locale{Currency: measure.Currency{Symbol: "$"}}

// headway is the progress of a search, as the page shows it.
type headway struct {
	Cost  string  `json:"cost"`  // of the best plan so far
	Gap   string  `json:"gap"`   // largest possible saving of another plan
	Open  float64 `json:"open"`  // the same as a share of the cost
	Spent float64 `json:"spent"` // share of the steps used
}

// respond answers a request of the page: text in, JSON out. A long computation reports its
// progress, also as JSON, and ends early with the best plan so far if tell returns false.
func respond(kind, text string, tell func(string) bool) string {
	var a any
	switch kind {
	case "read":
		a = read(text)
	case "list":
		a = readList(text)
	case "open":
		a = openFile(text)
	default:
		var r request
		switch err := json.Unmarshal([]byte(text), &r); {
		case err != nil:
			a = answer{Faults: []fault{{Message: "The page sent something that cannot be read."}}}
		case kind == "save":
			a = r.save()
		default:
			a = r.answer(tell)
		}
	}
	out, err := json.Marshal(a)
	if err != nil {
		return `{"faults": [{"field": "", "message": "The answer cannot be written."}]}`
	}
	return string(out)
}

func (r *request) answer(tell func(string) bool) answer {
	f := form{request: r}
	p := f.problem()
	if len(f.faults) > 0 {
		return answer{Faults: f.faults}
	}
	// If splices cost nothing, the fewest splices at the same cost are wanted: as the goal
	// right after the cost this finds far fewer than the usual goals do.
	if len(p.Runs) > 0 && len(p.Rules.Goals) == 0 {
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSplices}
	}
	amount := length
	if counted(&p) {
		amount = money
	}
	plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: steps, Progress: func(now optimize.Progress) bool {
		text := []byte("null") // there is no plan yet
		if now.Found {
			h := headway{amount(now.Cost), amount(now.Cost - now.Bound), float64(now.Cost-now.Bound) / float64(max(now.Cost, 1)), float64(now.Work) / steps}
			text, _ = json.Marshal(h) // text and finite numbers
		}
		return tell(string(text))
	}})
	if err != nil {
		stop := (*optimize.LimitError)(nil)
		return answer{Faults: f.blame(err), Stopped: errors.As(err, &stop) && stop.Stop == optimize.StopCaller}
	}
	sheet, err := cutsheet.New(context.Background(), p, plan, &cutsheet.Options{Title: r.Title, Date: r.Date, Locale: locale})
	if err != nil {
		return answer{Faults: f.blame(err)}
	}
	var page bytes.Buffer
	if err := sheet.WriteHTML(&page); err != nil {
		return answer{Faults: []fault{{Message: err.Error()}}}
	}
	a := answer{Sheet: page.String(), Name: sheet.Fingerprint(), Cost: amount(plan.Cost), Proven: plan.Proven, Stopped: plan.Stop == optimize.StopCaller}
	for _, x := range plan.Buy {
		if !p.Sticks[x.Stick].Rack {
			a.Sticks += int64(x.Count)
		}
	}
	for _, x := range plan.Patterns {
		a.Pieces += int64(x.Count) * int64(len(x.Pieces))
	}
	if !plan.Proven {
		a.Gap = amount(plan.Cost - plan.Bound)
	}
	return a
}

// counted reports whether the cost of a plan for the problem is money rather than length.
func counted(p *optimize.Problem) bool {
	counts := p.Rules.YardCut != 0
	for _, s := range p.Sticks {
		counts = counts || s.Price != 0 || len(s.Breaks) > 0
	}
	for _, r := range p.Runs {
		counts = counts || r.Splice.Price != 0
	}
	for _, c := range p.Rules.Charges {
		counts = counts || c.Amount != 0
	}
	return counts
}

// money formats the cost of a plan.
func money(n int64) string { return locale.FormatMoney(n) }

// length formats it if nothing has a price, so the cost is a length.
func length(n int64) string { return measure.Length(n).About(measure.Inch) }
