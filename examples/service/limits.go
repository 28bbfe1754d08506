package main

import (
	"errors"
	"net/http"
	"strconv"
	"time"

	"example.com/longpoint/optimize"
)

// limits are the greatest resources of one request. The server sets them; no request can raise
// them.
type limits struct {
	body     int64         // bytes
	sticks   int           // kinds of stick
	pieces   int64         // including quantities and the possible parts of runs
	deadline time.Duration // from reading the job, waiting for a turn included
	work     int64         // optimize.Options.Work
	sheet    time.Duration // for the sheet of a plan, which is checked again

	first int64 // steps of the first turn, which every job gets
	short int   // concurrent first turns
	long  int   // concurrent turns for the rest of the work
	queue int   // jobs that wait for either

	connections int // concurrent ones; each may hold a body

	receive time.Duration // for receiving a body
	send    time.Duration // for sending a response, or a line of progress
	pace    time.Duration // least time between two lines of progress
	beat    time.Duration // interval of keep-alives in a stream of events
}

var usual = limits{
	body: 1 << 20, sticks: 100, pieces: 20_000, deadline: 10 * time.Second, work: optimize.DefaultWork, sheet: 5 * time.Second,
	// A room takes a tenth of that, and so do most houses: see turns.go.
	first: 25_000_000, short: 1, long: 2, queue: 32,
	connections: 256,
	receive:     15 * time.Second, send: 30 * time.Second, pace: 200 * time.Millisecond,
	beat: 15 * time.Second, // as the HTML standard advises for server-sent events
}

func (l *limits) check() error {
	if l.body < 1 || l.sticks < 1 || l.pieces < 1 || l.deadline <= 0 || l.work < 1 || l.sheet <= 0 || l.first < 1 || l.short < 1 || l.long < 1 ||
		l.queue < 1 || l.connections < 1 || l.receive <= 0 || l.send <= 0 || l.pace < 0 || l.beat <= 0 {
		return errors.New("a limit is zero or less: want all of them positive")
	}
	return nil
}

// tooMuch counts the pieces of a job and enforces the limits before any work is done on it.
func (l *limits) tooMuch(p optimize.Problem) (int64, *failure) {
	if n := len(p.Sticks); n > l.sticks {
		return 0, &failure{status: http.StatusUnprocessableEntity, Kind: "limit", Field: "sticks", Value: strconv.Itoa(n), Want: strconv.Itoa(l.sticks) + " at most"}
	}
	left := l.pieces
	count := func(field string, n int64) *failure {
		if left -= n; left >= 0 {
			return nil
		}
		return &failure{
			status: http.StatusUnprocessableEntity, Kind: "limit", Field: field, Value: strconv.FormatInt(n, 10),
			Want: strconv.FormatInt(l.pieces, 10) + " pieces at most in all",
		}
	}
	for i, piece := range p.Pieces {
		if f := count("pieces["+strconv.Itoa(i)+"].quantity", int64(max(1, piece.Quantity))); f != nil {
			return l.pieces, f
		}
	}
	for i, run := range p.Runs {
		if f := count("runs["+strconv.Itoa(i)+"].splice.at", int64(len(run.Splice.At)+1)); f != nil {
			return l.pieces, f
		}
	}
	return l.pieces - left, nil
}
