package estimate

import "example.com/longpoint/measure"

// Alternative returns the whole job as one alternative, for [BreakEvenWage] and
// [BreakEvenPrice] of a job and its variants. The sticks of a profile stand in its Sticks, those of
// all others among its Costs; an empty profile leaves Sticks zero. Its Net is a foot for every
// job, so that prices per foot compare as those of the whole jobs do.
func (e *Estimate) Alternative(label, profile string) Alternative {
	a := Alternative{Label: label, Net: measure.Foot}
	for _, c := range e.Costs {
		if profile != "" && c.sticksOf(profile) && c.Amount <= mostCents-a.Sticks {
			a.Sticks += c.Amount
			continue
		}
		a.Costs = append(a.Costs, c)
	}
	return a
}

// mostCents is the most that an amount can be.
const mostCents = 1<<63 - 1
