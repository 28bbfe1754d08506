package measure_test

import (
	"math"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestOnCenter(t *testing.T) {
	for _, c := range []struct {
		span, first, spacing measure.Length
		want                 []measure.Length
	}{
		{5 * ft, 0, 16 * in, []measure.Length{0, 16 * in, 32 * in, 48 * in}},
		{4 * ft, 15*in + in/4, 16 * in, []measure.Length{15*in + in/4, 31*in + in/4, 47*in + in/4}},
		{4 * ft, 0, 24 * in, []measure.Length{0, 2 * ft, 4 * ft}},
		{in, 2 * in, in, nil},
		{ft, 0, 0, nil},
		{ft, 0, -in, nil},
		{math.MaxInt64, math.MaxInt64 - 1, 3, []measure.Length{math.MaxInt64 - 1}},
		{math.MaxInt64, math.MaxInt64 - 3, 3, []measure.Length{math.MaxInt64 - 3, math.MaxInt64}},
	} {
		seq := measure.OnCenter(c.span, c.first, c.spacing)
		for range 2 { // the sequence starts anew
			if d := cmp.Diff(c.want, slices.Collect(seq)); d != "" {
				t.Errorf("OnCenter(%v, %v, %v) (-want +got):\n%s", c.span, c.first, c.spacing, d)
			}
		}
	}
	for mark := range measure.OnCenter(math.MaxInt64, 0, 1) { // stopping early
		if mark == 3 {
			break
		}
	}
}

func TestSpaced(t *testing.T) {
	seq, err := measure.EvenSpacing(4*ft, 3, 2*in, in/16)
	if err != nil {
		t.Fatal(err)
	}
	// 48 less 6 in is four gaps of 10-1/2 in.
	want := []measure.Length{10*in + in/2, 23 * in, 35*in + in/2}
	for range 2 { // the sequence starts anew
		if d := cmp.Diff(want, slices.Collect(seq)); d != "" {
			t.Errorf("Spaced (-want +got):\n%s", d)
		}
	}
	for range seq { // stopping early
		break
	}
	for _, c := range []struct {
		span  measure.Length
		n     int
		width measure.Length
	}{{ft, 0, in}, {ft, -1, in}, {ft, math.MaxInt, 0}, {ft, 3, -in}, {ft, 13, in}, {-ft, 1, 0}, {ft, 3, math.MaxInt64}} {
		got, err := measure.EvenSpacing(c.span, c.n, c.width, in)
		n := int64(0)
		if got != nil {
			n = 1
		}
		wantRange(t, "Spaced", n, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		graduation := rapid.SampledFrom([]measure.Length{1, in / 16, mm}).Draw(t, "graduation")
		n := rapid.IntRange(1, 30).Draw(t, "n")
		width := measure.Length(rapid.Int64Range(0, int64(ft)).Draw(t, "width"))
		span := measure.Length(n)*width + measure.Length(rapid.Int64Range(0, int64(40*ft)).Draw(t, "free"))
		seq, err := measure.EvenSpacing(span, n, width, graduation)
		if err != nil {
			t.Fatal(err)
		}
		starts := slices.Collect(seq)
		if len(starts) != n {
			t.Fatalf("%d marks, want %d", len(starts), n)
		}
		// The gaps are those of Split.
		gaps, err := (span - measure.Length(n)*width).Split(n+1, graduation)
		if err != nil {
			t.Fatal(err)
		}
		at := measure.Length(0)
		for i, s := range starts {
			if at += gaps[i]; s != at {
				t.Fatalf("mark %d is %v, want %v", i, s, at)
			}
			at += width
		}
		end, least, most := measure.Length(0), span, measure.Length(0)
		for _, s := range append(slices.Clone(starts), span) {
			least, most = min(least, s-end), max(most, s-end)
			end = s + width
		}
		if least < 0 || most-least > graduation {
			t.Fatalf("gaps from %v to %v, more than %v apart", least, most, graduation)
		}
	})
}

func TestRoundChain(t *testing.T) {
	// Three equal parts of 1 ft 0-1/2 in, each midway below: rounded one by one
	// to a sixteenth they would lose 1/16 in.
	third := (12*in + in/2) / 3
	got, err := measure.RoundChain([]measure.Length{third, third, third}, in/16, measure.RoundHalfEven)
	want := []measure.Length{4*in + 3*in/16, 4*in + in/8, 4*in + 3*in/16}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("RoundChain (-want +got), %v:\n%s", err, d)
	}
	if got, err := measure.RoundChain([]measure.Length{math.MaxInt64, 1}, in, measure.RoundUp); err == nil {
		t.Errorf("beyond the range: %v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.Int64Range(-int64(20*ft), int64(20*ft))
		var parts []measure.Length
		for _, p := range rapid.SliceOfN(part, 0, 20).Draw(t, "parts") {
			parts = append(parts, measure.Length(p))
		}
		graduation := rapid.SampledFrom([]measure.Length{0, 1, in / 16, mm, 7}).Draw(t, "graduation")
		mode := rapid.SampledFrom(modes).Draw(t, "mode")
		rounded, err := measure.RoundChain(parts, graduation, mode)
		if err != nil {
			t.Fatal(err)
		}
		whole, err1 := measure.Sum(parts...)
		sum, err2 := measure.Sum(rounded...)
		if err1 != nil || err2 != nil || sum != whole.Round(graduation, mode) {
			t.Fatalf("the rounded parts sum to %v, %v; the rounded whole is %v, %v", sum, err2, whole.Round(graduation, mode), err1)
		}
		for i := range parts {
			if off, err := (rounded[i] - parts[i]).Abs(); err != nil || off > max(graduation, 0) {
				t.Fatalf("part %d, %v, became %v", i, parts[i], rounded[i])
			}
		}
	})
}
