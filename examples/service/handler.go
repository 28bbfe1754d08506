package main

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"mime"
	"net/http"
	"strconv"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

// limits are what one request may take of the machine. They are the server's to
// set: nothing in a request raises them.
type limits struct {
	body     int64         // bytes
	sticks   int           // kinds of stick
	pieces   int64         // pieces, quantities and the parts that runs may have counted
	deadline time.Duration // from the time the job is read, a wait for a turn included
	work     int64         // optimize.Options.Work
	solves   int           // at the same time
}

var usual = limits{body: 1 << 20, sticks: 100, pieces: 20_000, deadline: 10 * time.Second, work: optimize.DefaultWork, solves: 2}

// service answers jobs. Its zero value is not ready; see newService.
type service struct {
	limits
	turns chan struct{} // holds one for each solve that runs
	log   *slog.Logger

	// solve is optimize.Solve. Tests put one here that waits.
	solve func(context.Context, optimize.Problem, *optimize.Options) (*optimize.Plan, error)
}

func newService(l limits, log *slog.Logger) *service {
	return &service{limits: l, turns: make(chan struct{}, l.solves), log: log, solve: optimize.Solve}
}

// ServeHTTP answers POST /plan, whose body is an optimize.Problem, with a cut
// sheet as JSON. What goes wrong is a failure as JSON.
func (s *service) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, f := s.answer(w, r)
	if r.Context().Err() != nil {
		return // nobody is there to read it
	}
	status := http.StatusOK
	if f != nil {
		if f.cause != nil {
			s.log.Error("a job failed", "cause", f.cause)
		}
		if f.status == http.StatusServiceUnavailable {
			w.Header().Set("Retry-After", strconv.Itoa(1+int(s.deadline/time.Second)))
		}
		status, body = f.status, f.json()
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	w.Header().Set("Content-Length", strconv.Itoa(len(body)))
	w.WriteHeader(status)
	w.Write(body)
}

func (s *service) answer(w http.ResponseWriter, r *http.Request) ([]byte, *failure) {
	if r.URL.Path != "/plan" {
		return nil, &failure{status: http.StatusNotFound, Kind: "path", Field: "path", Value: r.URL.Path, Want: "/plan"}
	}
	if r.Method != http.MethodPost {
		w.Header().Set("Allow", http.MethodPost)
		return nil, &failure{status: http.StatusMethodNotAllowed, Kind: "method", Field: "method", Value: r.Method, Want: http.MethodPost}
	}
	if t, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || t != "application/json" {
		return nil, &failure{status: http.StatusUnsupportedMediaType, Kind: "type", Field: "Content-Type", Value: r.Header.Get("Content-Type"), Want: "application/json"}
	}
	text, err := io.ReadAll(http.MaxBytesReader(w, r.Body, s.body))
	if err != nil {
		return nil, badBody(err)
	}
	var p optimize.Problem
	if err := finish.Decode(text, &p); err != nil {
		return nil, badJSON(err)
	}
	if f := s.tooMuch(p); f != nil {
		return nil, f
	}

	ctx, cancel := context.WithTimeout(r.Context(), s.deadline)
	defer cancel()
	select {
	case s.turns <- struct{}{}:
		defer func() { <-s.turns }()
	case <-ctx.Done():
		return nil, &failure{status: http.StatusServiceUnavailable, Kind: "busy", Want: "the same again later"}
	}
	plan, err := s.solve(ctx, p, &optimize.Options{Work: s.work})
	if err != nil {
		return nil, noPlan(err)
	}
	sheet, err := cutsheet.New(p, plan, nil)
	if err != nil {
		return nil, noSheet(err)
	}
	var out bytes.Buffer
	if err := sheet.JSON(&out); err != nil {
		return nil, internal(err)
	}
	return out.Bytes(), nil
}

// tooMuch holds a job to the limits before any work is done on it.
func (s *service) tooMuch(p optimize.Problem) *failure {
	if n := len(p.Sticks); n > s.sticks {
		return &failure{status: http.StatusUnprocessableEntity, Kind: "limit", Field: "sticks", Value: strconv.Itoa(n), Want: strconv.Itoa(s.sticks) + " at most"}
	}
	left := s.pieces
	count := func(field string, n int64) *failure {
		if left -= n; left >= 0 {
			return nil
		}
		return &failure{
			status: http.StatusUnprocessableEntity, Kind: "limit", Field: field, Value: strconv.FormatInt(n, 10),
			Want: strconv.FormatInt(s.pieces, 10) + " pieces at most in all",
		}
	}
	for i, piece := range p.Pieces {
		if f := count("pieces["+strconv.Itoa(i)+"].quantity", int64(max(1, piece.Quantity))); f != nil {
			return f
		}
	}
	for i, run := range p.Runs {
		if f := count("runs["+strconv.Itoa(i)+"].splice.at", int64(len(run.Splice.At)+1)); f != nil {
			return f
		}
	}
	return nil
}
