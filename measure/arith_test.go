package measure_test

import (
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
)

// wantRange asserts that an operation failed with a *RangeError for op.
func wantRange[T ~int64](t *testing.T, op string, got T, err error) {
	t.Helper()
	var re *measure.RangeError
	if got != 0 || !errors.As(err, &re) || !errors.Is(err, measure.ErrRange) || re.Op != op || re.Value == "" || re.Reason == "" {
		t.Errorf("%s: %d, %v; want zero and a *RangeError with the value and the reason", op, got, err)
	}
}

func TestRangeErrors(t *testing.T) {
	const (
		maxL, minL = measure.Length(math.MaxInt64), measure.Length(math.MinInt64)
		maxA       = measure.Area(math.MaxInt64)
		maxV       = measure.Volume(math.MaxInt64)
	)
	for _, c := range []struct {
		op string
		do func() (int64, error)
	}{
		{"Length.Add", func() (int64, error) { l, err := maxL.Add(1); return int64(l), err }},
		{"Length.Add", func() (int64, error) { l, err := minL.Add(-1); return int64(l), err }},
		{"Length.Sub", func() (int64, error) { l, err := minL.Sub(1); return int64(l), err }},
		{"Length.Sub", func() (int64, error) { l, err := measure.Length(0).Sub(minL); return int64(l), err }},
		{"Length.Mul", func() (int64, error) { l, err := (maxL/2 + 1).Mul(2); return int64(l), err }},
		{"Length.Mul", func() (int64, error) { l, err := minL.Mul(-1); return int64(l), err }},
		{"Length.MulDiv", func() (int64, error) { l, _, err := maxL.MulDiv(3, 2, measure.RoundHalfEven); return int64(l), err }},
		{"Length.MulDiv", func() (int64, error) {
			l, _, err := measure.Inch.MulDiv(3, 0, measure.RoundHalfEven)
			return int64(l), err
		}},
		{"Length.MulDiv", func() (int64, error) { l, _, err := minL.MulDiv(1, -1, measure.RoundHalfEven); return int64(l), err }},
		{"Length.Div", func() (int64, error) { n, rem, err := measure.Inch.Div(0); return n + int64(rem), err }},
		{"Length.Div", func() (int64, error) { n, rem, err := minL.Div(-1); return n + int64(rem), err }},
		{"Length.Abs", func() (int64, error) { l, err := minL.Abs(); return int64(l), err }},
		{"Sum", func() (int64, error) { l, err := measure.Sum(maxL, maxL, -maxL, 1); return int64(l), err }},
		{"Sum", func() (int64, error) { l, err := measure.Sum(minL, minL); return int64(l), err }},
		{"Length.Area", func() (int64, error) { a, err := (1400 * ft).Area(1400*ft, measure.RoundDown); return int64(a), err }},
		{"Area.Volume", func() (int64, error) { v, err := maxA.Volume(ft, measure.RoundDown); return int64(v), err }},
		{"Area.Add", func() (int64, error) { a, err := maxA.Add(1); return int64(a), err }},
		{"Area.Mul", func() (int64, error) { a, err := maxA.Mul(2); return int64(a), err }},
		{"Area.MulDiv", func() (int64, error) { a, _, err := maxA.MulDiv(2, 1, measure.RoundUp); return int64(a), err }},
		{"Area.MulDiv", func() (int64, error) { a, _, err := maxA.MulDiv(2, 0, measure.RoundUp); return int64(a), err }},
		{"Volume.Add", func() (int64, error) { v, err := maxV.Add(1); return int64(v), err }},
		{"Volume.Mul", func() (int64, error) { v, err := maxV.Mul(2); return int64(v), err }},
		{"Volume.MulDiv", func() (int64, error) { v, _, err := maxV.MulDiv(2, 1, measure.RoundUp); return int64(v), err }},
		{"Volume.MulDiv", func() (int64, error) { v, _, err := maxV.MulDiv(2, 0, measure.RoundUp); return int64(v), err }},
		{"Area.Sub", func() (int64, error) { a, err := (-maxA).Sub(2); return int64(a), err }},
		{"Volume.Sub", func() (int64, error) { v, err := (-maxV).Sub(2); return int64(v), err }},
		{"Angle.Add", func() (int64, error) { a, err := measure.Angle(math.MaxInt64).Add(1); return int64(a), err }},
		{"Angle.Sub", func() (int64, error) { a, err := measure.Angle(math.MinInt64).Sub(1); return int64(a), err }},
		{"Angle.Mul", func() (int64, error) { a, err := measure.Angle(math.MaxInt64).Mul(2); return int64(a), err }},
		{"Angle.MulDiv", func() (int64, error) {
			a, _, err := (90 * measure.Degree).MulDiv(math.MaxInt64, 2, measure.RoundUp)
			return int64(a), err
		}},
		{"Angle.MulDiv", func() (int64, error) {
			a, _, err := (90 * measure.Degree).MulDiv(1, 0, measure.RoundUp)
			return int64(a), err
		}},
		{"Length.Fraction", func() (int64, error) { n, d, err := ft.Fraction(0); return n + d, err }},
		{"Length.Fraction", func() (int64, error) { n, d, err := minL.Fraction(-1); return n + d, err }},
		{"Length.Fraction", func() (int64, error) { n, d, err := measure.Length(1).Fraction(minL); return n + d, err }},
		{"FromDegrees", func() (int64, error) { a, err := measure.FromDegrees(3e9); return int64(a), err }},
		{"FromDegrees", func() (int64, error) { a, err := measure.FromDegrees(math.NaN()); return int64(a), err }},
		{"Length.Split", func() (int64, error) { p, err := ft.Split(0, in); return int64(len(p)), err }},
		{"Length.Split", func() (int64, error) { p, err := ft.Split(-1, in); return int64(len(p)), err }},
		{"Length.Split", func() (int64, error) { p, err := ft.Split(math.MaxInt, in); return int64(len(p)), err }},
	} {
		got, err := c.do()
		wantRange(t, c.op, got, err)
	}
}

func TestRangeErrorMessage(t *testing.T) {
	_, err := measure.MustParse(`7' 4"`).Split(0, in)
	const want = `measure: Length.Split(7' 4", 0): out of range: the number of parts must be from 1 to 1048576`
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

func TestRoundingString(t *testing.T) {
	for m, want := range map[measure.Rounding]string{measure.RoundHalfEven: "half-even", measure.RoundDown: "down", measure.RoundUp: "up", measure.RoundHalfUp: "half-up", 99: "Rounding(99)"} {
		if got := m.String(); got != want {
			t.Errorf("Rounding(%d) is %s, want %s", uint8(m), got, want)
		}
	}
}

// The order of the lengths does not matter, even if partial sums would leave the range.
func TestSum(t *testing.T) {
	for _, ls := range [][]measure.Length{
		{math.MaxInt64, 1, -2},
		{1, math.MaxInt64, -2},
		{-2, 1, math.MaxInt64},
		{math.MaxInt64, math.MaxInt64, math.MinInt64},
	} {
		if got, err := measure.Sum(ls...); err != nil || got != math.MaxInt64-1 {
			t.Errorf("Sum(%v) = %v, %v", ls, got, err)
		}
	}
	if got, err := measure.Sum(); err != nil || got != 0 {
		t.Errorf("Sum() = %v, %v", got, err)
	}
}

func TestDiv(t *testing.T) {
	// Four pieces of 2'-4" from a 10-ft length leave 8 in, and five from a 12-ft
	// length leave 4 in: US Army correspondence course EN0069A, lesson 4.
	piece := measure.MustParse(`2'-4"`)
	for _, c := range []struct {
		stick measure.Length
		n     int64
		rem   measure.Length
	}{{10 * ft, 4, 8 * in}, {12 * ft, 5, 4 * in}} {
		if n, rem, err := c.stick.Div(piece); n != c.n || rem != c.rem || err != nil {
			t.Errorf("%v / %v = %d, %v, %v; want %d, %v", c.stick, piece, n, rem, err, c.n, c.rem)
		}
	}
	if n, rem, err := (-10 * ft).Div(piece); n != -4 || rem != -8*in || err != nil {
		t.Errorf("-10' / %v = %d, %v, %v", piece, n, rem, err)
	}
}

func TestRound(t *testing.T) {
	const s = in / 16
	type m = measure.Rounding
	for _, c := range []struct {
		l, graduation        measure.Length
		even, down, up, half measure.Length
	}{
		{0, s, 0, 0, 0, 0},
		{5 * s, s, 5 * s, 5 * s, 5 * s, 5 * s},
		{5*s + 1, s, 5 * s, 5 * s, 6 * s, 5 * s},
		{6*s - 1, s, 6 * s, 5 * s, 6 * s, 6 * s},
		{-5*s - 1, s, -5 * s, -6 * s, -5 * s, -5 * s},
		// Exactly midway, the graduation whose value is even: NIST Handbook 44,
		// section 10.3, as quoted in "Dimensional Tolerances in Construction and
		// for Surface Accessibility".
		{4*s + s/2, s, 4 * s, 4 * s, 5 * s, 5 * s},
		{5*s + s/2, s, 6 * s, 5 * s, 6 * s, 6 * s},
		{-4*s - s/2, s, -4 * s, -5 * s, -4 * s, -4 * s},
		{-5*s - s/2, s, -6 * s, -6 * s, -5 * s, -5 * s},
		{s / 2, s, 0, 0, s, s},
		// An odd graduation has no exact half.
		{4, 3, 3, 3, 6, 3}, {5, 3, 6, 3, 6, 6}, {-4, 3, -3, -6, -3, -3}, {-5, 3, -6, -6, -3, -6},
		// No graduation.
		{7, 0, 7, 7, 7, 7}, {7, -3, 7, 7, 7, 7}, {7, 1, 7, 7, 7, 7},
		// The ends of the range: the last multiple within it.
		{math.MaxInt64, 10, math.MaxInt64 - 7, math.MaxInt64 - 7, math.MaxInt64 - 7, math.MaxInt64 - 7},
		{math.MinInt64, 10, math.MinInt64 + 8, math.MinInt64 + 8, math.MinInt64 + 8, math.MinInt64 + 8},
		{math.MinInt64, 8, math.MinInt64, math.MinInt64, math.MinInt64, math.MinInt64},
		{math.MinInt64, math.MaxInt64, -math.MaxInt64, -math.MaxInt64, -math.MaxInt64, -math.MaxInt64},
		{math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64},
		{1, math.MaxInt64, 0, 0, math.MaxInt64, 0},
	} {
		for mode, want := range map[m]measure.Length{measure.RoundHalfEven: c.even, measure.RoundDown: c.down, measure.RoundUp: c.up, measure.RoundHalfUp: c.half, 99: c.even} {
			if got := c.l.Round(c.graduation, mode); got != want {
				t.Errorf("(%d).Round(%d, %v) = %d, want %d", int64(c.l), int64(c.graduation), mode, int64(got), int64(want))
			}
		}
	}
	// "Metric tables" page: 4.382 in is 3.056 eighths above 4, about 4 3/8 in.
	if got, want := measure.MustParse(`4.382"`).Round(in/8, measure.RoundHalfEven), measure.MustParse(`4 3/8"`); got != want {
		t.Errorf("4.382 in to an eighth is %v, want %v", got, want)
	}
}

func TestSplit(t *testing.T) {
	for _, c := range []struct {
		l          measure.Length
		n          int
		graduation measure.Length
		want       []measure.Length
	}{
		{12 * ft, 3, in, []measure.Length{4 * ft, 4 * ft, 4 * ft}},
		{10 * in, 3, in, []measure.Length{4 * in, 3 * in, 3 * in}},
		{8 * in, 5, in, []measure.Length{2 * in, 2 * in, in, 2 * in, in}},
		{-8 * in, 5, in, []measure.Length{-2 * in, -2 * in, -in, -2 * in, -in}},
		{10*in + in/2, 3, in, []measure.Length{4 * in, 3 * in, 3*in + in/2}},
		{in / 2, 3, in, []measure.Length{0, 0, in / 2}},
		{7, 2, 0, []measure.Length{4, 3}},
		{0, 2, in, []measure.Length{0, 0}},
		{math.MinInt64, 1, 1, []measure.Length{math.MinInt64}},
	} {
		got, err := c.l.Split(c.n, c.graduation)
		if err != nil || len(got) != len(c.want) {
			t.Errorf("(%v).Split(%d, %v) = %v, %v; want %v", c.l, c.n, c.graduation, got, err, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("(%v).Split(%d, %v) = %v; want %v", c.l, c.n, c.graduation, got, c.want)
				break
			}
		}
	}
}
