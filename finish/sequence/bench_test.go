package sequence_test

import (
	"testing"

	"example.com/longpoint/finish/sequence"
)

// The trim of four rooms, in the order in which each step is done in all of them.
func BenchmarkNetwork(b *testing.B) {
	job := sequence.Job{Work: schoolhouse()}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sequence.Network(job, nil); err != nil {
			b.Fatal(err)
		}
	}
}
