package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"example.com/longpoint/optimize"
)

// anEvent is one server-sent event, or a comment.
type anEvent struct{ id, name, data, comment string }

// nextEvent reads as the HTML standard says, section 9.2.6, as far as one event goes.
func nextEvent(r *bufio.Reader) (e anEvent, err error) {
	for {
		line, err := r.ReadString('\n')
		if err != nil {
			return e, err
		}
		line = strings.TrimSuffix(line, "\n")
		field, value, found := strings.Cut(line, ":")
		value = strings.TrimPrefix(value, " ")
		switch {
		case line == "":
			return e, nil
		case !found:
			return e, fmt.Errorf("line %q has no colon", line)
		case field == "":
			e.comment = value
		case field == "id":
			e.id = value
		case field == "event":
			e.name = value
		case field == "data":
			e.data += value
		default:
			return e, fmt.Errorf("field %q", field)
		}
	}
}

func listen(t *testing.T, url, job string) *http.Response {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), "POST", url+"/plan?proof=full", strings.NewReader(job))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Accept", "text/event-stream")
	answer, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { answer.Body.Close() })
	return answer
}

// Events have numbers that rise by one, tell of the progress of both turns and end with the
// sheet.
func TestEvents(t *testing.T) {
	l := brief()
	l.first, l.work, l.pace = 1_000_000, 10_000_000, 0
	r := listen(t, serve(t, newService(l, quiet())).URL, largeJob(t))
	if r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != "text/event-stream" || r.Header.Get("Cache-Control") != "no-store" {
		t.Fatalf("%s, %v", r.Status, r.Header)
	}
	var all []anEvent
	for lines := bufio.NewReader(r.Body); ; {
		e, err := nextEvent(lines)
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, e)
	}
	if len(all) < 4 {
		t.Fatalf("%d events", len(all))
	}
	var before optimize.Progress
	for k, e := range all[:len(all)-1] {
		var p optimize.Progress
		if err := json.Unmarshal([]byte(e.data), &p); err != nil || e.name != "progress" || e.id != fmt.Sprint(k+1) {
			t.Fatalf("event %d: %+v, %v", k, e, err)
		}
		if p.Work < before.Work || p.Bound < before.Bound {
			t.Errorf("event %d goes back: %+v after %+v", k, p, before)
		}
		before = p
	}
	last := all[len(all)-1]
	if last.name != "sheet" || last.id != fmt.Sprint(len(all)) || before.Work <= l.first {
		t.Errorf("the last event is %s %s after %d steps", last.name, last.id, before.Work)
	}
	planOf(t, r, last.data)
}

// An error before the stream has a status, a later one is an event.
func TestEventsFail(t *testing.T) {
	s := newService(usual, quiet())
	server := serve(t, s)
	r := listen(t, server.URL, `{"sticks": 1}`)
	text, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusBadRequest || answerOf(t, string(text)).Kind != "json" {
		t.Errorf("%s: %s, %v", r.Status, text, err)
	}
	s.solve = func(_ context.Context, _ optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		o.Progress(optimize.Progress{Work: 7, NewBound: true})
		return nil, &optimize.LimitError{Stop: optimize.StopDeadline}
	}
	lines := bufio.NewReader(listen(t, server.URL, goodJob).Body)
	if e, err := nextEvent(lines); err != nil || e.name != "progress" {
		t.Errorf("%+v, %v", e, err)
	}
	e, err := nextEvent(lines)
	var f failure
	if err != nil || e.name != "failure" || json.Unmarshal([]byte(e.data), &f) != nil || f.Kind != "time" {
		t.Errorf("%+v, %v", e, err)
	}
}

// A job that waits shows that it lives; when its turn comes it is answered as any other.
func TestEventsWhileWaiting(t *testing.T) {
	l := usual
	l.beat, l.deadline = 5*time.Millisecond, patience
	s := newService(l, quiet())
	fill(s.short.turns)
	lines := bufio.NewReader(listen(t, serve(t, s).URL, goodJob).Body)
	for range 3 {
		if e, err := nextEvent(lines); err != nil || e.comment == "" || e.name != "" || e.id != "" {
			t.Fatalf("%+v, %v", e, err)
		}
	}
	<-s.short.turns
	for {
		e, err := nextEvent(lines)
		if err != nil {
			t.Fatal(err)
		}
		if e.name == "sheet" {
			return
		}
	}
}

// A client that leaves while its job waits takes it along, and so does one that leaves in the
// middle of a search.
func TestEventsListenerLeaves(t *testing.T) {
	for _, waiting := range []bool{true, false} {
		l := brief()
		l.beat, l.pace = 5*time.Millisecond, 0
		s := newService(l, quiet())
		var second atomic.Bool
		ended := make(chan error, 2)
		s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
			if o.Work != s.first {
				second.Store(true)
			}
			plan, err := optimize.Solve(ctx, p, o)
			if o.Work != s.first {
				<-ctx.Done() // however quick the machine is
				ended <- context.Cause(ctx)
			}
			return plan, err
		}
		if waiting {
			fill(s.long.turns)
		}
		server := serve(t, s)
		r := listen(t, server.URL, largeJob(t))
		lines := bufio.NewReader(r.Body)
		for {
			e, err := nextEvent(lines)
			if err != nil {
				t.Fatal(err)
			}
			if waiting && e.comment != "" || second.Load() {
				break
			}
		}
		r.Body.Close()
		if !waiting {
			if err := <-ended; err != context.Canceled {
				t.Errorf("the search ended by %v", err)
			}
		}
		server.Close() // waits for the handler
		if waiting {
			for range cap(s.long.turns) {
				<-s.long.turns
			}
		}
		if !idle(s) {
			t.Error("a turn or a place was not returned")
		}
		if s.counts.gone != 1 {
			t.Errorf("%d clients are counted as gone", s.counts.gone)
		}
	}
}

// A server that ends in the middle of a search ends the events with the best sheet that it has.
func TestEventsWhenItEnds(t *testing.T) {
	l := brief()
	l.pace = 0
	s := newService(l, quiet())
	server := serve(t, s)
	r := listen(t, server.URL, largeJob(t))
	lines := bufio.NewReader(r.Body)
	ended := make(chan error, 1)
	for told := false; ; {
		e, err := nextEvent(lines)
		if err != nil {
			t.Fatal(err)
		}
		var p optimize.Progress
		if !told && e.name == "progress" && json.Unmarshal([]byte(e.data), &p) == nil && p.Work > s.first {
			told = true
			go func() { ended <- s.drain(server.Config, 0) }()
		}
		if e.name == "sheet" {
			if plan := planOf(t, r, e.data); !told || plan.Stop != optimize.StopCanceled && plan.Stop != optimize.StopWork && !plan.Proven {
				t.Errorf("told %t, stop %v", told, plan.Stop)
			}
			break
		}
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}
