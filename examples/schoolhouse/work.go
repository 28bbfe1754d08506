package main

import (
	"context"
	"errors"
	"fmt"
	"reflect"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// work is everything that the report is about.
type work struct {
	job        *job
	findings   []takeoff.Finding
	candidates []*candidate
	chosen     *candidate
	compared   *estimate.Comparison
	times      *schedule.Schedule // nil where the job has no site
	cautions   []finish.Caution
}

// candidate is one base material and what follows from it.
type candidate struct {
	list *takeoff.List
	cut  *cutting

	// others is what else is run. Most of it is cut alike with every base, and is then the same
	// cutting; a skirt, for one, begins where the base ends.
	others []*cutting

	done *finish.List // finishing of this base, the casing and the crown together

	labor []measure.Duration // of its steps
	hours measure.Duration   // of all of them
}

// cutting is a material with the cheapest way to cut its pieces.
type cutting struct {
	*material
	totals  takeoff.ProfileTotals
	problem optimize.Problem
	plan    *optimize.Plan
}

// summary says what the sticks come to; what is shorter than a foot is not kept.
func (c *cutting) summary() (*optimize.Summary, error) {
	if len(c.problem.Pieces) == 0 {
		return &optimize.Summary{}, nil
	}
	return c.plan.Summary(c.problem, measure.Foot)
}

func workOut(j *job) (*work, error) {
	w := &work{job: j}
	for i := range j.Base {
		m := &j.Base[i]
		list, err := takeOff(j, m)
		if err != nil {
			return nil, err
		}
		c := &candidate{list: list}
		if c.cut, err = cutUp(j, m, list); err != nil {
			return nil, err
		}
		for k, m := range j.others() {
			cut := w.cutAlike(k, list.PiecesOf(m.Profile.Name), list.TotalsOf(m.Profile.Name))
			if cut == nil {
				if cut, err = cutUp(j, m, list); err != nil {
					return nil, err
				}
			}
			c.others = append(c.others, cut)
		}
		w.candidates = append(w.candidates, c)
	}
	if err := w.finishAll(); err != nil {
		return nil, err
	}
	w.choose()
	if err := w.schedule(); err != nil {
		return nil, err
	}
	return w, w.lookBack()
}

// cutAlike returns the cutting of the other material of an index with an earlier base, if it
// cuts the same pieces, or nil.
func (w *work) cutAlike(k int, pieces []stock.Piece, totals takeoff.ProfileTotals) *cutting {
	for _, c := range w.candidates {
		if cut := c.others[k]; reflect.DeepEqual(cut.problem.Pieces, pieces) && reflect.DeepEqual(cut.totals, totals) {
			return cut
		}
	}
	return nil
}

// choose takes the base that the job names, or else the cheapest installed.
func (w *work) choose() {
	w.chosen = w.candidates[w.compared.Order[0]]
	for _, c := range w.candidates {
		if c.cut.Profile.Name == w.job.Choose {
			w.chosen = c
		}
	}
}

// lookBack collects what is to be said about the job as it was chosen.
func (w *work) lookBack() error {
	var err error
	if w.findings, err = takeoff.Check(w.job.Rooms, w.job.scheme(w.chosen.cut.material), &w.job.Habits); err != nil {
		return err
	}
	known := map[string]bool{} // what both say is said once
	for _, f := range w.findings {
		known[f.Room+f.Wall+f.Reason] = true
	}
	for _, f := range w.chosen.list.Findings {
		if !known[f.Room+f.Wall+f.Reason] {
			w.findings = append(w.findings, f)
		}
	}
	lead, err := finish.USLeadRule().Cautions(finish.Building{Year: w.job.Year, Occupancy: w.job.Used}, w.job.Removed, w.job.Locale)
	if err != nil {
		return w.job.finishError(err, nil)
	}
	// What both lists say, the rule on old paint and the last word, is said once.
	said := map[string]bool{}
	for _, c := range append(lead, w.chosen.done.Cautions...) {
		if !said[c.Text+c.Trigger] {
			said[c.Text+c.Trigger] = true
			w.cautions = append(w.cautions, c)
		}
	}
	return nil
}

// cuttings returns what is bought and cut when the chosen base is run.
func (w *work) cuttings() []*cutting { return append([]*cutting{w.chosen.cut}, w.chosen.others...) }

func takeOff(j *job, base *material) (*takeoff.List, error) {
	list, err := takeoff.Take(j.Rooms, j.scheme(base), &j.Habits)
	if err == nil {
		return list, nil
	}
	var all []error
	for bad := range measure.FieldErrors(err) {
		if long := (*takeoff.SpliceError)(nil); errors.As(bad, &long) { // the file is right, but other sticks may do
			all = append(all, fmt.Errorf("base %q: %w", base.Profile.Name, long))
			continue
		}
		all = append(all, j.inFile(base, bad))
	}
	if all == nil {
		all = append(all, fmt.Errorf("base %q: %w", base.Profile.Name, err))
	}
	return nil, errors.Join(all...)
}

func (j *job) scheme(base *material) takeoff.Scheme {
	s := takeoff.Scheme{Base: &base.Profile, CasingStyles: j.Styles, Wainscot: j.Wainscot}
	if j.Casing != nil {
		s.Casing = &j.Casing.Profile
	}
	for i := range j.Trim {
		if p := &j.Trim[i].Profile; p.Role == stock.RoleSkirt {
			s.Skirt = p
		}
	}
	var built bool
	if s.Assemblies, built = j.builtUp(); j.Crown != nil && !built {
		s.Crown = &j.Crown.Profile
	}
	return s
}

// cutUp finds the cheapest sticks, the rack first of all, for the pieces of a
// material.
func cutUp(j *job, m *material, list *takeoff.List) (*cutting, error) {
	c := &cutting{material: m, totals: list.TotalsOf(m.Profile.Name)}
	c.problem = optimize.Problem{Sticks: m.Sticks, Pieces: list.PiecesOf(m.Profile.Name), Kerf: j.Kerf}
	if len(c.problem.Pieces) == 0 {
		c.plan = &optimize.Plan{Proven: true}
		return c, nil
	}
	for i, s := range j.Rack.Sticks(m.Profile.Name) {
		if s.Label == "" {
			s.Label = fmt.Sprintf("rack %d", i+1)
		}
		c.problem.Sticks = append(c.problem.Sticks[:len(c.problem.Sticks):len(c.problem.Sticks)], s)
	}
	var err error
	c.plan, err = optimize.Solve(context.Background(), c.problem, nil)
	if bad := (*measure.FieldError)(nil); errors.As(err, &bad) {
		return nil, &fieldError{m.path + ": " + bad.Field, bad.Value, "want " + bad.Want}
	}
	if err != nil {
		return nil, fmt.Errorf("%s %q: %w", m.path, m.Profile.Name, err)
	}
	return c, optimize.Check(context.Background(), c.problem, c.plan)
}
