package measure_test

import (
	"testing"
	"time"

	"example.com/longpoint/measure"
)

func BenchmarkParse(b *testing.B) {
	for _, s := range []string{`7' 4-3/4"`, `7ft 4-3/4in`, `88.75"`, `2219.3250125mm`, `7′ 4¾″`} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := measure.Parse(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkAppend(b *testing.B) {
	for _, s := range []string{`7' 4-3/4"`, `88.751"`, `2219.3250125mm`} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			l := measure.MustParse(s)
			buf := make([]byte, 0, 64)
			for b.Loop() {
				buf, _ = l.AppendText(buf[:0])
			}
		})
	}
}

// The standard library's duration, for comparison in the same run.
func BenchmarkDuration(b *testing.B) {
	b.Run("Parse", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := time.ParseDuration("7h4m45.75s"); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("String", func(b *testing.B) {
		b.ReportAllocs()
		d := 7*time.Hour + 4*time.Minute + 45750*time.Millisecond
		for b.Loop() {
			_ = d.String()
		}
	})
}
