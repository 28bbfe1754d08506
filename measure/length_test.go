package measure_test

import (
	"testing"

	"example.com/longpoint/measure"
)

// Definitions: Federal Register, 85 FR 62698 (5 October 2020) fixes the foot at
// 0.3048 m; the inch of 25.4 mm and the yard of 0.9144 m follow.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want measure.Length
	}{
		{"foot", 10_000 * measure.Foot, 3048 * measure.Meter},
		{"yard", 10_000 * measure.Yard, 9144 * measure.Meter},
		{"inch", 10 * measure.Inch, 254 * measure.Millimeter},
		{"centimeter", measure.Centimeter, 10 * measure.Millimeter},
		{"tick", 2_032_000 * measure.Tick, measure.Inch},
		{"1/128 inch", measure.Inch / 128 * 128, measure.Inch},
		{"0.001 inch", measure.Inch / 1000 * 1000, measure.Inch},
		{"0.001 foot", measure.Foot / 1000 * 1000, measure.Foot},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d ticks, want %d", c.name, c.got, c.want)
		}
	}
}
