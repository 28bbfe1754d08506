package estimate_test

import (
	"errors"
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// Markups and the margins that they make, to the hundredth of a percent that tables print
// (Remodeling, "Managing Markups": 50 % is 33 %, 67 % is 40 %; JLC: 1,000 sold for 1,500
// is a margin of 33.3 %; the others derived from m = k/(1+k)).
func TestMarkupTable(t *testing.T) {
	near := func(got, want measure.Ratio) bool { return max(got-want, want-got) <= 50 } // half a hundredth of a percent
	for k, m := range map[measure.Ratio]measure.Ratio{10: 909, 15: 1304, 20: 1667, 25: 2000, 30: 2308, 40: 2857, 50: 3333, 67: 4012, 100: 5000} {
		if got := must[measure.Ratio](t)(estimate.MarginOf(k * percent)); !near(got, m*percent/100) {
			t.Errorf("a markup of %v is a margin of %v, want %v", k*percent, got, m*percent/100)
		}
	}
	if got := must[measure.Ratio](t)(estimate.MarginOf(6667 * percent / 100)); !near(got, 40*percent) {
		t.Errorf("66.67%%: %v", got)
	}
	for m, k := range map[measure.Ratio]measure.Ratio{10: 1111, 20: 2500, 30: 4286, 35: 5385, 40: 6667} {
		if got := must[measure.Ratio](t)(estimate.MarkupOf(m * percent)); !near(got, k*percent/100) {
			t.Errorf("a margin of %v takes a markup of %v, want %v", m*percent, got, k*percent/100)
		}
	}
	// 300,000 of overhead and profit on 600,000 of direct cost (JLC).
	if got := must[measure.Ratio](t)(estimate.MarkupNeeded(200_000_00, 100_000_00, 600_000_00)); got != 50*percent {
		t.Errorf("needed %v", got)
	}
	for m := measure.Ratio(0); m < one; m += 9_973 { // there and back
		k := must[measure.Ratio](t)(estimate.MarkupOf(m))
		if k > 10*one {
			break
		}
		if back := must[measure.Ratio](t)(estimate.MarginOf(k)); back < m-1 || back > m+1 {
			t.Errorf("%v, %v, %v", m, k, back)
		}
	}
	for _, f := range []func() (measure.Ratio, error){
		func() (measure.Ratio, error) { return estimate.MarginOf(-1) },
		func() (measure.Ratio, error) { return estimate.MarkupOf(one) },
		func() (measure.Ratio, error) { return estimate.MarkupNeeded(-1, -1, 0) },
	} {
		if _, err := f(); !errors.As(err, new(*measure.FieldError)) {
			t.Error(err)
		}
	}
	if _, err := estimate.MarkupNeeded(1<<62, 1<<62, 1); !errors.As(err, new(*measure.RangeError)) {
		t.Error(err)
	}
	if _, err := estimate.MarkupNeeded(11, 0, 1); !errors.As(err, new(*measure.RangeError)) {
		t.Error("1100%:", err)
	}
}
