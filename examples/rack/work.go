package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// job is the contents of job.json.
type job struct {
	ID       string         `json:"id"` // identifies the job permanently, and its plan's file
	Profile  string         `json:"profile"`
	Material string         `json:"material"` // empty if the rack names none
	Kerf     measure.Length `json:"kerf"`
	Sticks   []stock.Stick  `json:"sticks"` // that can be bought
	Pieces   []stock.Piece  `json:"pieces"`
}

var safeID = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,63}$`)

// work does a job in steps, each of which may be the last before a power failure:
//
//  1. the plan is written to its own file,
//  2. the rack with the plan's change replaces the old one.
//
// Run again, it uses an existing plan instead of making a new one, since the rack may have
// changed; and a rack that has the change already stays as it is. Run one program at a time:
// two that write the same rack need a lock.
//
// The sheet comes last and can be written again.
func work(rackFile, jobFile string) (said string, sheet *cutsheet.Sheet, err error) {
	var rack stock.Rack
	if err := read(rackFile, &rack); err != nil {
		return "", nil, err
	}
	if err := rack.Validate(); err != nil {
		return "", nil, fmt.Errorf("%s was left as it is: %w", filepath.Base(rackFile), err)
	}
	var j job
	if err := read(jobFile, &j); err != nil {
		return "", nil, err
	}
	if !safeID.MatchString(j.ID) {
		return "", nil, fmt.Errorf("%s: id is %q: want small letters, digits and hyphens, 64 at most", filepath.Base(jobFile), j.ID)
	}
	planFile := filepath.Join(filepath.Dir(rackFile), j.ID+".plan.json")
	p, plan, sheet, err := j.planned(planFile, rack.Keep)
	if errors.Is(err, fs.ErrNotExist) {
		if slices.ContainsFunc(rack.Applied, func(d stock.RackRecord) bool { return d.ID == j.ID }) {
			return "", nil, fmt.Errorf("%s has had the job %s, but its plan is gone: %w", filepath.Base(rackFile), j.ID, err)
		}
		if p, plan, sheet, err = j.plan(rack); err == nil {
			err = save(planFile, sheet.WriteJSON)
		}
	}
	if err != nil {
		return "", nil, err
	}
	change, err := plan.RackChange(p, j.ID)
	if err != nil {
		return "", nil, fmt.Errorf("%s: %w", filepath.Base(planFile), err)
	}
	after, err := rack.Apply(change)
	if short := (*stock.RackError)(nil); errors.As(err, &short) && short.Use >= 0 {
		return "", nil, fmt.Errorf("%s was left as it is: %w; if somebody took it, delete %s and run this again", filepath.Base(rackFile), err, filepath.Base(planFile))
	}
	if err != nil {
		return "", nil, fmt.Errorf("%s was left as it is: %w", filepath.Base(rackFile), err)
	}
	if len(after.Applied) == len(rack.Applied) {
		return j.ID + " is among the changes that the rack has had: it stays as it is.", sheet, nil
	}
	if err := saveRack(rackFile, after); err != nil {
		return "", nil, err
	}
	return fmt.Sprintf("%s: the rack held %s and now holds %s.", j.ID, held(rack), held(after)), sheet, nil
}

// plan cuts the pieces from the free offcuts of the rack and the sticks on sale.
func (j *job) plan(rack stock.Rack) (optimize.Problem, *optimize.Plan, *cutsheet.Sheet, error) {
	p := optimize.Problem{Sticks: slices.Concat(j.Sticks, rack.SticksIn(j.Profile, j.Material)), Pieces: j.Pieces, Kerf: j.Kerf}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		s.Profile, s.Material = j.Profile, j.Material // those of the offcuts
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		return p, nil, nil, err
	}
	sheet, err := cutsheet.New(context.Background(), p, plan, &cutsheet.Options{Title: j.ID, Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}, Keep: rack.Keep})
	return p, plan, sheet, err
}

// planned reads an existing plan. New checks that it is valid; this function checks that it is
// for this job. keep is the shortest offcut that the rack takes.
func (j *job) planned(file string, keep measure.Length) (optimize.Problem, *optimize.Plan, *cutsheet.Sheet, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return optimize.Problem{}, nil, nil, err
	}
	p, plan, o, err := cutsheet.ReadJSON(bytes.NewReader(text))
	var sheet *cutsheet.Sheet
	if err == nil {
		o.Keep = keep // which belongs to the reader, and is not in the file
		sheet, err = cutsheet.New(context.Background(), p, plan, o)
	}
	if err == nil && !reflect.DeepEqual(p.Pieces, j.Pieces) {
		err = fmt.Errorf("it is for other pieces: want an id of its own for each job")
	}
	if err != nil {
		return p, nil, nil, fmt.Errorf("%s: %w", filepath.Base(file), err)
	}
	return p, plan, sheet, nil
}

func held(r stock.Rack) string {
	n := 0
	for _, o := range r.Offcuts {
		n += max(1, o.Count)
	}
	total, err := r.Total()
	if err != nil {
		return fmt.Sprintf("%d offcuts", n)
	}
	return fmt.Sprintf("%d offcuts, %s", n, total.About())
}

// read reads JSON strictly: a rack that lost half its fields to a typing error must not be
// written back without them.
func read(file string, v any) error {
	text, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	if err := measure.UnmarshalStrict(text, v); err != nil {
		return fmt.Errorf("%s was left as it is: %w", filepath.Base(file), err)
	}
	return nil
}
