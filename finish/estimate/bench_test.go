package estimate_test

import (
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

func BenchmarkBreakEven(b *testing.B) {
	pine, vinyl, terms := pineOffer(), vinylOffer(), estimate.Terms{Wage: 4200}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimate.BreakEven(pine, vinyl, terms, estimate.LengthRange{From: 10 * ft, To: 200 * ft}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompare(b *testing.B) {
	c := []estimate.Alternative{
		{Label: "pine", Net: 212 * ft, StickCost: 48160, Consumables: 21350, Labor: 14 * hour},
		{Label: "poplar", Net: 212 * ft, StickCost: 61020, Consumables: 21350, Labor: 15 * hour},
		{Label: "slate", Net: 212 * ft, StickCost: 118900, Consumables: 9640, Labor: 31 * hour},
	}
	terms := estimate.Terms{Wage: 4200, Tax: 6 * measure.Percent, Contingency: 10 * measure.Percent, Margin: 20 * measure.Percent}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimate.Compare(c, terms); err != nil {
			b.Fatal(err)
		}
	}
}

// A whole job of 300 lines, with every layer of a price.
func BenchmarkQuoteOfManyLines(b *testing.B) {
	job := estimate.Alternative{Label: "workshop"}
	for i := range 300 {
		c := estimate.Cost{Label: "line", Room: string(rune('a' + i%7)), Profile: string(rune('a' + i/7)), Kind: estimate.CostTrim, Amount: 1000 + int64(i)}
		if i%3 > 0 {
			c.Kind, c.Amount, c.Labor = estimate.CostLabor, 0, minute*measure.Duration(i+1)
		}
		job.Costs = append(job.Costs, c)
	}
	terms := estimate.Terms{Wage: 4200, Burden: 30 * percent, Tax: 6 * percent, Overhead: 12 * percent, Contingency: 10 * percent, Margin: 20 * percent}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimate.NewQuote(job, terms); err != nil {
			b.Fatal(err)
		}
	}
}
