package main

import (
	"context"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
)

// brief are limits with which the first turn of a large job ends soon, and its second
// never by itself.
func brief() limits {
	l := usual
	l.first, l.work, l.deadline = 1_000_000, -1, patience
	return l
}

// idle reports whether no turn is taken.
func idle(s *service) bool {
	return len(s.short.places)+len(s.short.turns)+len(s.long.places)+len(s.long.turns) == 0
}

func fill(c chan struct{}) {
	for range cap(c) {
		c <- struct{}{}
	}
}

// planOf reads an answer and checks the plan in it.
func planOf(t *testing.T, r *http.Response, text string) *optimize.Plan {
	t.Helper()
	if r.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s", r.Status, text)
	}
	p, plan, _, err := cutsheet.ReadJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Fatal(err)
	}
	return plan
}

// However many slow jobs came before, a small one is answered while all of them still run or wait, and
// no more solves run at the same time than there are turns.
func TestSmallJobsAreNotStarved(t *testing.T) {
	large := largeJob(t)
	for _, slow := range []int{0, 1, 3, 12} {
		s := newService(brief(), quiet())
		running := map[bool]*atomic.Int64{true: {}, false: {}} // by whether it is a first turn
		top := map[bool]*atomic.Int64{true: {}, false: {}}
		entered, held := make(chan struct{}, slow), make(chan struct{})
		s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
			first := o.Work == s.first
			n := running[first].Add(1)
			defer running[first].Add(-1)
			for t := top[first].Load(); n > t && !top[first].CompareAndSwap(t, n); t = top[first].Load() {
			}
			if !first {
				entered <- struct{}{}
				select {
				case <-held:
				case <-ctx.Done():
				}
			}
			return optimize.Solve(context.Background(), p, &optimize.Options{Work: s.first})
		}
		server := serve(t, s)
		var wg sync.WaitGroup
		var answered atomic.Int64
		for range slow {
			wg.Go(func() {
				r, err := client.Post(server.URL+"/plan", "application/json", strings.NewReader(large))
				answered.Add(1)
				if err != nil {
					t.Error(err)
					return
				}
				defer r.Body.Close()
				if r.StatusCode != http.StatusOK {
					t.Errorf("a slow job: %s", r.Status)
				}
			})
		}
		for range min(slow, cap(s.long.turns)) {
			<-entered
		}
		for range 3 {
			r, text := post(t, server.URL, goodJob)
			if plan := planOf(t, r, text); !plan.Proven {
				t.Errorf("behind %d slow jobs the small one is not proven", slow)
			}
		}
		if n := answered.Load(); n != 0 {
			t.Errorf("%d of %d slow jobs were answered before the small ones", n, slow)
		}
		close(held)
		wg.Wait()
		if a, b := top[true].Load(), top[false].Load(); a > int64(s.limits.short) || b > int64(s.limits.long) || b < int64(min(slow, s.limits.long)) {
			t.Errorf("%d first turns and %d others ran at once, with %d slow jobs", a, b, slow)
		}
		server.Close()
		if !idle(s) {
			t.Error("a turn was not returned")
		}
	}
}

// If the maximum number of jobs waits, the next gets a Retry-After header, unless its first turn
// has found a plan.
func TestFullQueue(t *testing.T) {
	s := newService(brief(), quiet())
	server := serve(t, s)
	large := largeJob(t)
	alone, err := optimize.Solve(t.Context(), problemOf(t, large), &optimize.Options{Work: s.first})
	if err != nil {
		t.Fatal(err)
	}

	fill(s.long.places)
	r, text := post(t, server.URL, large)
	if plan := planOf(t, r, text); plan.Stop != optimize.StopWork || plan.Work != alone.Work || plan.Cost != alone.Cost {
		t.Errorf("stop %v after %d steps at %d, want that of the first turn, %d at %d", plan.Stop, plan.Work, plan.Cost, alone.Work, alone.Cost)
	}
	r, text = post(t, server.URL, goodJob)
	if !planOf(t, r, text).Proven {
		t.Error("a small job needs no second turn and is not proven")
	}

	busy := func(name string) {
		t.Helper()
		r, text := post(t, server.URL, large)
		if r.StatusCode != http.StatusTooManyRequests || r.Header.Get("Retry-After") != "10" || answerOf(t, text).Kind != "busy" {
			t.Errorf("%s: %s, after %q s: %s", name, r.Status, r.Header.Get("Retry-After"), text)
		}
	}
	solve := s.solve
	s.solve = func(context.Context, optimize.Problem, *optimize.Options) (*optimize.Plan, error) {
		return nil, &optimize.LimitError{Stop: optimize.StopWork}
	}
	busy("no plan after the first turn")
	s.solve = solve
	fill(s.short.places)
	busy("no place for the first turn")
	<-s.short.places
	r, text = post(t, server.URL, goodJob)
	if !planOf(t, r, text).Proven {
		t.Error("a place was free and the job is not proven")
	}
}

// A job that gets no second turn before its deadline is answered with the result of the first one;
// one that gets no turn gets an error.
func TestDeadlineInTheQueue(t *testing.T) {
	l := brief()
	l.deadline = 300 * time.Millisecond
	s := newService(l, quiet())
	s.solve = func(_ context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
		return optimize.Solve(context.Background(), p, o) // however slow the machine is
	}
	server := serve(t, s)
	fill(s.long.turns)
	r, text := post(t, server.URL, largeJob(t))
	if plan := planOf(t, r, text); plan.Stop != optimize.StopWork {
		t.Errorf("stop %v", plan.Stop)
	}
	fill(s.short.turns)
	r, text = post(t, server.URL, goodJob)
	if r.StatusCode != http.StatusServiceUnavailable || r.Header.Get("Retry-After") != "1" || answerOf(t, text).Kind != "busy" {
		t.Errorf("%s, after %q s: %s", r.Status, r.Header.Get("Retry-After"), text)
	}
}

// A client that leaves ends its solve, and gives up its place in a queue.
func TestClientLeaves(t *testing.T) {
	for _, waiting := range []bool{false, true} {
		s := newService(brief(), quiet())
		here, ended := make(chan struct{}), make(chan struct{})
		s.solve = func(ctx context.Context, p optimize.Problem, o *optimize.Options) (*optimize.Plan, error) {
			if o.Work == s.first {
				if waiting {
					close(here)
				}
				return optimize.Solve(ctx, p, o)
			}
			close(here)
			plan, err := optimize.Solve(ctx, p, o)
			if context.Cause(ctx) != context.Canceled {
				t.Errorf("the solve ended by %v, with plan %t, error %v", context.Cause(ctx), plan != nil, err)
			}
			close(ended)
			return plan, err
		}
		if waiting {
			fill(s.long.turns)
			close(ended)
		}
		server := serve(t, s)
		ctx, leave := context.WithCancel(t.Context())
		r, err := http.NewRequestWithContext(ctx, "POST", server.URL+"/plan", strings.NewReader(largeJob(t)))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/json")
		gone := make(chan error, 1)
		go func() {
			answer, err := http.DefaultClient.Do(r)
			if err == nil {
				answer.Body.Close()
			}
			gone <- err
		}()
		<-here
		leave()
		if err := <-gone; err == nil {
			t.Error("the client got an answer")
		}
		<-ended
		server.Close() // waits for the handler
		if waiting {
			for range cap(s.long.turns) {
				<-s.long.turns
			}
		}
		if !idle(s) {
			t.Error("a turn or a place was not returned")
		}
	}
}

func TestBetter(t *testing.T) {
	plan := func(cost, work int64) *optimize.Plan { return &optimize.Plan{Cost: cost, Work: work} }
	goals := func(cost, work int64) *optimize.Plan {
		return &optimize.Plan{Cost: cost, Work: work, Goals: make([]optimize.GoalResult, 1)}
	}
	for _, c := range []struct {
		name          string
		first, second *optimize.Plan
		want          int
	}{
		{"no second", plan(5, 1), nil, 1},
		{"no first", nil, plan(5, 1), 2},
		{"cheaper", plan(5, 9), plan(4, 1), 2},
		{"dearer", plan(4, 9), plan(5, 10), 1},
		{"the same, further", plan(4, 9), plan(4, 10), 2},
		{"the same, less far", plan(4, 9), plan(4, 8), 1},
		{"with goals, further", goals(4, 9), goals(5, 10), 2},
		{"with goals, less far", goals(5, 9), goals(4, 8), 1},
	} {
		want := c.first
		if c.want == 2 {
			want = c.second
		}
		if got := better(c.first, c.second); got != want {
			t.Errorf("%s: the other one", c.name)
		}
	}
}
