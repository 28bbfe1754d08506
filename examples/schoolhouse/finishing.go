package main

import (
	"errors"
	"strconv"
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// finishAll works out the finishing list with each base, and what each base
// adds to the cost of the job beside the other trim of the first, which may differ a little from
// base to base.
func (w *work) finishAll() error {
	without, err := w.finishing(w.candidates[0].others)
	if err != nil {
		return err
	}
	_, before, err := estimate.Labor(without.Steps, w.job.Rates)
	if err != nil {
		return w.job.finishError(err, nil)
	}
	var bids []estimate.Alternative
	var otherSticks int64
	for i, c := range w.candidates {
		if c.done, err = w.finishing(c.inOrder(w.job)); err != nil {
			return err
		}
		if c.labor, c.hours, err = estimate.Labor(c.done.Steps, w.job.Rates); err != nil {
			return w.job.finishError(err, nil)
		}
		sums, err := c.cut.summary()
		if err != nil {
			return err
		}
		other, err := c.otherSticks()
		if err != nil {
			return err
		}
		if i == 0 {
			otherSticks = other
		}
		bids = append(bids, estimate.Alternative{
			Label:  c.cut.Profile.Name,
			Net:    c.cut.totals.Net,
			Sticks: sums.Sticks + other - otherSticks, // to splice is labor, among the steps, and not taxed as material
			// Packages are whole and shared with casing and crown, so a base
			// costs what the list grows by.
			Consumables: c.done.Cost - without.Cost,
			Labor:       c.hours - before,
			Costs:       w.job.Base[i].Costs,
		})
	}
	w.compared, err = estimate.Compare(bids, w.job.Terms)
	return w.job.finishError(err, nil)
}

// schedule says when each step of the chosen base, the casing and the crown is
// done.
func (w *work) schedule() error {
	if w.job.Site == nil {
		return nil
	}
	todo, err := estimate.Activities(w.chosen.done.Steps, w.job.Rates)
	if err != nil {
		return w.job.finishError(err, nil)
	}
	w.times, err = schedule.Build(todo, *w.job.Site, nil)
	if bad := (*measure.FieldError)(nil); errors.As(err, &bad) {
		return &fieldError{strings.Replace(bad.Field, "calendar", "site", 1), strconv.Quote(bad.Value), "want " + bad.Want}
	}
	return err
}

func (w *work) finishing(cuts []*cutting) (*finish.List, error) {
	var todo []finish.Work
	for _, c := range cuts {
		todo = append(todo, finish.Work{System: w.job.Systems[c.system], Job: c.finishJob(w.job)})
	}
	list, err := finish.NewList(todo, w.job.Shelf)
	return list, w.job.finishError(err, cuts)
}

// inOrder puts what goes on the walls in the order in which it is hung: casing, then
// the base that dies into it, then crown.
func (c *candidate) inOrder(j *job) []*cutting {
	var cuts []*cutting
	for _, o := range c.others {
		if o.material == j.Crown {
			continue
		}
		cuts = append(cuts, o)
	}
	cuts = append(cuts, c.cut)
	for _, o := range c.others {
		if o.material == j.Crown {
			cuts = append(cuts, o)
		}
	}
	return cuts
}

// otherSticks is what the sticks for the other trim cost.
func (c *candidate) otherSticks() (cost int64, err error) {
	for _, o := range c.others {
		sums, err := o.summary()
		if err != nil {
			return 0, err
		}
		cost += sums.Sticks
	}
	return cost, nil
}

// finishJob is a profile for the people who fasten and paint it.
func (c *cutting) finishJob(j *job) finish.Job {
	f := estimate.FinishJob(c.totals, c.Profile)
	f.Studs, f.Hazards, f.Preprimed = usualStuds(j), c.Hazards, c.Preprimed
	return f
}

// usualStuds is the closest spacing in any room, which takes the most nails;
// zero leaves it to the library.
func usualStuds(j *job) measure.Length {
	var least measure.Length
	for _, r := range j.Rooms {
		if s := r.Studs.Spacing; s > 0 && (least == 0 || s < least) {
			least = s
		}
	}
	return least
}
