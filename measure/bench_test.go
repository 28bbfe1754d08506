package measure_test

import (
	"testing"
	"time"

	"example.com/longpoint/measure"
)

func BenchmarkParse(b *testing.B) {
	for _, s := range []string{`7' 4-3/4"`, `7ft 4-3/4in`, `88.75"`, `2219.3250125mm`, `7′ 4¾″`, `7 feet 4-3/4 inches`} {
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

func BenchmarkParseSpoken(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := measure.ParseSpoken("seven foot four and three quarters strong"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAppendText(b *testing.B) {
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

func BenchmarkAppendFormat(b *testing.B) {
	l := measure.MustParse(`7' 4-3/4"`)
	for _, c := range []struct {
		name  string
		style measure.Style
	}{
		{"Zero", measure.Style{}},
		{"Tape", measure.Style{Graduation: measure.Inch / 16, MarkInexact: true}},
		{"Drawing", measure.Style{Graduation: measure.Inch / 16, Hyphen: true, Zeros: true}},
		{"Primes", measure.Style{Graduation: measure.Inch / 16, Typographic: true}},
		{"DecimalFeet", measure.Style{Graduation: measure.Foot / 100, Unit: measure.Foot}},
		{"Millimeters", measure.Style{Graduation: measure.Millimeter, Unit: measure.Millimeter}},
		{"Spoken", measure.Style{Graduation: measure.Inch / 16, Spoken: true}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			buf := make([]byte, 0, 64)
			for b.Loop() {
				buf = l.AppendFormat(buf[:0], c.style)
			}
		})
	}
}

// The ratios to the standard library's duration, in pairs that take turns, so
// that a busy machine slows both: ours by theirs, below 1 is faster.

const turn = 200 // calls between two looks at the clock

func ratio(b *testing.B, ours, theirs func()) {
	b.ReportAllocs()
	var ourTime, theirTime time.Duration
	for b.Loop() {
		start := time.Now()
		for range turn {
			ours()
		}
		middle := time.Now()
		for range turn {
			theirs()
		}
		ourTime += middle.Sub(start)
		theirTime += time.Since(middle)
	}
	calls := float64(turn) * float64(b.N)
	b.ReportMetric(float64(ourTime.Nanoseconds())/calls, "ns/ours")
	b.ReportMetric(float64(theirTime.Nanoseconds())/calls, "ns/theirs")
	b.ReportMetric(float64(ourTime)/float64(theirTime), "ours/theirs")
}

var sink struct {
	length   measure.Length
	duration time.Duration
	text     []byte
	n        int
}

func BenchmarkRatio(b *testing.B) {
	l := measure.MustParse(`7' 4-3/4"`)
	d := 7*time.Hour + 4*time.Minute + 45750*time.Millisecond
	style := measure.Style{Graduation: measure.Inch / 16}
	buf := make([]byte, 0, 64)
	parseDuration := func() { sink.duration, _ = time.ParseDuration("7h4m45.75s") }
	durationString := func() { sink.n += len(d.String()) } // without the allocation that keeping it takes
	b.Run("ParseToParseDuration", func(b *testing.B) {
		ratio(b, func() { sink.length, _ = measure.Parse(`7' 4-3/4"`) }, parseDuration)
	})
	b.Run("ParseInFullToParseDuration", func(b *testing.B) { // a spelling that is not a usual one
		ratio(b, func() { sink.length, _ = measure.Parse(`7 feet 4-3/4 inches`) }, parseDuration)
	})
	b.Run("AppendFormatToDurationString", func(b *testing.B) {
		ratio(b, func() { buf = l.AppendFormat(buf[:0], style) }, durationString)
	})
	b.Run("AppendTextToDurationString", func(b *testing.B) {
		ratio(b, func() { buf, _ = l.AppendText(buf[:0]) }, durationString)
	})
	b.Run("StringToDurationString", func(b *testing.B) {
		ratio(b, func() { sink.n += len(l.String()) }, durationString)
	})
	sink.text = buf
}
