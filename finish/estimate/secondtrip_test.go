package estimate_test

import (
	"errors"
	"math"
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// One chance in five, an hour and a half at 65.00, 20 miles at 0.70, an hour idle at 65.00:
// 176.50, of which 35.30 is to be expected (derived).
func TestSecondTrip(t *testing.T) {
	trip := estimate.SecondTrip{Chance: 20 * percent, Rate: 6500, Drive: 3 * hour / 2, Idle: hour, Miles: 20, PerMile: 70}
	if c := must[estimate.TripCost](t)(trip.Cost()); c != (estimate.TripCost{Whole: 17650, Expected: 3530}) {
		t.Errorf("%+v, want 176.50 and 35.30", c)
	}
	_, err := estimate.SecondTrip{Chance: one + 1, Rate: -1, Drive: -1, Idle: -1, Miles: -1, PerMile: -1, Delivery: -1}.Cost()
	fields(t, err, "chance", "rate", "miles", "per_mile", "delivery", "drive", "idle")
	if _, err := (estimate.SecondTrip{Miles: math.MaxInt64, PerMile: 2}).Cost(); !errors.As(err, new(*measure.RangeError)) {
		t.Error(err)
	}
}
