package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// jobFile is the contents of a job's file.
type jobFile struct {
	ID       string           `json:"id"` // identifies the job permanently
	Title    string           `json:"title"`
	Job      string           `json:"job"` // this and the next two are printed on every paper
	Date     string           `json:"date"`
	Revision string           `json:"revision"`
	Currency measure.Currency `json:"currency"`
	Profile  string           `json:"profile"`
	Material string           `json:"material"` // empty if the rack names none
	Kerf     measure.Length   `json:"kerf"`
	Sticks   []stock.Stick    `json:"sticks"` // that can be bought
	Pieces   []stock.Piece    `json:"pieces"`
}

func plan(s *shop, args []string) (do, error) {
	args, err := arguments(s, flag.NewFlagSet("plan", flag.ContinueOnError), args, "FILE")
	if err != nil {
		return nil, err
	}
	text, err := os.ReadFile(args[0])
	if err != nil {
		return nil, &usageError{what: err.Error()}
	}
	var j jobFile
	if err := measure.UnmarshalStrict(text, &j); err != nil {
		return nil, fmt.Errorf("%s: %w", shown(args[0]), err)
	}
	return func(ctx context.Context) error {
		if err := s.db.AddRack(ctx, s.rack); err != nil {
			return err
		}
		return s.plan(ctx, &j)
	}, nil
}

// plan plans a job, unless it is planned already.
func (s *shop) plan(ctx context.Context, j *jobFile) error {
	solved := false
	job, err := s.db.Plan(ctx, j.ID, s.rack, func(ctx context.Context, rack stock.Rack) (optimize.Problem, *optimize.Plan, *cutsheet.Options, error) {
		solved = true
		return j.solve(ctx, rack)
	})
	if err != nil {
		return err
	}
	if !solved {
		if job.Rack != s.rack || !same(job.Problem.Pieces, j.Pieces) {
			return fmt.Errorf("there is a job %s already, for other pieces or another rack: want an id of its own for each job", shown(j.ID))
		}
		_, err := fmt.Fprintf(s.out, "%s is planned already: it stays as it is.\n", shown(j.ID))
		return err
	}
	bought, taken := 0, 0
	for _, b := range job.Plan.Buy {
		if job.Problem.Sticks[b.Stick].Rack {
			taken += b.Count
		} else {
			bought += b.Count
		}
	}
	_, err = fmt.Fprintf(s.out, "%s: %s to buy for %s; %d held on the rack %s. Next: store show %s\n",
		shown(j.ID), number(int64(bought), "stick"), measure.Locale{Currency: j.Currency}.FormatMoney(job.Plan.Cost), taken, shown(s.rack), shown(j.ID))
	return err
}

// same reports whether two lists of pieces are equal.
func same(a, b []stock.Piece) bool {
	x, errX := json.Marshal(a)
	y, errY := json.Marshal(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

// solve cuts the pieces from the free offcuts of the rack and the sticks on sale.
func (j *jobFile) solve(ctx context.Context, rack stock.Rack) (optimize.Problem, *optimize.Plan, *cutsheet.Options, error) {
	p := optimize.Problem{Sticks: slices.Concat(j.Sticks, rack.SticksIn(j.Profile, j.Material)), Pieces: j.Pieces, Kerf: j.Kerf}
	for i := range p.Sticks {
		p.Sticks[i].Profile, p.Sticks[i].Material = j.Profile, j.Material // those of the offcuts
	}
	plan, err := optimize.Solve(ctx, p, nil)
	return p, plan, &cutsheet.Options{Title: j.Title, Job: j.Job, Date: j.Date, Revision: j.Revision, Locale: measure.Locale{Currency: j.Currency}}, err
}
