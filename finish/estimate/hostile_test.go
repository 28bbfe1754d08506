package estimate_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Whatever the input, there is an answer that adds up or one of the two errors, and no panic.
func TestAnyTermsAndCosts(t *testing.T) {
	r := rand.New(rand.NewPCG(37, 41))
	sound := false
	n := func() int64 {
		v := []int64{0, 0, 1, 7, -1, 99, 1 << 20, 1 << 40, math.MaxInt64, math.MinInt64, math.MaxInt64 - 1, r.Int64()}[r.IntN(12)]
		if sound {
			v = max(0, v)
		}
		return v
	}
	ratio := func() measure.Ratio {
		return measure.Ratio([]int64{0, 0, 1, 250_000, 999_999, 1_000_000, n()}[r.IntN(7)])
	}
	flip := func() bool { return r.IntN(2) == 0 }
	fine := 0
	for i := range 5_000 {
		sound = flip()
		job := estimate.Alternative{Label: "a", Net: measure.Length(n()), StickCost: n(), Consumables: n(), Labor: measure.Duration(n())}
		for k := range r.IntN(4) {
			c := estimate.Cost{Label: string(rune('a' + k)), Kind: estimate.CostKind(r.IntN(9)), Quantity: finish.Count(n()), Risky: flip(), Taxed: flip(), PassThrough: flip()}
			if c.Kind == estimate.CostLabor {
				c.Labor, c.Wage = measure.Duration(n()), n()
			} else {
				c.Amount = n()
			}
			if c.PassThrough {
				c.Markup = ratio()
			}
			job.Costs = append(job.Costs, c)
		}
		terms := estimate.Terms{Wage: n(), Burden: ratio(), Tax: ratio(), Overhead: ratio(), Contingency: ratio(), ContingencyRisky: flip(), ContingencyAfter: flip(), Minimum: n(),
			TaxRule:  estimate.TaxRule{Base: estimate.TaxBase(r.IntN(5)), ByClient: flip(), PassThrough: flip()},
			Rounding: estimate.Rounding{PerTotal: flip(), HalfUp: flip(), UpTo: n()}}
		if flip() {
			terms.Markup = ratio()
		} else {
			terms.Margin = ratio()
		}
		q, err := estimate.NewQuote(job, terms)
		if answered(t, err) {
			fine++
			checkTables(t, i, q)
			_, err = estimate.NewChange(q, &estimate.Quote{Total: n(), Direct: n(), Price: n(), Costs: q.Costs[:len(q.Costs)/2]})
			answered(t, err)
			_, err = estimate.NewPaymentSchedule(q.Total, estimate.PaymentTerms{Down: ratio(), DownLimit: estimate.DownLimit{Share: ratio(), Amount: n()}, Retainage: ratio(), Stages: []estimate.PaymentStage{{Label: "a", Done: ratio()}, {Label: "b", Done: one}}})
			answered(t, err)
			_, err = estimate.NewActual(q, terms, estimate.JobLog{Entries: []estimate.LogEntry{{Label: "a", Kind: estimate.CostKind(r.IntN(9)), Amount: n(), Labor: measure.Duration(n()), Wage: n(), Quantity: finish.Count(n())}}}, stock.Rack{})
			answered(t, err)
		}
		_, err = estimate.SecondTrip{Chance: ratio(), Rate: n(), Drive: measure.Duration(n()), Idle: measure.Duration(n()), Miles: n(), PerMile: n(), Delivery: n()}.Cost()
		answered(t, err)
		_, err = estimate.Employment{Wage: n(), Hours: measure.Duration(n()), Overtime: measure.Duration(n()), Cash: []estimate.YearlyAmount{{Label: "a", Amount: n()}},
			Burden: []estimate.BurdenItem{{Label: "b", Rate: ratio(), Limit: n(), Amount: n()}}, Off: []estimate.PaidTime{{Label: "c", Time: measure.Duration(n())}}}.Rate()
		answered(t, err)
		_, err = estimate.MarkupNeeded(n(), n(), n())
		answered(t, err)
		_, err = estimate.Contract{Price: n(), Days: n(), Orders: []estimate.ChangeOrder{{Label: "a", Price: n(), Days: n()}, {Label: "b", Price: n()}}}.Total()
		answered(t, err)
	}
	if fine < 250 {
		t.Errorf("only %d jobs had a price", fine)
	}
}

// answered reports whether there is no error, and fails for one of another type.
func answered(t *testing.T, err error) bool {
	t.Helper()
	if err != nil && !errors.As(err, new(*measure.FieldError)) && !errors.As(err, new(*measure.RangeError)) {
		t.Fatalf("%T: %v", err, err)
	}
	return err == nil
}

// All that is wrong with a job and its terms is said at once, by the names of its file.
func TestAllFaultsOfAJob(t *testing.T) {
	job := estimate.Alternative{Net: -1, StickCost: -1, Consumables: -1, Labor: -1, Costs: []estimate.Cost{
		{Label: "x", Kind: estimate.CostLabor, Amount: 1, Wage: -1},
		{Label: "x", Kind: 77, Labor: 1, Wage: 1, Markup: 1},
		{Label: "y", Amount: -1, Quantity: finish.Count(-1), PassThrough: true, Markup: -1}, {Label: "y"}, {},
	}}
	terms := estimate.Terms{Wage: -1, Burden: -1, Tax: -1, Overhead: -1, Contingency: -1, Markup: -1, Margin: one, Minimum: -1,
		TaxRule: estimate.TaxRule{Base: 9}, Rounding: estimate.Rounding{UpTo: -1}, Locale: measure.Locale{Currency: measure.Currency{Minor: 3}}}
	_, err := estimate.NewQuote(job, terms)
	fields(t, err, "terms.wage", "terms.burden", "terms.tax", "terms.overhead", "terms.contingency", "terms.markup", "terms.margin", "terms.margin", "terms.tax_rule.base",
		"terms.minimum", "terms.rounding.up_to", "terms.locale.currency.minor",
		"label", "net", "stick_cost", "consumables", "labor", "costs[0].amount", "costs[0].wage", "costs[1].kind", "costs[1].labor", "costs[1].wage", "costs[1].markup",
		"costs[2].amount", "costs[2].quantity", "costs[2].markup", "costs[3].label", "costs[4].label")
	_, err = estimate.NewQuote(estimate.Alternative{Label: "a", StickCost: 1, Costs: []estimate.Cost{{Label: "sticks", Kind: estimate.CostTrim}}}, estimate.Terms{TaxRule: estimate.TaxRule{Base: estimate.TaxMaterialPrice}})
	fields(t, err, "terms.tax_rule.by_client", "costs[0].label")
}

// JSON reads back the same, strictly.
func TestQuoteAsJSON(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 47))
	for range 50 {
		job, terms := randomJob(r)
		job.Net = 0
		terms.TaxRule = estimate.TaxRules()[r.IntN(8)]
		q := must[*estimate.Quote](t)(estimate.NewQuote(job, terms))
		for _, c := range []struct{ from, to any }{{&job, new(estimate.Alternative)}, {&terms, new(estimate.Terms)}, {q, new(estimate.Quote)},
			{must[*estimate.Change](t)(estimate.NewChange(nil, q)), new(estimate.Change)}, {&estimate.JobLog{Entries: []estimate.LogEntry{{Label: "x", Kind: estimate.CostDelivery}}}, new(estimate.JobLog)},
			{must[*estimate.PaymentSchedule](t)(estimate.NewPaymentSchedule(q.Total, estimate.PaymentTerms{})), new(estimate.PaymentSchedule)}} {
			text := must[[]byte](t)(json.Marshal(c.from))
			if err := measure.UnmarshalStrict(text, c.to); err != nil || !reflect.DeepEqual(c.from, c.to) {
				t.Fatalf("%s: %v\n%+v\n%+v", text, err, c.from, c.to)
			}
		}
	}
}

// Whatever a file contains, its job has a price that adds up or one of the two errors.
func FuzzPricedFile(f *testing.F) {
	type file struct {
		Job   estimate.Alternative `json:"job"`
		Terms estimate.Terms       `json:"terms"`
		Log   estimate.JobLog      `json:"log"`
	}
	r := rand.New(rand.NewPCG(101, 103))
	for range 5 {
		job, terms := randomJob(r)
		text, err := json.Marshal(file{job, terms, estimate.JobLog{Entries: []estimate.LogEntry{{Label: "labor", Kind: estimate.CostLabor, Labor: hour}}}})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(`{"job":{"label":"a","net":"100 ft","stick_cost":100,"costs":[{"label":"x","amount":5,"pass_through":true,"markup":"10%","quantity":"3 ct"}]},"terms":{"wage":1,"minimum":7}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var in file
		if measure.UnmarshalStrict(data, &in) != nil {
			return
		}
		q, err := estimate.NewQuote(in.Job, in.Terms)
		if answered(t, err) {
			checkTables(t, 0, q)
			_, err = estimate.NewActual(q, in.Terms, in.Log, stock.Rack{})
			answered(t, err)
		}
	})
}
