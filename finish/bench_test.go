package finish_test

import (
	"testing"

	"example.com/longpoint/finish"
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
