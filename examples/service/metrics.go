package main

import (
	"cmp"
	"maps"
	"runtime/metrics"
	"slices"
	"strconv"
	"sync"
	"time"
)

// counts are the counters of a server since its start. They add up: requests begun are those
// answered and those in flight, and each job has one outcome.
type counts struct {
	mu       sync.Mutex
	begun    int64
	answered map[answered]int64
	jobs     map[string]int64 // by outcome: proven, unproven, or the kind of a failure
	gone     int64
	received int64
	sent     int64
	work     int64
	turns    [2]int64
	seconds  histogram // of jobs
}

// answered is the key of a counter of responses.
type answered struct {
	route  string
	status int
}

// histogram counts durations by the least bound that is not exceeded.
type histogram struct {
	within [len(bounds) + 1]int64 // the last is beyond all bounds
	sum    time.Duration
}

// bounds differ by a factor of about three, around the times of a room and a house.
var bounds = [...]time.Duration{
	3 * time.Millisecond, 10 * time.Millisecond, 30 * time.Millisecond, 100 * time.Millisecond,
	300 * time.Millisecond, time.Second, 3 * time.Second, 10 * time.Second, 30 * time.Second,
}

func (h *histogram) add(d time.Duration) {
	i := 0
	for i < len(bounds) && d > bounds[i] {
		i++
	}
	h.within[i]++
	h.sum += d
}

func newCounts() *counts {
	return &counts{answered: map[answered]int64{}, jobs: map[string]int64{}}
}

func (c *counts) begin() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.begun++
}

// end counts a finished exchange.
func (c *counts) end(e *exchange) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.answered[answered{e.route, e.status}]++
	c.received += int64(e.got)
	c.sent += e.sent
	c.work += e.work
	if e.gone() {
		c.gone++
	}
	if e.outcome != "" {
		c.jobs[e.outcome]++
		c.seconds.add(time.Since(e.began))
	}
	for i := range min(e.turns, len(c.turns)) {
		c.turns[i]++
	}
}

// expose writes all metrics. The names are stable.
func (s *service) expose() []byte {
	var x exposition
	c := s.counts
	c.mu.Lock()
	x.family("longpoint_requests_begun_total", "counter", "Requests of which the head has come in.")
	x.sample("", c.begun)
	x.family("longpoint_requests_total", "counter", "Requests that are over, by route and status of the answer; 0 is none.")
	var over int64
	for _, k := range slices.SortedFunc(maps.Keys(c.answered), func(a, b answered) int {
		return cmp.Or(cmp.Compare(a.route, b.route), cmp.Compare(a.status, b.status))
	}) {
		over += c.answered[k]
		x.sample("", c.answered[k], "route", k.route, "code", strconv.Itoa(k.status))
	}
	x.family("longpoint_requests_in_flight", "gauge", "Requests that are not over.")
	x.sample("", c.begun-over)
	x.family("longpoint_requests_gone_total", "counter", "Requests whose client left before it had all of the answer.")
	x.sample("", c.gone)
	x.family("longpoint_jobs_total", "counter", "Jobs that are over, by outcome: proven, unproven, or the kind of a failure.")
	for _, k := range slices.Sorted(maps.Keys(c.jobs)) {
		x.sample("", c.jobs[k], "outcome", k)
	}
	x.family("longpoint_job_seconds", "histogram", "Time from the head of a job to the end of its answer.")
	x.histogram(&c.seconds)
	x.family("longpoint_received_bytes_total", "counter", "Bytes of jobs.")
	x.sample("", c.received)
	x.family("longpoint_sent_bytes_total", "counter", "Bytes of answers, as they were sent.")
	x.sample("", c.sent)
	x.family("longpoint_work_steps_total", "counter", "Steps of all searches that are over.")
	x.sample("", c.work)
	x.family("longpoint_turns_total", "counter", "Turns of jobs that are over: every job has a first one, a large one a second.")
	x.sample("", c.turns[0], "turn", "first")
	x.sample("", c.turns[1], "turn", "second")
	c.mu.Unlock()

	x.family("longpoint_turns_running", "gauge", "Turns that are taken.")
	x.sample("", int64(len(s.short.turns)), "turn", "first")
	x.sample("", int64(len(s.long.turns)), "turn", "second")
	x.family("longpoint_turns_waiting", "gauge", "Jobs that wait for a turn.")
	x.sample("", int64(s.short.waiting()), "turn", "first")
	x.sample("", int64(s.long.waiting()), "turn", "second")
	x.family("longpoint_ready", "gauge", "Whether the server wants more jobs.")
	x.sample("", map[bool]int64{true: 1}[s.ready()])
	s.machine(&x)
	return x.text
}

// machine writes the resources that the program uses.
func (s *service) machine(x *exposition) {
	if s.connected != nil {
		x.family("longpoint_connections", "gauge", "Connections that are open.")
		x.sample("", int64(s.connected()))
	}
	read := []metrics.Sample{{Name: "/sched/goroutines:goroutines"}, {Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(read)
	for i, f := range [][2]string{
		{"longpoint_goroutines", "Goroutines that there are."},
		{"longpoint_heap_bytes", "Memory that objects take up."},
	} {
		if read[i].Value.Kind() == metrics.KindUint64 {
			x.family(f[0], "gauge", f[1])
			x.sample("", int64(read[i].Value.Uint64()))
		}
	}
}
