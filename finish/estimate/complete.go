package estimate

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/stock/takeoff"
)

// complete returns e, or a copy in which nothing is nil that New always fills in: an Estimate
// that was read from a file may lack it.
func (e *Estimate) complete() *Estimate {
	c := e.filled()
	c.Variants = slices.Clone(c.Variants)
	for i := range c.Variants {
		c.Variants[i].Estimate = c.Variants[i].Estimate.filled() // which has no variants
	}
	return c
}

// filled is complete without the variants.
func (e *Estimate) filled() *Estimate {
	c := new(Estimate)
	if e != nil {
		*c = *e
	}
	if c.Takeoff == nil {
		c.Takeoff = new(takeoff.List)
	}
	if c.Finish == nil {
		c.Finish = new(finish.List)
	}
	if c.Sequence == nil {
		c.Sequence = new(sequence.Order)
	}
	if c.Quote == nil {
		c.Quote = new(Quote)
	}
	if c.Payments == nil {
		c.Payments = new(PaymentSchedule)
	}
	if c.Schedule != nil && c.Job.Calendar == nil {
		c.Job.Calendar = new(schedule.Calendar)
	}
	return c
}
