package main

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"html/template"
	"net/http"
	"strconv"
	"strings"
	"time"

	"example.com/longpoint/measure"
	"github.com/prometheus/client_golang/prometheus/promhttp"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/rivertype"
)

//go:embed page.html
var pageText string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{
	"money":  func(n int64) string { return measure.Locale{}.FormatMoney(n) },
	"length": func(n int64) string { return measure.Length(n).About() },
	"cost": func(n int64, byLength bool) string {
		if byLength {
			return measure.Length(n).About()
		}
		return measure.Locale{}.FormatMoney(n)
	},
	"ago": func(t time.Time) string { return time.Since(t).Round(time.Second).String() },
}).Parse(pageText))

// busy is a running job.
type busy struct {
	Job, Attempt int64
	Name, Worker string
	Since        time.Time
}

// ended is a job that was given up.
type ended struct {
	Job       int64
	Name, Why string
}

// site serves the page, the sheets, and the metrics.
func site[TTx any](db *database[TTx], queue *river.Client[TTx], c *counts) http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		now, err := look(r.Context(), db, queue)
		var text bytes.Buffer
		if err == nil {
			err = pageTemplate.Execute(&text, now)
		}
		answer(w, "text/html; charset=utf-8", text.Bytes(), err)
	})
	sheet := func(media string, page bool) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			job, err := strconv.ParseInt(r.PathValue("job"), 10, 64)
			if err != nil {
				http.NotFound(w, r)
				return
			}
			text, err := db.written(r.Context(), job, page)
			if text == nil && err == nil {
				http.NotFound(w, r)
				return
			}
			answer(w, media, text, err)
		}
	}
	m.HandleFunc("GET /sheet/{job}", sheet("text/html; charset=utf-8", true))
	m.HandleFunc("GET /plan/{job}", sheet("application/json", false))
	m.Handle("GET /metrics", promhttp.HandlerFor(c.registry, promhttp.HandlerOpts{}))
	m.HandleFunc("GET /healthz", func(w http.ResponseWriter, r *http.Request) {
		answer(w, "text/plain; charset=utf-8", []byte("alive\n"), db.read.PingContext(r.Context()))
	})
	return m
}

// answer sends a text, or reports that the database is down.
func answer(w http.ResponseWriter, media string, text []byte, err error) {
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; img-src data:")
	h.Set("Cache-Control", "no-store")
	if err != nil {
		h.Set("Retry-After", "2")
		http.Error(w, "the database does not answer", http.StatusServiceUnavailable)
		return
	}
	h.Set("Content-Type", media)
	w.Write(text)
}

// look collects the data of the page.
func look[TTx any](ctx context.Context, db *database[TTx], queue *river.Client[TTx]) (s state, err error) {
	if s.Jobs, err = db.jobs(ctx); err != nil {
		return s, err
	}
	if s.Total, err = db.total(ctx); err != nil {
		return s, err
	}
	if s.Last, err = db.last(ctx, 40); err != nil {
		return s, err
	}
	list, err := queue.JobList(ctx, river.NewJobListParams().First(40).States(rivertype.JobStateRunning))
	if err != nil {
		return s, err
	}
	for _, j := range list.Jobs {
		b := busy{Job: j.ID, Attempt: int64(j.Attempt), Name: nameOf(j)}
		if n := len(j.AttemptedBy); n > 0 {
			b.Worker = j.AttemptedBy[n-1]
		}
		if j.AttemptedAt != nil {
			b.Since = *j.AttemptedAt
		}
		s.Busy = append(s.Busy, b)
	}
	list, err = queue.JobList(ctx, river.NewJobListParams().First(40).States(rivertype.JobStateCancelled, rivertype.JobStateDiscarded))
	if err != nil {
		return s, err
	}
	for _, j := range list.Jobs {
		e := ended{Job: j.ID, Name: nameOf(j)}
		if n := len(j.Errors); n > 0 {
			e.Why = strings.TrimPrefix(j.Errors[n-1].Error, "JobCancelError: ") // the queue's own prefix means nothing to a reader
		}
		s.Ended = append(s.Ended, e)
	}
	return s, nil
}

// Waiting returns the number of jobs that wait.
func (s state) Waiting() int64 {
	return s.Jobs["available"] + s.Jobs["pending"] + s.Jobs["retryable"] + s.Jobs["scheduled"]
}

// Running returns the number of running jobs.
func (s state) Running() int64 { return s.Jobs["running"] }

// GivenUp returns the number of jobs that will get no sheet.
func (s state) GivenUp() int64 { return s.Jobs["cancelled"] + s.Jobs["discarded"] }

// Share returns the finished part of the jobs, in percent.
func (s state) Share() string {
	all := s.Waiting() + s.Running() + s.GivenUp() + s.Total.Sheets
	return fmt.Sprintf("%d%%", 100*s.Total.Sheets/max(1, all))
}
