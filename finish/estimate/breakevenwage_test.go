package estimate_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// 200.00 and 10 h against 300.00 and 6 h: as much at 25.00 an hour (derived).
func TestBreakEvenWageByHand(t *testing.T) {
	a := estimate.Alternative{Label: "a", Net: 100 * ft, StickCost: 20000, Labor: 10 * hour}
	b := estimate.Alternative{Label: "b", Net: 100 * ft, StickCost: 30000, Labor: 6 * hour}
	got := must[[]estimate.WageSpan](t)(estimate.BreakEvenWage(a, b, estimate.Terms{Markup: 50 * percent}, estimate.WageRange{To: 10000}))
	want := []estimate.WageSpan{{From: 0, To: 2499, Cheaper: "a"}, {From: 2500, To: 2500}, {From: 2501, To: 10000, Cheaper: "b"}}
	if len(got) != 3 || got[0] != want[0] || got[1] != want[1] || got[2] != want[2] {
		t.Errorf("%+v, want %+v", got, want)
	}
	// Twice the length for twice the price: the order is by the foot.
	b.Net, b.StickCost, b.Labor = 200*ft, 60000, 12*hour
	if again := must[[]estimate.WageSpan](t)(estimate.BreakEvenWage(a, b, estimate.Terms{}, estimate.WageRange{To: 10000})); len(again) != 3 || again[1] != want[1] {
		t.Errorf("%+v, want %+v", again, want)
	}
}

// Every wage has the order that pricing at it alone gives, whatever the terms round.
func TestBreakEvenWageEqualsScan(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 31))
	for range 150 {
		a, terms := randomJob(r)
		b, _ := randomJob(r)
		a.Label, b.Label = "a", "b"
		a.Net, b.Net = ft+measure.Length(r.Int64N(int64(300*ft))), ft+measure.Length(r.Int64N(int64(300*ft)))
		at := estimate.WageRange{From: r.Int64N(100), Step: 1 + r.Int64N(300)}
		at.To = at.From + at.Step*r.Int64N(80)
		spans, err := estimate.BreakEvenWage(a, b, terms, at)
		if err != nil {
			t.Fatal(err)
		}
		k := 0
		for w := at.From; w <= at.To; w += at.Step {
			if w > spans[k].To {
				if k++; spans[k].From != w || spans[k].Cheaper == spans[k-1].Cheaper {
					t.Fatalf("%+v", spans)
				}
			}
			terms.Wage = w
			x, y := must[*estimate.Quote](t)(estimate.NewQuote(a, terms)), must[*estimate.Quote](t)(estimate.NewQuote(b, terms))
			want := [...]string{"a", "", "b"}[1+natural.CompareProducts(x.Total, int64(b.Net), y.Total, int64(a.Net))]
			if spans[k].Cheaper != want {
				t.Fatalf("at %d, %q is cheaper, but the span says %+v", w, want, spans[k])
			}
		}
		if spans[0].From != at.From || spans[len(spans)-1].To != at.To {
			t.Fatalf("%+v omit an end of %+v", spans, at)
		}
	}
}

func TestBreakEvenWageFaults(t *testing.T) {
	_, err := estimate.BreakEvenWage(estimate.Alternative{Label: "a", StickCost: -1}, estimate.Alternative{Label: "a", Net: ft}, estimate.Terms{Wage: -1}, estimate.WageRange{From: -1, To: -2, Step: -1})
	fields(t, err, "wages.from", "wages.to", "wages.step", "terms.wage", "alternatives[0].stick_cost", "alternatives[0].net", "alternatives[1].label")
	_, err = estimate.BreakEvenWage(estimate.Alternative{Label: "a", Net: ft}, estimate.Alternative{Label: "b", Net: ft}, estimate.Terms{}, estimate.WageRange{To: math.MaxInt64})
	fields(t, err, "wages.step")
	_, err = estimate.BreakEvenWage(estimate.Alternative{Label: "a", Net: ft, Labor: math.MaxInt64}, estimate.Alternative{Label: "b", Net: ft}, estimate.Terms{}, estimate.WageRange{To: math.MaxInt64, Step: math.MaxInt64 / 10})
	if !errors.As(err, new(*measure.RangeError)) {
		t.Error(err)
	}
}

// The basis of break-evens: under no terms does a total fall as the trim or the wage rises, cent by
// cent.
func TestTotalsNeverFall(t *testing.T) {
	r := rand.New(rand.NewPCG(89, 97))
	cases := 400
	if testing.Short() {
		cases = 100
	}
	for range cases {
		job, terms := randomJob(r)
		job.Net, terms.Wage = 0, r.Int64N(300)
		if r.IntN(2) == 0 { // amounts for which a cent is much
			job.StickCost, job.Consumables, job.Labor = job.StickCost%50, job.Consumables%50, job.Labor/50
			for i := range job.Costs {
				job.Costs[i].Amount %= 50
			}
		}
		if r.IntN(2) == 0 {
			terms.TaxRule = estimate.TaxRule{Base: estimate.TaxMaterialPrice, ByClient: true}
		}
		before, dearer := int64(-1), job
		for n := range int64(60) {
			dearer.StickCost = job.StickCost + n
			q := must[*estimate.Quote](t)(estimate.NewQuote(dearer, terms))
			if q.Total < before {
				t.Fatalf("%d more for the trim: %d, %d before\n%+v\n%+v", n, q.Total, before, job, terms)
			}
			before = q.Total
		}
		before = -1
		for range 60 {
			terms.Wage++
			q := must[*estimate.Quote](t)(estimate.NewQuote(job, terms))
			if q.Total < before {
				t.Fatalf("at a wage of %d: %d, %d before\n%+v\n%+v", terms.Wage, q.Total, before, job, terms)
			}
			before = q.Total
		}
	}
}
