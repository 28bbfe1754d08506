package main

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/longpoint/optimize"
)

func problemOf(t *testing.T, job string) (p optimize.Problem) {
	t.Helper()
	if err := json.Unmarshal([]byte(job), &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// From the moment that a server closes it begins no job: neither a new one, nor a waiting one, nor one
// half received. Running jobs continue until they are stopped, and then answer with the plan that they
// have.
func TestClosing(t *testing.T) {
	s := newService(brief(), quiet())
	large := largeJob(t)
	alone, err := optimize.Solve(t.Context(), problemOf(t, large), &optimize.Options{Work: s.first})
	if err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	firsts := 0
	entered := make(chan struct{}, 10)
	s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		if o.Work != s.first {
			entered <- struct{}{}
			return optimize.Solve(ctx, p, o)
		}
		mu.Lock()
		firsts++
		mu.Unlock()
		return optimize.Solve(ctx, p, o)
	}
	server := serve(t, s)
	type outcome struct {
		r    *http.Response
		text string
	}
	start := func() <-chan outcome {
		c := make(chan outcome, 1)
		go func() {
			r, text := post(t, server.URL, large)
			c <- outcome{r, text}
		}()
		return c
	}
	var running []<-chan outcome
	for range cap(s.long.turns) {
		running = append(running, start())
		<-entered
	}
	half := dial(t, server)
	say(t, half, counted(len(goodJob))+goodJob[:100])
	// The first turns are over, so whoever holds the lane now makes the next job wait.
	fill(s.short.turns)
	waiting := start()

	s.close()
	refused := func(name string, r *http.Response, text string) {
		t.Helper()
		if r.StatusCode != http.StatusServiceUnavailable || answerOf(t, text).Kind != "closing" || r.Header.Get("Retry-After") == "" || !r.Close {
			t.Errorf("%s: %s, closed %t: %s", name, r.Status, r.Close, text)
		}
	}
	w := <-waiting
	refused("a job that waits", w.r, w.text)
	r, text := hear(t, half)
	refused("half a job", r, text)
	r, text = post(t, server.URL, goodJob)
	refused("a new job", r, text)
	if mu.Lock(); firsts != cap(s.long.turns) {
		t.Errorf("%d jobs were started, want %d", firsts, cap(s.long.turns))
	}
	mu.Unlock()
	for _, c := range running {
		select {
		case o := <-c:
			t.Fatalf("a job ended before it was cut: %s: %s", o.r.Status, o.text)
		default:
		}
	}

	s.cut()
	for _, c := range running {
		o := <-c
		if plan := planOf(t, o.r, o.text); plan.Stop != optimize.StopCanceled && plan.Stop != optimize.StopWork || plan.Cost > alone.Cost {
			t.Errorf("stop %v at %d, but the first turn has %d", plan.Stop, plan.Cost, alone.Cost)
		}
	}
}

// A job that waits for its second turn when the server closes has the plan of its first.
func TestClosingWithAPlan(t *testing.T) {
	s := newService(brief(), quiet())
	fill(s.long.turns)
	s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		s.close() // in the first turn
		return optimize.Solve(ctx, p, o)
	}
	r, text := post(t, serve(t, s).URL, largeJob(t))
	if plan := planOf(t, r, text); plan.Stop != optimize.StopWork {
		t.Errorf("stop %v", plan.Stop)
	}
}

// A job that is ended before it has any plan gets a Retry-After header.
func TestCutWithoutAPlan(t *testing.T) {
	s := newService(brief(), quiet())
	s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		s.cut()
		<-ctx.Done()
		return optimize.Solve(ctx, p, o)
	}
	r, text := post(t, serve(t, s).URL, goodJob)
	if r.StatusCode != http.StatusServiceUnavailable || answerOf(t, text).Kind != "closing" {
		t.Errorf("%s: %s", r.Status, text)
	}
}

// Within the grace period nothing is cut; after it everything is, and answers.
func TestDrain(t *testing.T) {
	large := largeJob(t)
	for _, grace := range []time.Duration{patience, 0} {
		s := newService(brief(), quiet())
		entered := make(chan struct{})
		s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
			if o.Work == s.first {
				return optimize.Solve(ctx, p, o)
			}
			close(entered)
			<-s.closing.Done()
			if grace == 0 {
				return optimize.Solve(ctx, p, o)
			}
			if ctx.Err() != nil {
				t.Errorf("the job was ended within the grace period by %v", context.Cause(ctx))
			}
			return optimize.Solve(ctx, p, &optimize.Options{Work: s.first})
		}
		server := serve(t, s)
		answer := make(chan func(), 1)
		go func() {
			r, text := post(t, server.URL, large)
			answer <- func() {
				if plan := planOf(t, r, text); plan.Proven {
					t.Error("the plan is proven")
				}
			}
		}()
		<-entered
		if err := s.drain(server.Config, grace); err != nil {
			t.Error(err)
		}
		(<-answer)()
		if !idle(s) {
			t.Error("a turn was not returned")
		}
		if _, err := client.Post(server.URL+"/plan", "application/json", strings.NewReader(goodJob)); err == nil {
			t.Error("the server still answers")
		}
	}
}
