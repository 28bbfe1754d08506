package estimate_test

import (
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// A locale changes the labels of lines and the unit of the unit price, which is still the total by the
// length, and no other number.
func TestLocaleChangesTheUnitPrice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string, most int64) int64 { return rapid.Int64Range(0, most).Draw(t, name) }
		c := estimate.Alternative{Label: "oak", Net: measure.Length(1 + n("net", int64(500*ft))), StickCost: n("sticks", 1e6), Consumables: n("consumables", 1e6), Labor: hour * measure.Duration(n("labor", 100))}
		terms := estimate.Terms{Wage: n("wage", 9000), Burden: measure.Ratio(n("burden", 3e5)), Tax: measure.Ratio(n("tax", 3e5)), Contingency: measure.Ratio(n("contingency", 3e5)), Margin: measure.Ratio(n("margin", 3e5))}
		plain, err := estimate.NewQuote(c, terms)
		if err != nil {
			t.Fatal(err)
		}
		terms.Locale = measure.Locale{Metric: true, DecimalComma: true, Currency: measure.Currency{Symbol: "EUR", After: true}}
		metric, err := estimate.NewQuote(c, terms)
		if err != nil {
			t.Fatal(err)
		}
		if plain.Unit != measure.Foot || metric.Unit != measure.Meter || metric.Total != plain.Total || metric.Cost != plain.Cost || metric.Net != plain.Net || metric.Margin != plain.Margin {
			t.Fatalf("%+v, metric %+v", plain, metric)
		}
		for _, q := range []*estimate.Quote{plain, metric} {
			exact := new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(q.Total), big.NewInt(int64(q.Unit))), big.NewInt(int64(q.Net)))
			if off := exact.Sub(exact, big.NewRat(q.UnitPrice, 1)); off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
				t.Fatalf("%d for %v at %d a %v", q.Total, q.Net, q.UnitPrice, q.Unit)
			}
		}
		for i, l := range metric.Lines {
			if l.Amount != plain.Lines[i].Amount || strings.Contains(l.Label, ".") || strings.Replace(l.Label, ",", ".", 1) != plain.Lines[i].Label {
				t.Fatalf("%+v, metric %+v", plain.Lines[i], l)
			}
		}
	})
}

func TestWageInTheMinorUnit(t *testing.T) {
	for _, c := range []struct {
		currency measure.Currency
		wage     int64
		want     string
	}{
		{measure.Currency{Symbol: "EUR", After: true}, 42, "money is in the minor unit, so this is 0,42 EUR an hour; 42,00 EUR would be 4200"},
		{measure.Currency{Symbol: "EUR", After: true}, 100, ""},
		{measure.Currency{Minor: 1, Symbol: "JPY"}, 1, ""},
		{measure.Currency{Minor: 1000}, 999, "money is in the minor unit, so this is 0,999 an hour; 999,000 would be 999000"},
	} {
		q, err := estimate.NewQuote(estimate.Alternative{Label: "pine", Net: ft}, estimate.Terms{Wage: c.wage, Locale: measure.Locale{DecimalComma: true, Currency: c.currency}})
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, f := range q.Findings {
			got += f.Reason
		}
		if got != c.want {
			t.Errorf("a wage of %d in %+v: %q, want %q", c.wage, c.currency, got, c.want)
		}
	}
	_, err := estimate.NewQuote(estimate.Alternative{Label: "pine", Net: ft}, estimate.Terms{Locale: measure.Locale{Currency: measure.Currency{Minor: 7}}})
	if err == nil || !strings.Contains(err.Error(), "terms.locale.currency.minor is 7, want a power of ten") {
		t.Errorf("a currency of 7: %v", err)
	}
}
