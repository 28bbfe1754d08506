package estimate

import (
	"math/big"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// SecondTrip is the cost of fetching one more stick, if one is missing.
type SecondTrip struct {
	Chance   measure.Ratio    `json:"chance"`             // that a stick is missing; 0-100 %. Take it from your own jobs: no source gives one
	Rate     int64            `json:"rate"`               // cents per hour of the driver and the waiting crew, burdened; >= 0
	Drive    measure.Duration `json:"drive"`              // there and back; >= 0
	Idle     measure.Duration `json:"idle,omitempty"`     // labor hours of the waiting crew; >= 0
	Miles    int64            `json:"miles,omitempty"`    // there and back; >= 0
	PerMile  int64            `json:"per_mile,omitempty"` // cents; >= 0. The tax office's mileage rate changes every year: look it up
	Delivery int64            `json:"delivery,omitempty"` // cents for delivery by the yard instead, or for a minimum order; >= 0
}

// TripCost is the cost of a second trip.
type TripCost struct {
	Whole    int64 `json:"whole"`    // if it happens, in cents
	Expected int64 `json:"expected"` // times its chance: the greatest sensible cost of a spare that avoids it
}

// Cost returns the cost of the trip if it happens and the expected cost, each rounded once,
// half to even. The error joins a [*measure.FieldError] for each invalid field, or is a
// [*measure.RangeError].
func (s SecondTrip) Cost() (TripCost, error) {
	var bad fault.List
	bad.Under("", fault.UpTo("chance", s.Chance, whole))
	for _, f := range [...]struct {
		name string
		n    int64
		want string
	}{{"rate", s.Rate, wantCents}, {"miles", s.Miles, "zero or more"}, {"per_mile", s.PerMile, wantCents}, {"delivery", s.Delivery, wantCents}} {
		if f.n < 0 {
			bad.Add(f.name, f.n, f.want)
		}
	}
	if s.Drive < 0 {
		bad.Add("drive", s.Drive, "zero or more")
	}
	if s.Idle < 0 {
		bad.Add("idle", s.Idle, "zero or more")
	}
	if err := bad.Err(); err != nil {
		return TripCost{}, err
	}
	n := func(v int64) *big.Rat { return new(big.Rat).SetInt64(v) }
	x := n(int64(s.Drive))
	x.Add(x, n(int64(s.Idle)))
	x.Mul(x, big.NewRat(s.Rate, int64(hour)))
	x.Add(x, new(big.Rat).Mul(n(s.Miles), n(s.PerMile)))
	x.Add(x, n(s.Delivery))
	var c TripCost
	var ok1, ok2 bool
	c.Whole, ok1 = roundRat(x, false)
	c.Expected, ok2 = roundRat(x.Mul(x, ratio(s.Chance)), false)
	if !ok1 || !ok2 {
		return TripCost{}, tooLarge("the cost of a second trip")
	}
	return c, nil
}
