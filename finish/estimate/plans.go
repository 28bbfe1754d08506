package estimate

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"runtime"
	"sync"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// Options limit the searches of [New]. A nil *Options means the zero value.
type Options struct {
	// Work limits the search for each plan, as in optimize.Options: the same job with the same
	// Work gives the same estimate on every machine. If only the context's deadline sets a
	// limit, all plans share the time.
	Work int64

	// Parallel is the number of concurrent searches; zero means one for each processor, and 1
	// uses only the caller's goroutine. It affects no result, unless there is a deadline.
	Parallel int

	// ScheduleWork limits the search for an earlier end, as in schedule.Options: zero is its
	// default, a few tenths of a second, and 1 takes the first good schedule.
	ScheduleWork int64

	// Start are plans of an earlier estimate, by profile. A problem equal to that of one of
	// them is not solved again; any other search begins from the plan of its profile if
	// possible.
	Start []ProfilePlan

	// Progress, if not nil, receives the progress of the search for a profile's sticks; if it
	// returns false, that search ends with the best plan so far. It is never called
	// concurrently. Unless Parallel is 1, calls come from several goroutines and their order
	// may vary.
	Progress func(profile string, p optimize.Progress) bool
}

// A ProfilePlan is the purchase and the cutting plan of the sticks of one profile.
type ProfilePlan struct {
	Profile string           `json:"profile"`
	Problem optimize.Problem `json:"problem"` // with the spare sticks in its rules
	Plan    *optimize.Plan   `json:"plan"`
	Summary optimize.Summary `json:"summary"` // amounts as in Problem: in parts of a cent according to Parts

	// Parts is the number of strips per board if the sticks are strips ripped from boards, else
	// 1. Each strip is then priced as a whole board in the problem, in bundles of a board, so
	// that no price is rounded; amounts of the plan are Parts times too high.
	Parts int64 `json:"parts"`

	Cost int64 `json:"cost"` // of the sticks, splices and yard cuts in cents, as bought

	// Asked is the rule of the material for spares. Spare is the number of whole sticks bought
	// or taken off the rack for it, in addition to those that are cut, and SpareCost their
	// addition to the least cost: the plan is the cheapest with them.
	Asked Spare `json:"asked,omitzero"`
	Spare int   `json:"spare,omitempty"`
	// SpareShort is the number of requested spares that are not available.
	SpareShort int   `json:"spare_short,omitempty"`
	SpareCost  int64 `json:"spare_cost,omitempty"`
}

// cutting is a problem to solve, and its solution.
type cutting struct {
	profile string
	spare   Spare
	problem optimize.Problem
	parts   int64

	plan ProfilePlan
	err  error
}

// alike reports whether both problems are equal.
func (c *cutting) alike(d *cutting) bool {
	return c.profile == d.profile && c.spare == d.spare && c.parts == d.parts && reflect.DeepEqual(c.problem, d.problem)
}

// solveAll solves all problems, concurrently, and returns their errors in order.
func solveAll(ctx context.Context, all []*cutting, o *Options, keep measure.Length) error {
	workers := o.Parallel
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = max(1, min(workers, len(all)))
	q := &queue{ctx: ctx, o: o, left: all, workers: int64(workers), keep: keep}
	if workers == 1 {
		q.run()
	} else {
		var wg sync.WaitGroup
		for range workers {
			wg.Go(q.run)
		}
		wg.Wait()
	}
	var bad []error
	for _, c := range all {
		if c.err != nil {
			bad = append(bad, c.err)
		}
	}
	return errors.Join(bad...)
}

// queue hands out the problems to solve.
type queue struct {
	ctx     context.Context
	o       *Options
	workers int64
	keep    measure.Length

	mu   sync.Mutex
	left []*cutting

	told sync.Mutex // held during calls of Progress
}

// next returns the next problem and its share of the remaining time, or nil.
func (q *queue) next() (*cutting, context.Context, context.CancelFunc) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if len(q.left) == 0 {
		return nil, nil, nil
	}
	c := q.left[0]
	ctx, done := q.ctx, context.CancelFunc(func() {})
	if n := int64(len(q.left)); n > q.workers && q.o.Work == 0 {
		ctx, done = meter.Share(q.ctx, q.workers, n)
	}
	q.left = q.left[1:]
	return c, ctx, done
}

func (q *queue) run() {
	for {
		c, ctx, done := q.next()
		if c == nil {
			return
		}
		c.err = q.solve(ctx, c)
		done()
	}
}

// solve finds the cheapest sticks, first without spares: the number of spares may depend on the
// number of sticks cut.
func (q *queue) solve(ctx context.Context, c *cutting) error {
	if same := c.sameIn(q.o.Start); same != nil {
		c.plan = *same
		return nil
	}
	start := q.startOf(c)
	base, err := q.search(ctx, c, c.problem, planOf(start))
	if err != nil {
		return err
	}
	c.plan = ProfilePlan{Profile: c.profile, Problem: c.problem, Plan: base, Parts: c.parts, Asked: c.spare}
	without, ok := inCents(base.Cost, c.parts)
	if ok {
		if err := q.withSpares(ctx, c, base); err != nil {
			return err
		}
	}
	c.plan.Cost, ok = inCents(c.plan.Plan.Cost, c.parts)
	if !ok {
		return tooLarge("the cost of " + c.profile)
	}
	c.plan.SpareCost = max(c.plan.Cost-without, 0)
	sum, err := c.plan.Plan.Summary(c.plan.Problem, q.keep)
	if err != nil {
		return err
	}
	c.plan.Summary = *sum
	return nil
}

// maxTries limits the numbers of spare sticks that are tried, one after the other, and how
// often a share of the sticks that are cut is computed again.
const maxTries = 16

// withSpares finds the cheapest plan with the requested spare sticks. A plan with spares may
// cut more sticks than one without, so a share of them may grow.
func (q *queue) withSpares(ctx context.Context, c *cutting, base *optimize.Plan) error {
	asked := c.spare.of(base)
	for range maxTries {
		if asked == 0 {
			return nil
		}
		if err := q.spares(ctx, c, base, asked); err != nil {
			return err
		}
		more := c.spare.of(c.plan.Plan)
		c.plan.SpareShort = max(asked, more) - c.plan.Spare
		if more <= asked || c.plan.Spare < asked {
			return nil
		}
		asked = more
	}
	return nil
}

// spares finds the cheapest plan with n spare sticks, or with as many as are available: a
// scarce stick should not prevent a plan.
func (q *queue) spares(ctx context.Context, c *cutting, base *optimize.Plan, n int) error {
	for k := n; k > 0; k-- {
		p := c.problem
		p.Rules.Spare = k
		plan, err := q.search(ctx, c, p, base)
		switch {
		case err == nil:
			c.plan.Problem, c.plan.Plan, c.plan.Spare = p, plan, k
			return nil
		case !errors.As(err, new(*optimize.InfeasibleError)):
			return err
		}
		if k > maxTries { // do not try a hundred unavailable spares one by one
			k = maxTries + 1
		}
	}
	return nil
}

// inCents converts a cost in parts of a cent to cents. Bundles make it a whole number.
func inCents(cost, parts int64) (int64, bool) { return cost / parts, cost%parts == 0 }

func planOf(p *ProfilePlan) *optimize.Plan {
	if p == nil {
		return nil
	}
	return p.Plan
}

// sameIn returns an earlier plan for the same problem, or nil. One with spares was solved with
// them in its rules.
func (c *cutting) sameIn(start []ProfilePlan) *ProfilePlan {
	for i := range start {
		s := &start[i]
		if s.Profile != c.profile || s.Plan == nil || s.Parts != c.parts || s.Asked != c.spare {
			continue
		}
		p := s.Problem
		p.Rules.Spare = 0
		if reflect.DeepEqual(p, c.problem) {
			return s
		}
	}
	return nil
}

// startOf returns the earlier plan of the profile, or nil.
func (q *queue) startOf(c *cutting) *ProfilePlan {
	for i := range q.o.Start {
		if s := &q.o.Start[i]; s.Profile == c.profile && s.Plan != nil {
			return s
		}
	}
	return nil
}

// search solves one problem. If a start plan does not fit the problem, since sticks or pieces
// changed, it is ignored: it was made for another job.
func (q *queue) search(ctx context.Context, c *cutting, p optimize.Problem, start *optimize.Plan) (*optimize.Plan, error) {
	o := &optimize.Options{Work: q.o.Work, Start: start}
	if q.o.Progress != nil {
		o.Progress = func(p optimize.Progress) bool {
			q.told.Lock()
			defer q.told.Unlock()
			return q.o.Progress(c.profile, p)
		}
	}
	plan, err := optimize.Solve(ctx, p, o)
	if start != nil && startAtFault(err) {
		o.Start = nil
		plan, err = optimize.Solve(ctx, p, o)
	}
	if err != nil {
		return nil, &PlanError{Profile: c.profile, Err: err}
	}
	return plan, nil
}

func startAtFault(err error) bool {
	for bad := range measure.FieldErrors(err) {
		if len(bad.Field) >= len("start") && bad.Field[:len("start")] == "start" {
			return true
		}
	}
	return false
}

// A PlanError reports a profile without a plan: a piece is longer than every stick, or the
// search was stopped before it found one.
type PlanError struct {
	Profile string // its name
	Err     error  // such as an *optimize.InfeasibleError or an *optimize.LimitError
}

// Error names the profile and the reason.
func (e *PlanError) Error() string { return fmt.Sprintf("profile %q: %v", e.Profile, e.Err) }

// Unwrap returns Err.
func (e *PlanError) Unwrap() error { return e.Err }

// of returns the number of whole sticks to have in addition to those that a plan cuts.
func (s Spare) of(plan *optimize.Plan) int {
	n := s.Sticks
	if s.Share > 0 {
		share, _, err := measure.Length(plan.Sticks()).MulDiv(int64(s.Share), int64(whole), measure.RoundUp) // Length only carries the number: exact to 128 bits
		if err != nil || share > maxSpare {
			share = maxSpare
		}
		n = max(n, int(share))
	}
	if s.Longest {
		n = max(n, 1)
	}
	return n
}
