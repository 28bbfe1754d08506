package estimate_test

import (
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

const (
	in     = measure.Inch
	ft     = measure.Foot
	minute = 60_000_000_000 * measure.Duration(1)
	hour   = 60 * minute
)

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// A quote worked by hand: 300.00 of sticks, 100.00 of consumables, 10 h at
// 50.00 with 20 % burden, 8 % tax, 10 % contingency, over 100 net feet
// (derived).
func TestPriceByHand(t *testing.T) {
	c := estimate.Alternative{Label: "poplar", Net: 100 * ft, StickCost: 30000, Consumables: 10000, Labor: 10 * hour,
		Costs: []estimate.Cost{{Label: "delivery", Amount: 4500}}}
	terms := estimate.Terms{Wage: 5000, Burden: 20 * measure.Percent, Tax: 8 * measure.Percent, Contingency: 10 * measure.Percent}
	for _, x := range []struct {
		markup, margin measure.Ratio
		total, perFoot int64
	}{
		{0, 0, 118470, 1185},
		{25 * measure.Percent, 0, 148088, 1481}, // 29617.5 goes to the even 29618
		{0, 20 * measure.Percent, 148088, 1481}, // the same by the other name
		{0, 25 * measure.Percent, 157960, 1580},
		{20 * measure.Percent, 0, 142164, 1422},
	} {
		terms.Markup, terms.Margin = x.markup, x.margin
		q := must[*estimate.Quote](t)(estimate.NewQuote(c, terms))
		if q.Cost != 118470 || q.Total != x.total || q.UnitPrice != x.perFoot {
			t.Errorf("markup %v, margin %v: cost %d total %d per foot %d, want 118470, %d, %d", x.markup, x.margin, q.Cost, q.Total, q.UnitPrice, x.total, x.perFoot)
		}
	}
	terms = estimate.Terms{Wage: 5000, Tax: 8 * measure.Percent, TaxRule: estimate.TaxRule{Base: estimate.TaxAll}}
	if q := must[*estimate.Quote](t)(estimate.NewQuote(c, terms)); q.Total != 94500+94500*8/100 {
		t.Errorf("all direct cost taxed: total %d", q.Total)
	}
}

// Each line is rounded once, a half to the even cent.
func TestRoundsHalfToEven(t *testing.T) {
	for _, c := range []struct{ sticks, tax int64 }{{10, 0}, {30, 2}, {50, 2}, {70, 4}, {31, 2}, {29, 1}} {
		q := must[*estimate.Quote](t)(estimate.NewQuote(estimate.Alternative{Label: "pine", Net: ft, StickCost: c.sticks}, estimate.Terms{Tax: 5 * measure.Percent}))
		if got := q.Total - c.sticks; got != c.tax {
			t.Errorf("5%% of %d is %d, want %d", c.sticks, got, c.tax)
		}
	}
}

func TestCompareOrder(t *testing.T) {
	c := must[*estimate.Comparison](t)(estimate.Compare([]estimate.Alternative{
		{Label: "stone", Net: 10 * ft, StickCost: 30000},
		{Label: "pine", Net: 20 * ft, StickCost: 20000},
		{Label: "mdf", Net: 20*ft + measure.Inch/64, StickCost: 20000}, // as cheap to the cent, not exactly
	}, estimate.Terms{}))
	if c.Order[0] != 2 || c.Order[1] != 1 || c.Order[2] != 0 || c.Quotes[1].UnitPrice != c.Quotes[2].UnitPrice {
		t.Errorf("order %v", c.Order)
	}
}

// Markup on cost is not margin on price: m = k/(1+k) (derived). A quote shows both.
func TestMarkupAndMargin(t *testing.T) {
	pine := estimate.Alternative{Label: "pine", Net: ft, StickCost: 100}
	for _, c := range []struct{ markup, margin measure.Ratio }{
		{0, 0}, {25 * measure.Percent, 20 * measure.Percent}, {50 * measure.Percent, 333_333},
		{100 * measure.Percent, 50 * measure.Percent}, {300 * measure.Percent, 75 * measure.Percent},
	} {
		q := must[*estimate.Quote](t)(estimate.NewQuote(pine, estimate.Terms{Markup: c.markup}))
		if q.Markup != c.markup || q.Margin != c.margin {
			t.Errorf("a markup of %v: %v and a margin of %v, want %v", c.markup, q.Markup, q.Margin, c.margin)
		}
		q = must[*estimate.Quote](t)(estimate.NewQuote(pine, estimate.Terms{Margin: c.margin}))
		if q.Margin != c.margin || q.Markup < c.markup-2 || q.Markup > c.markup+2 {
			t.Errorf("a margin of %v: %v and a markup of %v, want %v", c.margin, q.Margin, q.Markup, c.markup)
		}
	}
}

// A line is named by its cost, and repeats no name with which the cost's label begins.
func TestLineNames(t *testing.T) {
	for want, c := range map[string]estimate.Cost{
		"sticks, pine base":         {Label: "sticks", Profile: "pine base"},
		"labor, pine base, caulk":   {Label: "labor", Profile: "pine base", Step: "caulk"},
		"set-up, paint, classroom":  {Label: "set-up, paint", Step: "set-up", Room: "classroom"},
		"set-up, classroom":         {Label: "set-up", Step: "set-up", Room: "classroom"},
		"caulking, caulk, corridor": {Label: "caulking", Step: "caulk", Room: "corridor"},
	} {
		c.Amount = 100
		q, err := estimate.NewQuote(estimate.Alternative{Label: "job", Costs: []estimate.Cost{c}}, estimate.Terms{})
		if err != nil {
			t.Fatal(err)
		}
		if got := q.Lines[0].Label; got != want {
			t.Errorf("%+v: line %q, want %q", c, got, want)
		}
	}
}
