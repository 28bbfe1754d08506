package finish_test

import (
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
)

// The whole finishing list of a one-room school: base, casing and crown painted,
// and a tile base in the entry.
func BenchmarkPlan(b *testing.B) {
	work, shelf := append(paintedJobs(), tileJob()...), shelf(b)
	work[3].Job.Label = "entry base"
	b.ReportAllocs()
	for b.Loop() {
		if _, err := finish.NewList(work, shelf); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBuy(b *testing.B) {
	p := shelf(b).Products[8]
	need := quantityOf("2.3 gal")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := finish.Buy(need, p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSchedule(b *testing.B) {
	list, err := finish.NewList(paintedJobs(), shelf(b))
	if err != nil {
		b.Fatal(err)
	}
	activities, err := estimate.Activities(list.Steps, nil)
	if err != nil {
		b.Fatal(err)
	}
	site := schedule.Calendar{Start: time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC), Crews: []schedule.Crew{{}, {}}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := schedule.Build(activities, site, nil); err != nil {
			b.Fatal(err)
		}
	}
}
