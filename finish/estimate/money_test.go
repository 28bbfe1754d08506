package estimate_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// A ratio above 1 in text has a percent sign, or is rejected with advice to write the sign; an accepted
// one has its intended value.
func TestRatioNeedsItsSign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-3000, 3000).Draw(t, "hundredths")
		text := strconv.FormatFloat(float64(n)/100, 'f', 2, 64)
		r, err := measure.ParseRatio(text)
		if n > 100 || n < -100 {
			short := strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
			var p *measure.ParseError
			if !errors.As(err, &p) || p.Input != text || len(p.Choices) != 2 || p.Choices[0] != short+"%" {
				t.Fatalf("%s is %v, %v; want an error that suggests %s%%", text, r, err, text)
			}
		} else if err != nil || r != measure.Ratio(n)*measure.Percent {
			t.Fatalf("%s is %v, %v", text, r, err)
		}
		if r, err := measure.ParseRatio(text + "%"); err != nil || r != measure.Ratio(n)*measure.Percent/100 {
			t.Fatalf("%s%% is %v, %v", text, r, err)
		}
	})
	var terms estimate.Terms
	if f := (*measure.FieldError)(nil); !errors.As(measure.UnmarshalStrict([]byte(`{"tax": 6}`), &terms), &f) || f.Field != "tax" || !strings.Contains(f.Want, `"6%"`) {
		t.Errorf("a tax of 6 as a number: %+v", f)
	}
	for text, ok := range map[string]bool{"6": false, "3/2": false, "1 1/2": false, "1": true, "1/8": true, "600%": true, "1.000001": false} {
		if _, err := measure.ParseRatio(text); (err == nil) != ok {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func gallons(n int64) finish.Amount { return finish.AmountOf(measure.Volume(n) * measure.Gallon) }

func primer() finish.Product {
	return finish.Product{Label: "primer", Material: "primer", Packages: []finish.Package{{Label: "gallon", Size: gallons(1), Price: 3299}}}
}

// Money is in cents: a wage meant in dollars is found, once, and every error about money says cents.
func TestMoneyIsNamedInCents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wage := rapid.OneOf(rapid.Int64Range(0, 200), rapid.Int64Range(0, 100_000)).Draw(t, "wage")
		q, err := estimate.NewQuote(estimate.Alternative{Label: "pine", Net: ft, Labor: hour}, estimate.Terms{Wage: wage})
		if err != nil {
			t.Fatal(err)
		}
		found := len(q.Findings) == 1 && q.Findings[0].Code == estimate.FindingLowWage && q.Findings[0].Field == "terms.wage" && strings.Contains(q.Findings[0].Reason, strconv.FormatInt(wage, 10)+" cents an hour")
		if want := wage > 0 && wage < 100; found != want || len(q.Findings) > 1 || !want && q.Findings != nil {
			t.Fatalf("a wage of %d: %+v", wage, q.Findings)
		}
	})

	q, err := estimate.NewQuote(estimate.Alternative{Label: "pine", Costs: []estimate.Cost{{Label: "a", Kind: estimate.CostLabor, Wage: 4500}, {Label: "b", Kind: estimate.CostLabor, Wage: 45}}}, estimate.Terms{Wage: 4500})
	if err != nil || len(q.Findings) != 1 || q.Findings[0].Field != "costs[1].wage" {
		t.Errorf("painter at 45 cents: %+v, %v", q, err)
	}

	good := estimate.Alternative{Label: "pine", Net: ft}
	edit := func(f func(*estimate.Alternative)) estimate.Alternative { c := good; f(&c); return c }
	price := func(c estimate.Alternative, terms estimate.Terms) error {
		_, err := estimate.NewQuote(c, terms)
		return err
	}
	p := primer()
	p.Packages[0].Price = -1
	var bid struct {
		Terms  estimate.Terms       `json:"terms"`
		Pine   estimate.Alternative `json:"pine"`
		Primer finish.Product       `json:"primer"`
	}
	for name, err := range map[string]error{
		"wage":        price(good, estimate.Terms{Wage: -1}),
		"stick_cost":  price(edit(func(c *estimate.Alternative) { c.StickCost = -1 }), estimate.Terms{}),
		"consumables": price(edit(func(c *estimate.Alternative) { c.Consumables = -1 }), estimate.Terms{}),
		"amount":      price(edit(func(c *estimate.Alternative) { c.Costs = []estimate.Cost{{Label: "x", Amount: -1}} }), estimate.Terms{}),
		"price":       p.Validate(),
		"wage text":   measure.UnmarshalStrict([]byte(`{"terms": {"wage": 45.00}}`), &bid),
		"stick text":  measure.UnmarshalStrict([]byte(`{"pine": {"stick_cost": "151.20"}}`), &bid),
		"price text":  measure.UnmarshalStrict([]byte(`{"primer": {"packages": [{"price": "19.99"}]}}`), &bid),
		"amount text": measure.UnmarshalStrict([]byte(`{"pine": {"costs": [{"amount": 45.5}]}}`), &bid),
	} {
		var f *measure.FieldError
		if !errors.As(err, &f) || !strings.Contains(f.Want, "cents") {
			t.Errorf("%s: %v does not mention cents", name, err)
		}
	}
}

// A limit that may be reached is named as it is.
func TestLimitsOfShares(t *testing.T) {
	c := estimate.Alternative{Label: "base", Net: ft}
	for _, terms := range []estimate.Terms{{Tax: 10*100*measure.Percent + 1}, {Burden: -1}, {Contingency: 11 * 100 * measure.Percent}, {Markup: 1 << 62}} {
		_, err := estimate.NewQuote(c, terms)
		if f := (*measure.FieldError)(nil); !errors.As(err, &f) || f.Want != "0% to 1000%" {
			t.Errorf("%+v: %v", terms, err)
		}
	}
	if _, err := estimate.NewQuote(c, estimate.Terms{Tax: 10 * 100 * measure.Percent, Markup: 10 * 100 * measure.Percent}); err != nil {
		t.Error(err)
	}
}
