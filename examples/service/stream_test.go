package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"example.com/longpoint/optimize"
)

// aLine is any line of a stream.
type aLine struct {
	Progress *optimize.Progress
	Sheet    json.RawMessage
	Error    *failure
}

// linesOf reads a stream to its end.
func linesOf(t *testing.T, text string) (all []aLine) {
	t.Helper()
	for l := range strings.Lines(text) {
		var line aLine
		if err := json.Unmarshal([]byte(l), &line); err != nil {
			t.Fatalf("%v: %s", err, l)
		}
		all = append(all, line)
	}
	return all
}

// Progress is reported through both turns of a job, and the last line is the sheet.
func TestProgressLines(t *testing.T) {
	l := brief()
	l.first, l.work, l.pace = 1_000_000, 10_000_000, 0
	r, text := send(t, serve(t, newService(l, quiet())).URL+"/plan?progress=lines&proof=full", largeJob(t))
	if r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != "application/x-ndjson" {
		t.Fatalf("%s, %v: %s", r.Status, r.Header, text)
	}
	all := linesOf(t, text)
	last := all[len(all)-1]
	if len(all) < 4 || last.Sheet == nil || last.Error != nil || last.Progress != nil {
		t.Fatalf("%d lines, the last: %+v", len(all), last)
	}
	plan := planOf(t, r, string(last.Sheet))
	for k, line := range all[:len(all)-1] {
		p := line.Progress
		if p == nil || line.Sheet != nil || line.Error != nil {
			t.Fatalf("line %d: %+v", k, line)
		}
		if p.Found && (p.Cost < plan.Cost || p.Bound > p.Cost) || p.Stage == "" {
			t.Errorf("line %d: %+v, the plan costs %d", k, p, plan.Cost)
		}
		if k == 0 {
			continue
		}
		if b := all[k-1].Progress; p.Work < b.Work || p.Bound < b.Bound || b.Found && (!p.Found || p.Cost > b.Cost) {
			t.Errorf("line %d: %+v after %+v", k, p, b)
		}
	}
	if p := all[len(all)-2].Progress; p.Work <= l.first {
		t.Errorf("the second turn reported nothing: %d steps, the first has %d", p.Work, l.first)
	}
}

// A job that is done before any report still has a line, and one that is invalid from the start has a
// status.
func TestProgressOfQuickJobs(t *testing.T) {
	url := serve(t, newService(usual, quiet())).URL + "/plan?progress=lines"
	r, text := send(t, url, goodJob)
	all := linesOf(t, text)
	if r.StatusCode != http.StatusOK || all[len(all)-1].Sheet == nil {
		t.Errorf("%s: %s", r.Status, text)
	}
	if r, text := send(t, url, `{"sticks": 1}`); r.StatusCode != http.StatusBadRequest || answerOf(t, text).Kind != "json" {
		t.Errorf("%s: %s", r.Status, text)
	}
	if r, text := send(t, url+"&progress=lines", goodJob); r.StatusCode != http.StatusBadRequest || answerOf(t, text).Field != "progress" {
		t.Errorf("%s: %s", r.Status, text)
	}
}

// An error after the first line is the last line.
func TestProgressFails(t *testing.T) {
	var log safeBuffer
	s := newService(usual, log.logger())
	s.solve = func(_ context.Context, _ optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		o.Progress(optimize.Progress{Work: 7, NewBound: true})
		return nil, &optimize.InternalError{Err: errors.New("a wrong sum")}
	}
	r, text := send(t, serve(t, s).URL+"/plan?progress=lines", goodJob)
	all := linesOf(t, text)
	if r.StatusCode != http.StatusOK || len(all) != 2 || all[0].Progress.Work != 7 || all[1].Error == nil || all[1].Error.Kind != "internal" {
		t.Errorf("%s: %s", r.Status, text)
	}
	if !strings.Contains(log.String(), "a wrong sum") {
		t.Errorf("the log says %s", &log)
	}
}

// A client that has seen enough takes its search with it.
func TestListenerLeaves(t *testing.T) {
	l := brief()
	l.pace = 0
	s := newService(l, quiet())
	var second atomic.Bool // the turn which never ends by itself has begun
	ended := make(chan *optimize.Plan, 1)
	s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		if o.Work == s.first {
			return optimize.Solve(ctx, p, o)
		}
		second.Store(true)
		plan, err := optimize.Solve(ctx, p, o)
		ended <- plan
		return plan, err
	}
	server := serve(t, s)
	r, err := client.Post(server.URL+"/plan?progress=lines", "application/json", strings.NewReader(largeJob(t)))
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(r.Body)
	for {
		// The steps of a line do not tell the turns apart: the first may end a little above its limit.
		if _, err := lines.ReadString('\n'); err != nil {
			t.Fatal(err)
		}
		if second.Load() {
			break
		}
	}
	r.Body.Close()
	switch plan := <-ended; {
	case plan == nil:
	case plan.Stop != optimize.StopCanceled && plan.Stop != optimize.StopCaller:
		t.Errorf("the search ended by %v", plan.Stop)
	}
	server.Close() // waits for the handler
	if !idle(s) {
		t.Error("a turn or a place was not returned")
	}
}

// failing is a connection that takes nothing.
type failing struct{ http.ResponseWriter }

func (failing) Header() http.Header       { return http.Header{} }
func (failing) WriteHeader(int)           {}
func (failing) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// A failed write of a line ends the search, without a context.
func TestNobodyListens(t *testing.T) {
	w := failing{}
	s := &stream{w: w, c: http.NewResponseController(w)}
	if s.tell(optimize.Progress{}) {
		t.Error("goes on")
	}
}
