package run

import (
	"context"
	"fmt"
	"runtime"
	"time"

	"example.com/longpoint/internal/bench/instance"
)

// Record is one line of a run: an instance, the solver's claim, its cost in time and steps, and
// any fault.
type Record struct {
	Class, Name   string
	Pieces, Sizes int64 // total demand, different lengths
	Longest       int64 // the longest stick
	Lower, Upper  int64 // published
	Claim
	CPU, Wall time.Duration
	Heap      uint64 // greatest heap seen, in bytes
	Wrong     string // empty if nothing is wrong
}

// Limits ends the solving of one instance. Zero means no limit.
type Limits struct {
	Work int64
	CPU  time.Duration // of the whole process; wall time if the system has no clock for it
	Wall time.Duration
}

// Instance solves one instance.
func Instance(ctx context.Context, in *instance.Instance, solve Solver, l Limits) Record {
	rec := Record{
		Class: in.Class, Name: in.Name, Pieces: in.Count(), Sizes: int64(len(in.Pieces)),
		Longest: in.Longest(), Lower: in.Lower, Upper: in.Upper,
	}
	runtime.GC() // the previous instance's garbage is not this one's
	wall, cpu := time.Now(), cpuTime()
	if l.Wall > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, l.Wall)
		defer cancel()
	}
	ctx, w := watch(ctx, l.CPU)
	outcome := solve(ctx, in, l.Work)
	rec.CPU, rec.Wall = cpuTime()-cpu, time.Since(wall)
	rec.Heap = w.stop()
	claim, err := outcome()
	rec.Claim = claim
	if rec.Wrong = judge(in, claim); err != nil {
		rec.Wrong = err.Error()
	}
	return rec
}

// judge compares a claim with the published bounds and returns any fault.
func judge(in *instance.Instance, c Claim) string {
	switch {
	case c.Infeasible && in.Upper != instance.Unknown:
		return fmt.Sprintf("said to have no plan; one of cost %d is published", in.Upper)
	case c.Plan && c.Cost < in.Lower:
		return fmt.Sprintf("cost %d is below the published bound %d", c.Cost, in.Lower)
	case c.Proven && c.Plan && c.Cost > in.Upper:
		return fmt.Sprintf("cost %d is said to be the least; a plan of cost %d is published", c.Cost, in.Upper)
	case c.Bound > in.Upper:
		return fmt.Sprintf("bound %d is above the published plan's cost %d", c.Bound, in.Upper)
	}
	return ""
}
