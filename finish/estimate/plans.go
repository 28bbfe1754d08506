package estimate

import (
	"context"
	"errors"
	"reflect"
	"runtime"
	"strconv"
	"sync"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// Options limit the searches of [New]. A nil *Options means the zero value.
type Options struct {
	// Work limits the search for each plan, as optimize.Options does: the same job with the
	// same Work gives the same estimate on every machine. Where only the context's
	// deadline sets a limit, all plans share the time.
	Work int64

	// Parallel is how many plans are searched for at the same time; zero means one for each
	// processor, and 1 keeps to the caller's goroutine. It changes no result, but for a deadline.
	Parallel int

	// ScheduleWork limits the search for an earlier end, as schedule.Options does: zero is its
	// default, some tenths of a second, and 1 takes the first good schedule.
	ScheduleWork int64

	// Start are plans of an earlier estimate, by profile. A problem that is the same as one of
	// them is not solved again; any other search begins from its plan where that makes sense.
	Start []ProfilePlan

	// Progress, if not nil, is told how the search for a profile's sticks goes; false ends
	// that search with the best plan so far. It is never called twice at a time, but from
	// several goroutines unless Parallel is 1, and in an order that only then is always the same.
	Progress func(profile string, p optimize.Progress) bool
}

// A ProfilePlan says how the sticks of one profile are bought and cut.
type ProfilePlan struct {
	Profile string           `json:"profile"`
	Problem optimize.Problem `json:"problem"` // with the spare sticks among its rules
	Plan    *optimize.Plan   `json:"plan"`
	Summary optimize.Summary `json:"summary"` // amounts as in Problem: in parts of a cent where Parts says so

	// Parts is how many strips a board gives, where the sticks are strips ripped from boards:
	// each is priced as a whole board in the problem, in bundles of so many, so that no
	// price has to be rounded. Amounts of the plan are then so many times too high. 1 otherwise.
	Parts int64 `json:"parts"`

	Cost int64 `json:"cost"` // of the sticks, splices and yard cuts in cents, as bought

	// Asked is the rule of the material for spares, Spare the number of whole sticks that are bought or taken off the rack beyond those
	// that are cut, because the material's Spare asks for them, and SpareCost what they add to the
	// least cost: the plan is the cheapest with them.
	Asked Spare `json:"asked,omitzero"`
	Spare int   `json:"spare,omitempty"`
	// SpareShort is how many that are asked for cannot be had.
	SpareShort int   `json:"spare_short,omitempty"`
	SpareCost  int64 `json:"spare_cost,omitempty"`
}

// cutting is a problem to be solved, and its answer.
type cutting struct {
	profile string
	spare   Spare
	problem optimize.Problem
	parts   int64

	plan ProfilePlan
	err  error
}

// alike reports whether both ask the same.
func (c *cutting) alike(d *cutting) bool {
	return c.profile == d.profile && c.spare == d.spare && c.parts == d.parts && reflect.DeepEqual(c.problem, d.problem)
}

// solveAll solves all of them, side by side, and returns what could not be solved of
// any, in their order.
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

// queue hands out what is to be solved.
type queue struct {
	ctx     context.Context
	o       *Options
	workers int64
	keep    measure.Length

	mu   sync.Mutex
	left []*cutting

	told sync.Mutex // while Progress is told
}

// next returns what is to be solved next and its share of the time that is left, or nil.
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

// solve finds the cheapest sticks, first without spares: how many are asked for may depend
// on how many are cut.
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

// maxTries is how many numbers of spare sticks are tried, one after the other, and how often a share
// of the sticks that are cut is counted again.
const maxTries = 16

// withSpares looks for the cheapest plan with the spare sticks that are asked for. A plan with spares
// may cut more sticks than one without, of which a share is then more.
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

// spares looks for the cheapest plan with n spare sticks, or with as many as can be had: a
// scarce stick is no reason to plan nothing.
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
		if k > maxTries { // a hundred spares that cannot be had are not tried one by one
			k = maxTries + 1
		}
	}
	return nil
}

// inCents returns a cost in parts of a cent as cents. Bundles make it come out even.
func inCents(cost, parts int64) (int64, bool) { return cost / parts, cost%parts == 0 }

func planOf(p *ProfilePlan) *optimize.Plan {
	if p == nil {
		return nil
	}
	return p.Plan
}

// sameIn returns an earlier plan for the same problem, or nil. One with spares was solved with them
// among its rules.
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

// search solves one problem. A plan to begin from that does not fit the problem, since
// sticks or pieces changed, is left aside: it was made for another job.
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

// A PlanError reports a profile for which there is no plan: a piece that no stick is long
// enough for, or a search that was stopped before it had one.
type PlanError struct {
	Profile string
	Err     error // such as an *optimize.InfeasibleError or an *optimize.LimitError
}

func (e *PlanError) Error() string {
	return "profile " + strconv.Quote(e.Profile) + ": " + e.Err.Error()
}

func (e *PlanError) Unwrap() error { return e.Err }

// of returns how many whole sticks to have beyond those that a plan cuts.
func (s Spare) of(plan *optimize.Plan) int {
	n := s.Sticks
	if s.Share > 0 {
		share, _, err := measure.Length(plan.Sticks()).MulDiv(int64(s.Share), int64(whole), measure.RoundUp) // a carrier: exact to 128 bits
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
