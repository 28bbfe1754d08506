package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// A RoughRule is a quick takeoff: round each wall up and add a percentage. The zero value
// rounds up to whole feet and adds nothing.
type RoughRule struct {
	Round measure.Length `json:"round,omitzero"` // each reading is rounded up to a multiple; zero means 1 ft
	Each  measure.Length `json:"each,omitzero"`  // then added to each wall, such as 1 ft (a molding maker's measuring page)

	// Waste is added at the end, less than 100 %, such as 10 % (common practice, no source).
	// OfPurchase makes it a share of the purchase instead of the need: need/(1 − waste) instead
	// of need·(1 + waste). Both are published.
	Waste      measure.Ratio `json:"waste,omitzero"`
	OfPurchase bool          `json:"of_purchase,omitempty"`
}

// WallReading is a quick reading of one wall, without its doors.
type WallReading struct {
	Room   string         `json:"room"`
	Wall   string         `json:"wall"`
	Length measure.Length `json:"length"`
}

// Total returns the need, the sum of the counted readings, and what to buy, the need with the
// waste, rounded up to a tick.
//
// The error joins a *measure.FieldError for each reading or amount that is negative or more
// than a mile, and for a waste that is negative or 100 % or more; a sum out of range is a
// *measure.RangeError.
func (r RoughRule) Total(readings []WallReading) (need, buy measure.Length, err error) {
	walls, err := r.walls(readings)
	if err != nil {
		return 0, 0, err
	}
	for _, l := range walls {
		if need, err = need.Add(l); err != nil {
			return 0, 0, err
		}
	}
	const all = 100 * measure.Percent
	more, of := all+r.Waste, all
	if r.OfPurchase {
		more, of = all, all-r.Waste
	}
	if buy, _, err = need.MulDiv(int64(more), int64(of), measure.RoundUp); err != nil {
		return 0, 0, err
	}
	return need, buy, nil
}

// walls returns the counted length of each reading.
func (r RoughRule) walls(readings []WallReading) ([]measure.Length, error) {
	var bad faults
	grain := r.Round
	setDefault(&grain, measure.Foot)
	if grain < 0 || grain > maxWall {
		bad.Add("round", grain.About(), fmt.Sprintf("zero (for 1 ft) or more, at most %v", maxWall.About()))
	}
	bad.length("each", r.Each, 0, maxWall)
	if r.Waste < 0 || r.Waste >= 100*measure.Percent {
		bad.Add("waste", r.Waste.String(), "0 or more, less than 100%")
	}
	counted := make([]measure.Length, 0, len(readings))
	for i, w := range readings {
		if bad.length(indexed("readings", i)+".length", w.Length, 0, maxWall); len(bad.List) == 0 {
			counted = append(counted, w.Length.Round(grain, measure.RoundUp)+r.Each)
		}
	}
	if len(bad.List) > 0 {
		return nil, bad.Err()
	}
	return counted, nil
}
