package estimate_test

import (
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/stock"
)

// A whole job, done in exactly the hours and with exactly the sticks of its estimate: no line changes,
// no rate moves, every rate is based on one job more, and the rack has the plans' offcuts.
func TestWholeJobAsEstimated(t *testing.T) {
	e := estimated(t, wholeJob(), nil)
	log := estimate.JobLog{Date: "June 2027"}
	for _, c := range e.Quote.Costs {
		log.Entries = append(log.Entries, estimate.LogEntry{Label: c.Label, Kind: c.Kind, Room: c.Room, Profile: c.Profile, Step: c.Step, Amount: c.Amount, Labor: c.Labor, Quantity: c.Quantity})
	}
	kept := 0
	for _, p := range e.Plans {
		change := must[stock.RackChange](t)(p.Plan.RackChange(p.Problem, p.Profile))
		kept += len(change.Leaves)
		log.Rack = append(log.Rack, change)
	}
	a := must[*estimate.Actual](t)(estimate.NewActual(e.Quote, e.Job.Terms, log, e.Job.Rack))
	if len(a.Change.Lines) != 0 || a.Change.Labor != 0 || a.Kept < e.Quote.Price-e.Quote.Cost {
		t.Errorf("kept %d: %+v", a.Kept, a.Change)
	}
	if len(a.Rack.Applied) != len(e.Job.Rack.Applied)+len(e.Plans) || kept == 0 {
		t.Errorf("%d plans leave %d, the rack has %+v", len(e.Plans), kept, a.Rack)
	}
	rates := labor.DefaultRates()
	if e.Job.Rates != nil {
		rates = *e.Job.Rates
	}
	u := must[*estimate.RateUpdate](t)(estimate.UpdateRates(rates, e.Labor, log))
	if len(u.Changes) == 0 || len(u.Findings) != 0 {
		t.Errorf("%+v", u)
	}
	for _, c := range u.Changes {
		if c.Was != c.Now || c.Jobs != rates.Table[c.Rate].Jobs+1 {
			t.Errorf("%+v", c)
		}
	}
}

// A job with a room more is the old one and one change order.
func TestChangeOrderOfAWholeJob(t *testing.T) {
	j := wholeJob()
	before := j
	before.Rooms = j.Rooms[:len(j.Rooms)-1]
	if len(before.Rooms) == 0 {
		t.Skip("one room")
	}
	was, now := estimated(t, before, nil), estimated(t, j, nil)
	o := must[*estimate.ChangeOrder](t)(estimate.NewChangeOrder("one more room", was.Quote, now.Quote, 2))
	total := must[estimate.ContractTotal](t)(estimate.Contract{Label: j.Name, Price: was.Quote.Total, Orders: []estimate.ChangeOrder{*o}}.Total())
	if total.Price != now.Quote.Total || len(o.Scope) == 0 {
		t.Errorf("%+v of %d, want %d", o, was.Quote.Total, now.Quote.Total)
	}
}

// A whole job as an alternative has the price that it has, whichever trim is in question.
func TestWholeJobAsAlternative(t *testing.T) {
	e := estimated(t, wholeJob(), nil)
	for _, p := range append([]estimate.ProfilePlan{{}}, e.Plans...) {
		q := must[*estimate.Quote](t)(estimate.NewQuote(must[estimate.Alternative](t)(e.Alternative("job").SticksOf(p.Profile)), e.Job.Terms))
		if q.Total != e.Quote.Total || q.Cost != e.Quote.Cost {
			t.Errorf("%q: %d of %d, want %d of %d", p.Profile, q.Cost, q.Total, e.Quote.Cost, e.Quote.Total)
		}
	}
}
