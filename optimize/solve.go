package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/plain"
	"example.com/longpoint/measure"
)

// Solve finds the cheapest way to cut the pieces from the sticks and proves
// how good it is. A nil context never ends; nil options are the zero value.
//
// The plan is nil exactly when the error is not: a [*measure.FieldError], an
// [InfeasibleError], or a [LimitError] where a limit was reached before any plan
// was found. A context that is done on entry returns its cause, bare: there was no
// search that a LimitError could tell of. A context that ends later, or the work limit,
// ends the search with the best plan so far and a true bound. A deadline counts by the
// clock, too, and so holds where no timer fires while the search has the only thread, as
// in WebAssembly; of cancellations only those by another goroutine are heard there.
func Solve(ctx context.Context, p Problem, o *Options) (*Plan, error) {
	return solve(ctx, p, o, plain.Solve)
}

// engineFunc is the signature of engine.Solve.
type engineFunc func(context.Context, *model.Problem, plain.Options) plain.Result

func solve(ctx context.Context, p Problem, o *Options, run engineFunc) (*Plan, error) {
	return solveIf(ctx, p, o, run, (*Problem).Validate)
}

// solveIf solves a problem that is found to be sound.
func solveIf(ctx context.Context, p Problem, o *Options, run engineFunc, sound func(*Problem) error) (*Plan, error) {
	if ctx == nil {
		ctx = context.Background()
	}
	if meter.Ended(ctx) != nil {
		return nil, cause(ctx)
	}
	if err := sound(&p); err != nil {
		return nil, err
	}
	if !p.plain() {
		return solveFree(ctx, &p, o)
	}
	in, err := compile(&p)
	if err != nil {
		return nil, err
	}
	in.mt = meter.New(ctx, 0).First(compileSteps)
	var given []model.PatternCount
	if o != nil {
		if given, err = in.start(o.Start); err != nil {
			return nil, err
		}
	}
	r := run(ctx, &in.model, plain.Options{Work: o.work(ctx), Start: given, Report: in.report(o)})
	if r.Infeasible {
		return nil, infeasible(ReasonSupplyDoesNotFit)
	}
	stop := in.stop(ctx, &r)
	if r.Columns == nil {
		return nil, noPlan(ctx, stop, r.Work)
	}
	plan, pr, err := in.plan(&r)
	if err != nil {
		return nil, undecoded(err)
	}
	plan.Stop = stop
	if plan.Proven {
		plan.Stop = StopProven
	} else if stop == StopProven {
		return nil, &InternalError{errors.New("engine claims a proof that it does not have")}
	}
	if err := in.settle(ctx, plan, pr); err != nil {
		return nil, &InternalError{err}
	}
	if plan.Proof, err = pr.seal(); err != nil {
		return nil, &InternalError{err}
	}
	if err := verify(&p, plan, nil); err != nil {
		return nil, &InternalError{err}
	}
	return plan, nil
}

// stop translates the engine's reason.
func (in *instance) stop(ctx context.Context, r *plain.Result) Stop {
	switch r.Stop {
	case plain.Proven:
		return StopProven
	case plain.WorkLimit:
		return StopWork
	case plain.Stuck:
		return StopExhausted
	case plain.Interrupted:
		return interrupted(ctx)
	case plain.Ended:
		return StopCaller
	}
	return StopUnknown
}

// interrupted says how the context ended a search.
func interrupted(ctx context.Context) Stop {
	if errors.Is(meter.Ended(ctx), context.DeadlineExceeded) {
		return StopDeadline
	}
	return StopCanceled
}

// cause returns why a context ended, also where the clock says so before the context
// does.
func cause(ctx context.Context) error {
	if err := context.Cause(ctx); err != nil {
		return err
	}
	return meter.Ended(ctx)
}

// noPlan is the error of a search that was stopped before it had any plan.
func noPlan(ctx context.Context, stop Stop, work int64) error {
	e := &LimitError{Stop: stop, Work: work}
	if stop == StopDeadline || stop == StopCanceled {
		e.Cause = cause(ctx)
	}
	return e
}

// plan decodes what the engine found; the proof is yet to be settled.
func (in *instance) plan(r *plain.Result) (*Plan, *unsealed, error) {
	patterns, err := in.decode(r.Columns)
	if err != nil {
		return nil, nil, err
	}
	plan := &Plan{Patterns: patterns, ByLength: in.byLength, Work: r.Work}
	if err := in.buy(plan); err != nil {
		return nil, nil, err
	}
	pr, err := in.prove(plan, r)
	if err != nil {
		return nil, nil, err
	}
	plan.Proven = plan.Cost == plan.Bound
	return plan, pr, nil
}

// buy writes down what a plan buys, and what that costs.
func (in *instance) buy(plan *Plan) error {
	count := make([]int64, len(in.problem.Sticks))
	for k := range plan.Patterns {
		count[plan.Patterns[k].Stick] += int64(plan.Patterns[k].Count)
	}
	for s, n := range count {
		if n > math.MaxInt {
			return tooManySticks(s)
		}
		if n > 0 {
			cost := n * in.cost(s) // divideCosts made sure that the sum stays in range
			plan.Buy = append(plan.Buy, Purchase{Stick: s, Count: int(n), Cost: cost})
			plan.Cost += cost
		}
	}
	return nil
}

// tooManySticks is for a plan that buys more sticks of a kind than an int counts, which
// happens only where that has 32 bits.
func tooManySticks(stick int) error {
	return fieldError(fmt.Sprintf("sticks[%d].limit", stick), "no limit", fmt.Sprintf("pieces so few that at most %d sticks of a kind are bought", math.MaxInt))
}

// undecoded is the error for a plan that cannot be written down: the problem's fault if a
// field says so, else one of this package.
func undecoded(err error) error {
	if bad := (*measure.FieldError)(nil); errors.As(err, &bad) {
		return bad
	}
	return &InternalError{err}
}

// cost returns what one stick counts in the objective.
func (in *instance) cost(stick int) int64 {
	s := &in.problem.Sticks[stick]
	if in.byLength {
		return int64(s.Length)
	}
	return s.Price
}
