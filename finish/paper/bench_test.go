package paper_test

import (
	"io"
	"testing"
)

func BenchmarkWriteHTML(b *testing.B) {
	p, s := schoolhouse(), week()
	for b.Loop() {
		for _, d := range []paperOf{p, s} {
			if err := d.WriteHTML(io.Discard); err != nil {
				b.Fatal(err)
			}
		}
	}
}
