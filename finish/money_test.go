package finish_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// A ratio in text that is above 1 has a percent sign, or is refused with the sign in
// the advice; what is read comes out as it was meant.
func TestRatioNeedsItsSign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-3000, 3000).Draw(t, "hundredths")
		text := strconv.FormatFloat(float64(n)/100, 'f', 2, 64)
		r, err := measure.ParseRatio(text)
		if n > 100 || n < -100 {
			short := strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
			var p *measure.ParseError
			if !errors.As(err, &p) || p.Input != text || len(p.Choices) != 2 || p.Choices[0] != short+"%" {
				t.Fatalf("%s is %v, %v; want an error that offers %s%%", text, r, err, text)
			}
		} else if err != nil || r != measure.Ratio(n)*measure.Percent {
			t.Fatalf("%s is %v, %v", text, r, err)
		}
		if r, err := measure.ParseRatio(text + "%"); err != nil || r != measure.Ratio(n)*measure.Percent/100 {
			t.Fatalf("%s%% is %v, %v", text, r, err)
		}
	})
	var terms finish.Terms
	if f := (*measure.FieldError)(nil); !errors.As(measure.UnmarshalStrict([]byte(`{"tax": 6}`), &terms), &f) || f.Field != "tax" || !strings.Contains(f.Want, `"6%"`) {
		t.Errorf("a tax of 6 as a number: %+v", f)
	}
	for text, ok := range map[string]bool{"6": false, "3/2": false, "1 1/2": false, "1": true, "1/8": true, "600%": true, "1.000001": false} {
		if _, err := measure.ParseRatio(text); (err == nil) != ok {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Money is in cents: a wage that was meant in dollars is found, once, and every
// error about money says cents.
func TestMoneyIsNamedInCents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wage := rapid.OneOf(rapid.Int64Range(0, 200), rapid.Int64Range(0, 100_000)).Draw(t, "wage")
		q, err := finish.Price(finish.Candidate{Label: "pine", Net: ft, Labor: hour}, finish.Terms{Wage: wage})
		if err != nil {
			t.Fatal(err)
		}
		found := len(q.Findings) == 1 && q.Findings[0].Field == "terms.wage" && strings.Contains(q.Findings[0].Reason, strconv.FormatInt(wage, 10)+" cents an hour")
		if want := wage > 0 && wage < 100; found != want || len(q.Findings) > 1 || !want && q.Findings != nil {
			t.Fatalf("a wage of %d: %+v", wage, q.Findings)
		}
	})

	good := finish.Candidate{Label: "pine", Net: ft}
	edit := func(f func(*finish.Candidate)) finish.Candidate { c := good; f(&c); return c }
	price := func(c finish.Candidate, terms finish.Terms) error { _, err := finish.Price(c, terms); return err }
	p := primer()
	p.Packages[0].Price = -1
	var bid struct {
		Terms  finish.Terms     `json:"terms"`
		Pine   finish.Candidate `json:"pine"`
		Primer finish.Product   `json:"primer"`
	}
	for name, err := range map[string]error{
		"wage":        price(good, finish.Terms{Wage: -1}),
		"sticks":      price(edit(func(c *finish.Candidate) { c.Sticks = -1 }), finish.Terms{}),
		"consumables": price(edit(func(c *finish.Candidate) { c.Consumables = -1 }), finish.Terms{}),
		"amount":      price(edit(func(c *finish.Candidate) { c.Extras = []finish.Extra{{Label: "x", Amount: -1}} }), finish.Terms{}),
		"price":       p.Validate(),
		"wage text":   measure.UnmarshalStrict([]byte(`{"terms": {"wage": 45.00}}`), &bid),
		"stick text":  measure.UnmarshalStrict([]byte(`{"pine": {"sticks": "151.20"}}`), &bid),
		"price text":  measure.UnmarshalStrict([]byte(`{"primer": {"packages": [{"price": "19.99"}]}}`), &bid),
		"amount text": measure.UnmarshalStrict([]byte(`{"pine": {"extras": [{"amount": 45.5}]}}`), &bid),
	} {
		var f *measure.FieldError
		if !errors.As(err, &f) || !strings.Contains(f.Want, "cents") {
			t.Errorf("%s: %v does not say cents", name, err)
		}
	}
}

// A limit that may be reached is named as it is.
func TestLimitsOfShares(t *testing.T) {
	c := finish.Candidate{Label: "base", Net: ft}
	for _, terms := range []finish.Terms{{Tax: 10*100*measure.Percent + 1}, {Burden: -1}, {Contingency: 11 * 100 * measure.Percent}, {Markup: 1 << 62}} {
		_, err := finish.Price(c, terms)
		if f := (*measure.FieldError)(nil); !errors.As(err, &f) || f.Want != "0% to 1000%" {
			t.Errorf("%+v: %v", terms, err)
		}
	}
	if _, err := finish.Price(c, finish.Terms{Tax: 10 * 100 * measure.Percent, Markup: 10 * 100 * measure.Percent}); err != nil {
		t.Error(err)
	}
}
