package finish_test

import (
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// The whole finishing list of a one-room school: base, casing and crown painted,
// and a tile base in the entry.
func BenchmarkPlan(b *testing.B) {
	work, shelf := append(paintedJobs(), tileJob()...), shelf(b)
	work[3].Job.Label = "entry base"
	b.ReportAllocs()
	for b.Loop() {
		if _, err := finish.Plan(work, shelf); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBuy(b *testing.B) {
	p := shelf(b).Products[8]
	need := finish.MustParseAmount("2.3 gal")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := finish.Buy(need, p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSchedule(b *testing.B) {
	list, err := finish.Plan(paintedJobs(), shelf(b))
	if err != nil {
		b.Fatal(err)
	}
	site := finish.Site{Start: time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC), Crews: 2}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := finish.Schedule(list.Steps, site); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBreakEven(b *testing.B) {
	pine, vinyl, terms := pineOffer(), vinylOffer(), finish.Terms{Wage: 4200}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := finish.BreakEven(pine, vinyl, terms, finish.Lengths{From: 10 * ft, To: 200 * ft}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompare(b *testing.B) {
	c := []finish.Candidate{
		{Label: "pine", Net: 212 * ft, Sticks: 48160, Consumables: 21350, Labor: 14 * hour},
		{Label: "poplar", Net: 212 * ft, Sticks: 61020, Consumables: 21350, Labor: 15 * hour},
		{Label: "slate", Net: 212 * ft, Sticks: 118900, Consumables: 9640, Labor: 31 * hour},
	}
	terms := finish.Terms{Wage: 4200, Tax: 6 * measure.Percent, Contingency: 10 * measure.Percent, Margin: 20 * measure.Percent}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := finish.Compare(c, terms); err != nil {
			b.Fatal(err)
		}
	}
}
