package estimate

import "example.com/longpoint/measure"

// Alternative returns the whole job as one alternative, for [BreakEvenWage] and, with
// [Alternative.SticksOf] a profile, for [BreakEvenPrice] of a job and its variants. Its Net is
// one foot for every job, so that prices per foot compare like prices of whole jobs.
func (e *Estimate) Alternative(label string) Alternative {
	e = e.complete()
	return Alternative{Label: label, Net: measure.Foot, Costs: e.Costs}
}
