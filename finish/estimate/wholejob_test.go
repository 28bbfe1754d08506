package estimate_test

import (
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

const percent = measure.Percent

// A whole job worked by hand (derived): 40 h at 41.41, materials of 1,200.00 taxed at
// 8.25 %, disposal of 75.00, 5 % contingency, 50 % markup, up to the next $5.
func TestWholeJobByHand(t *testing.T) {
	job := estimate.Alternative{Label: "schoolhouse", Labor: 40 * hour, StickCost: 80000, Consumables: 40000,
		Costs: []estimate.Cost{{Label: "disposal", Kind: estimate.CostDisposal, Amount: 7500}}}
	terms := estimate.Terms{Wage: 4141, Tax: 825 * percent / 100, Contingency: 5 * percent, Markup: 50 * percent}
	terms.Rounding.UpTo = 500
	q := must[*estimate.Quote](t)(estimate.NewQuote(job, terms))
	if q.Direct != 165640+120000+7500 || q.Cost != 318192 || q.Price != 477500 || q.Total != 477500 || q.Reached != 333_629 {
		t.Errorf("direct %d, cost %d, price %d, margin %v; want 2,931.40, 3,181.92, 4,775.00, 33.36%%", q.Direct, q.Cost, q.Price, q.Reached)
	}
	want := []estimate.QuoteLine{
		{"sticks", estimate.PartDirect, 80000}, {"consumables", estimate.PartDirect, 40000}, {"disposal", estimate.PartDirect, 7500}, {"labor", estimate.PartDirect, 165640},
		{"tax 8.25%", estimate.PartTax, 9900}, {"contingency 5%", estimate.PartContingency, 15152}, {"markup 50% of cost", estimate.PartMarkup, 159096}, {"up to the next 5.00", estimate.PartRounding, 212},
	}
	for i, l := range q.Lines {
		if i >= len(want) || l != want[i] {
			t.Errorf("line %d: %+v, want %+v", i, l, want[min(i, len(want)-1)])
		}
	}
	terms.Rounding.UpTo, terms.ContingencyAfter = 0, true
	if q := must[*estimate.Quote](t)(estimate.NewQuote(job, terms)); q.Total != 469712 || q.Cost != 318192 {
		t.Errorf("contingency after markup: %d of %d, want 4,697.12", q.Total, q.Cost)
	}
}

// Material 1,000, labor 2,000, rate 8.25 %, markup 50 % (derived; the rules are those of
// 34 TAC 3.291 and the like, see TaxRules).
func TestSalesTaxByRule(t *testing.T) {
	job := estimate.Alternative{Label: "base", StickCost: 100000, Labor: 40 * hour}
	for _, c := range []struct {
		rule         estimate.TaxRule
		price, total int64
	}{
		{estimate.TaxRule{}, 462375, 462375},
		{estimate.TaxRule{PassThrough: true}, 458250, 458250},
		{estimate.TaxRule{Base: estimate.TaxMaterialPrice, ByClient: true}, 450000, 462375},
		{estimate.TaxRule{Base: estimate.TaxAll, ByClient: true}, 450000, 487125},
		{estimate.TaxRule{Base: estimate.TaxMaterialCost, ByClient: true}, 450000, 458250},
		{estimate.TaxRule{Base: estimate.TaxAll}, 487125, 487125}, // all direct cost, then marked up: the same here
		{estimate.TaxRule{Base: estimate.TaxAll, PassThrough: true}, 450000 + 24750, 474750},
		{estimate.TaxRule{Base: estimate.TaxNone}, 450000, 450000},
		{estimate.TaxRule{Base: estimate.TaxNone, ByClient: true}, 450000, 450000},
	} {
		q := must[*estimate.Quote](t)(estimate.NewQuote(job, estimate.Terms{Wage: 5000, Tax: 825 * percent / 100, TaxRule: c.rule, Markup: 50 * percent}))
		if q.Price != c.price || q.Total != c.total || q.ClientTax != c.total-c.price {
			t.Errorf("%+v: price %d, total %d, want %d, %d", c.rule, q.Price, q.Total, c.price, c.total)
		}
	}
}

// Three times half an hour at 66.67 is three times 33.335 (derived).
func TestRoundingOnce(t *testing.T) {
	job := estimate.Alternative{Label: "touch-up"}
	for _, room := range []string{"classroom", "cloakroom", "corridor"} {
		job.Costs = append(job.Costs, estimate.Cost{Label: "labor", Kind: estimate.CostLabor, Room: room, Labor: hour / 2})
	}
	for _, c := range []struct {
		r     estimate.Rounding
		total int64
	}{
		{estimate.Rounding{HalfUp: true}, 10002},
		{estimate.Rounding{}, 10002}, // 3333.5 goes to the even 3334
		{estimate.Rounding{PerTotal: true, HalfUp: true}, 10001},
		{estimate.Rounding{PerTotal: true}, 10000},
		{estimate.Rounding{PerTotal: true, UpTo: 500}, 10000},
		{estimate.Rounding{UpTo: 500}, 10500},
	} {
		q := must[*estimate.Quote](t)(estimate.NewQuote(job, estimate.Terms{Wage: 6667, Rounding: c.r}))
		if q.Total != c.total {
			t.Errorf("%+v: %d, want %d", c.r, q.Total, c.total)
		}
	}
}

// Contingency on the risky lines alone, separate costs with their own markup or none, overhead and a
// minimum charge (derived).
func TestRiskyApartMinimum(t *testing.T) {
	job := estimate.Alternative{Label: "stair", StickCost: 50000, Costs: []estimate.Cost{
		{Label: "old skirt comes off", Kind: estimate.CostLabor, Labor: 4 * hour, Risky: true},
		{Label: "newel", Amount: 20000, PassThrough: true, Markup: 10 * percent, Allowance: true},
		{Label: "permit", Amount: 5000, PassThrough: true},
	}}
	terms := estimate.Terms{Wage: 5000, Burden: 40 * percent, Overhead: 10 * percent, Contingency: 20 * percent, ContingencyRisky: true, Markup: 25 * percent}
	// 500 + 4 h at 50 + 40 % = 780; overhead 78; 20 % of 280 is 56; 914 + 25 % = 1,142.50; newel 220, permit 50.
	q := must[*estimate.Quote](t)(estimate.NewQuote(job, terms))
	if q.Direct != 103000 || q.Cost != 116400 || q.Total != 141250 {
		t.Errorf("direct %d, cost %d, total %d; want 1,030, 1,164, 1,412.50", q.Direct, q.Cost, q.Total)
	}
	terms.Minimum = 150000
	q = must[*estimate.Quote](t)(estimate.NewQuote(job, terms))
	if last := q.Lines[len(q.Lines)-1]; q.Total != 150000 || last != (estimate.QuoteLine{Label: "minimum charge", Part: estimate.PartMinimum, Amount: 8750}) {
		t.Errorf("total %d, %+v", q.Total, last)
	}
	// A job of nothing still costs the minimum, and the tables say so.
	q = must[*estimate.Quote](t)(estimate.NewQuote(estimate.Alternative{Label: "nothing"}, terms))
	if rows := q.ByRoom(); q.Total != 150000 || len(rows) != 1 || rows[0].Price != 150000 {
		t.Errorf("%+v, %+v", q, rows)
	}
}
