package estimate

// A SpareCost sets what spare sticks cost beside what it costs to fetch one when it is missing.
type SpareCost struct {
	Profile string   `json:"profile"`
	Sticks  int      `json:"sticks"`          // spare ones
	Short   int      `json:"short,omitempty"` // asked for and not to be had: no stick is long enough, or not enough of them
	Cost    int64    `json:"cost"`            // what they add to the least cost of the sticks, in cents
	Trip    TripCost `json:"trip"`            // of a second trip; zero where the job has none

	// Pays says that they cost no more than the trip that they save is to be expected to: one
	// trip, however many sticks are spare.
	Pays bool `json:"pays"`
}

// spares lists the spare sticks of an estimate.
func (w *work) spares(e *Estimate) ([]SpareCost, error) {
	var trip TripCost
	if w.job.Trip != nil {
		var err error
		if trip, err = w.job.Trip.Cost(); err != nil {
			return nil, err
		}
	}
	var out []SpareCost
	for _, p := range e.Plans {
		if p.Spare > 0 || p.SpareShort > 0 {
			out = append(out, SpareCost{Profile: p.Profile, Sticks: p.Spare, Short: p.SpareShort, Cost: p.SpareCost, Trip: trip, Pays: w.job.Trip != nil && p.Spare > 0 && p.SpareCost <= trip.Expected})
		}
	}
	return out, nil
}
