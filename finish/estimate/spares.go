package estimate

// A SpareCost compares the cost of spare sticks with that of fetching a missing one.
type SpareCost struct {
	Profile string   `json:"profile"`
	Sticks  int      `json:"sticks"`          // number of spares
	Short   int      `json:"short,omitempty"` // requested and not available: no stick is long enough, or there are not enough
	Cost    int64    `json:"cost"`            // their addition to the least cost of the sticks, in cents
	Trip    TripCost `json:"trip"`            // of a second trip; zero if the job has none

	// Pays reports whether they cost no more than the expected cost of the trip that they
	// avoid: one trip, however many spares there are.
	Pays bool `json:"pays"`
}

// spares lists the spare sticks of an estimate.
func (w *work) spares(e *Estimate) ([]SpareCost, error) {
	var trip TripCost
	if w.job.SecondTrip != nil {
		var err error
		if trip, err = w.job.SecondTrip.Cost(); err != nil {
			return nil, err
		}
	}
	var out []SpareCost
	for _, p := range e.Plans {
		if p.Spare > 0 || p.SpareShort > 0 {
			out = append(out, SpareCost{Profile: p.Profile, Sticks: p.Spare, Short: p.SpareShort, Cost: p.SpareCost, Trip: trip, Pays: w.job.SecondTrip != nil && p.Spare > 0 && p.SpareCost <= trip.Expected})
		}
	}
	return out, nil
}
