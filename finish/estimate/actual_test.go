package estimate_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

func loggedJob(t *testing.T) (*estimate.Quote, estimate.Terms) {
	t.Helper()
	terms := estimate.Terms{Wage: 5000, Tax: 8 * percent, Contingency: 10 * percent, Markup: 50 * percent, Rounding: estimate.Rounding{UpTo: 500}}
	return must[*estimate.Quote](t)(estimate.NewQuote(estimate.Alternative{Label: "corridor", Costs: []estimate.Cost{
		{Label: "base, 12 ft", Kind: estimate.CostTrim, Profile: "base", Quantity: finish.Count(10), Amount: 30000},
		{Label: "hang", Kind: estimate.CostLabor, Room: "corridor", Step: "hang", Labor: 8 * hour},
		{Label: "rental", Kind: estimate.CostEquipment, Amount: 4000, Taxed: true},
		{Label: "permit", Amount: 2000, PassThrough: true},
	}}, terms)), terms
}

// Eleven sticks instead of ten, ten hours instead of eight in two days, no rental, and an unplanned
// blade (derived).
func TestActualByHand(t *testing.T) {
	q, terms := loggedJob(t)
	log := estimate.JobLog{Entries: []estimate.LogEntry{
		{Date: "May 4", Label: "base, 12 ft", Kind: estimate.CostTrim, Profile: "base", Quantity: finish.Count(10), Amount: 30000},
		{Date: "May 4", Label: "hang", Kind: estimate.CostLabor, Room: "corridor", Step: "hang", Labor: 7 * hour},
		{Date: "May 5", Label: "base, 12 ft", Kind: estimate.CostTrim, Profile: "base", Quantity: finish.Count(1), Amount: 3600},
		{Date: "May 5", Label: "hang", Kind: estimate.CostLabor, Room: "corridor", Step: "hang", Labor: 3 * hour},
		{Date: "May 5", Label: "blade", Kind: estimate.CostEquipment, Amount: 4500},
		{Date: "May 5", Label: "permit", Amount: 2000},
	}, Rack: []stock.RackChange{{ID: "corridor", Leaves: []stock.Offcut{{Profile: "base", Length: 5 * ft}}}}}
	a := must[*estimate.Actual](t)(estimate.NewActual(q, terms, log, stock.Rack{}))
	// Spent: 336 + 8 % tax 26.88 + 500 + 45 + 20 = 927.88. Asked: (340 + 27.20 + 400) × 1.1 × 1.5 + 20 = 1,285.88, up to 1,290.
	if q.Price != 129000 || a.Quote.Cost != 92788 || a.Kept != 129000-92788 {
		t.Errorf("price %d, spent %d, kept %d", q.Price, a.Quote.Cost, a.Kept)
	}
	want := map[string][3]int64{"base, 12 ft": {3000, 600, 0}, "hang": {10000, 0, 0}, "rental": {-4000, 0, 2}, "blade": {4500, 0, 1}}
	if len(a.Change.Lines) != len(want) {
		t.Errorf("%+v", a.Change.Lines)
	}
	for _, l := range a.Change.Lines {
		if got := [3]int64{l.ByQuantity, l.ByRate, int64(l.Change)}; got != want[l.Label] {
			t.Errorf("%s: %v, want %v", l.Label, got, want[l.Label])
		}
	}
	if len(a.Rack.Offcuts) != 1 || len(a.Rack.Applied) != 1 {
		t.Errorf("%+v", a.Rack)
	}
	log.Rack = append(log.Rack, stock.RackChange{})
	_, err := estimate.NewActual(q, terms, log, stock.Rack{})
	fields(t, err, "log.rack[1].id")
	log.Rack[1] = stock.RackChange{ID: "crown", Uses: []stock.Offcut{{Profile: "crown", Length: ft}}}
	if _, err := estimate.NewActual(q, terms, log, stock.Rack{}); !errors.As(err, new(*stock.RackError)) {
		t.Errorf("a missing offcut: %v", err)
	}
}

// The profit of a bid (Hicks, Builders' Guide, 1890s, from memory): 60 days of five men at 2.50 cost
// 750 and leave 150 of 900; 48 days leave 200 of 800, and if they become 52, 150.
func TestWhatABidLeaves(t *testing.T) {
	for _, c := range []struct{ estimated, actual, bid, kept int64 }{{60, 60, 900_00, 150_00}, {48, 48, 800_00, 200_00}, {48, 52, 800_00, 150_00}} {
		days := func(n int64) measure.Duration { return measure.Duration(n) * 5 * 10 * hour }
		terms := estimate.Terms{Wage: 25, Minimum: c.bid} // by the hour of a day of ten
		q := must[*estimate.Quote](t)(estimate.NewQuote(estimate.Alternative{Label: "house", Labor: days(c.estimated)}, terms))
		a := must[*estimate.Actual](t)(estimate.NewActual(q, terms, estimate.JobLog{Entries: []estimate.LogEntry{{Label: "labor", Kind: estimate.CostLabor, Labor: days(c.actual)}}}, stock.Rack{}))
		if q.Price != c.bid || a.Kept != c.kept {
			t.Errorf("%+v: %d of %d", c, a.Kept, q.Price)
		}
	}
}

// A job that took exactly its estimate changes no line, and the profit is the price minus the cost, and
// the contingency.
func TestActualAsEstimated(t *testing.T) {
	r := rand.New(rand.NewPCG(79, 83))
	for range 500 {
		job, terms := randomJob(r)
		job.Net = 0
		q := must[*estimate.Quote](t)(estimate.NewQuote(job, terms))
		var log estimate.JobLog
		contingency := int64(0)
		for _, c := range q.Costs {
			log.Entries = append(log.Entries, estimate.LogEntry{Label: c.Label, Kind: c.Kind, Room: c.Room, Profile: c.Profile, Step: c.Step, Amount: c.Amount, Labor: c.Labor, Wage: c.Wage, Quantity: c.Quantity})
		}
		for _, l := range q.Lines {
			if l.Part == estimate.PartContingency {
				contingency += l.Amount
			}
		}
		a := must[*estimate.Actual](t)(estimate.NewActual(q, terms, log, stock.Rack{}))
		if off := a.Kept - (q.Price - q.Cost + contingency); len(a.Change.Lines) != 0 || off < -1 || off > 1 {
			t.Fatalf("%+v, %+v: kept %d of %d: %+v", job, terms, a.Kept, q.Price-q.Cost+contingency, a.Change)
		}
	}
}

func TestLogFaults(t *testing.T) {
	q, terms := loggedJob(t)
	terms.Wage = -1
	_, err := estimate.NewActual(q, terms, estimate.JobLog{Entries: []estimate.LogEntry{
		{Label: "paint", Quantity: finish.Count(1)}, {Label: "paint", Quantity: finish.AmountOf(ft)}, {Amount: -1}, {Label: "hang", Labor: hour}, {Kind: 99, Label: "x"},
	}}, stock.Rack{})
	fields(t, err, "terms.wage", "log.entries[1].quantity", "log.entries[2].label", "log.entries[2].amount", "log.entries[3].labor", "log.entries[4].kind")
	_, err = estimate.NewActual(nil, estimate.Terms{}, estimate.JobLog{}, stock.Rack{})
	fields(t, err, "estimate")
	_, err = estimate.NewActual(q, estimate.Terms{}, estimate.JobLog{Entries: []estimate.LogEntry{{Label: "x", Amount: math.MaxInt64}, {Label: "x", Amount: 1}}}, stock.Rack{})
	if !errors.As(err, new(*measure.RangeError)) {
		t.Error(err)
	}
}
