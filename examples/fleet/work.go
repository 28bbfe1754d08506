package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"io"
	"log/slog"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"github.com/riverqueue/river"
)

// worker solves one job at a time; several run concurrently.
type worker[TTx any] struct {
	river.WorkerDefaults[cutJob]
	db       *database[TTx]
	name     string
	deadline time.Duration // for the search
	steps    int64         // for the search
	counts   *counts
	log      *slog.Logger
}

// sheet is the result of a job: the plan with its proof as a document, and the printed page.
type sheet struct {
	name     string
	plan     *optimize.Plan
	document []byte // compressed, as page is
	page     []byte
	took     time.Duration
}

// Work solves a job and stores its sheet. It is called again if it fails, if the worker dies,
// and now and then if it succeeded but the queue did not learn of it: stored data stays as it
// is.
func (w *worker[TTx]) Work(ctx context.Context, job *river.Job[cutJob]) error {
	stored, err := w.db.has(ctx, job.ID)
	if err != nil {
		return err
	}
	if stored {
		w.counts.again.Inc()
		return nil
	}
	began := time.Now()
	var p optimize.Problem
	if err := measure.UnmarshalStrict(job.Args.Problem, &p); err != nil {
		return river.JobCancel(err)
	}
	search, done := context.WithTimeout(ctx, w.deadline)
	plan, err := optimize.Solve(search, p, &optimize.Options{Work: w.steps})
	done()
	if ctx.Err() != nil {
		return ctx.Err() // shutting down: the next worker has all the time
	}
	if err != nil {
		return hopeless(err)
	}
	s := &sheet{name: job.Args.Name, plan: plan}
	if err := s.write(ctx, p); err != nil {
		return hopeless(err)
	}
	s.took = time.Since(began)
	if err := w.keep(ctx, job, s); err != nil {
		return err
	}
	w.counts.solved(s)
	return nil
}

// hopeless marks an error that no retry would fix.
func hopeless(err error) error {
	var (
		field *measure.FieldError
		never *optimize.InfeasibleError
	)
	if errors.As(err, &field) || errors.As(err, &never) {
		return river.JobCancel(err)
	}
	return err
}

// write checks the plan, as cutsheet.New does, and writes it.
func (s *sheet) write(ctx context.Context, p optimize.Problem) error {
	cut, err := cutsheet.New(ctx, p, s.plan, &cutsheet.Options{Title: s.name})
	if err != nil {
		return err
	}
	var document, page bytes.Buffer
	err = errors.Join(packed(&document, cut.WriteJSON), packed(&page, cut.WriteHTML))
	s.document, s.page = document.Bytes(), page.Bytes()
	return err
}

// packed compresses the output: a page shrinks to a tenth.
func packed(to io.Writer, write func(io.Writer) error) error {
	z := gzip.NewWriter(to)
	return errors.Join(write(z), z.Close())
}

// keep stores a sheet and the end of its job in one transaction. While the database is down it
// retries, as long as the job may take: the result is worth more than the wait.
func (w *worker[TTx]) keep(ctx context.Context, job *river.Job[cutJob], s *sheet) error {
	for wait := 50 * time.Millisecond; ; wait = min(2*wait, time.Second) {
		err := w.db.within(ctx, func(tx TTx) error {
			if err := w.db.store(ctx, tx, job, s, w.name); err != nil {
				return err
			}
			return complete(ctx, tx, job)
		})
		if err == nil {
			return nil
		}
		w.counts.retries.Inc()
		w.log.Warn("a sheet is not stored yet", "job", job.ID, "cause", err)
		select {
		case <-ctx.Done():
			return err
		case <-time.After(wait):
		}
	}
}
