package optimize

import (
	"context"
	"errors"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/measure"
)

// Solve finds the cheapest way to cut the pieces from the sticks and proves a lower bound on
// its cost. A nil context never ends; nil options mean the zero value.
//
// The plan is nil if and only if the error is not. The error is a [*measure.FieldError], an
// [InfeasibleError], or a [LimitError] if a limit was reached before any plan was found. If the
// context is done on entry, Solve returns its cause without a LimitError, since there was no
// search; if only the clock shows that its deadline has passed, that is context.DeadlineExceeded.
// If the context ends later, or the work limit is reached, the search ends with the best
// plan so far and a valid bound. A deadline is also compared with the clock, so it works even if no
// timer can fire while the search occupies the only thread, as in WebAssembly; there, any other
// cancellation is noticed only if another goroutine makes it.
func Solve(ctx context.Context, p Problem, o *Options) (*Plan, error) {
	return solve(ctx, p, o, solver.Solve)
}

// solverFunc is the signature of solver.Solve.
type solverFunc func(context.Context, *rules.Problem, search.Options) search.Result

func solve(ctx context.Context, p Problem, o *Options, run solverFunc) (*Plan, error) {
	return solveIf(ctx, p, o, run, (*Problem).Validate)
}

// solveIf solves a problem that passes a validation.
func solveIf(ctx context.Context, p Problem, o *Options, run solverFunc, sound func(*Problem) error) (*Plan, error) {
	if ctx == nil {
		ctx = context.Background()
	}
	if meter.Ended(ctx) != nil {
		return nil, cause(ctx)
	}
	if err := sound(&p); err != nil {
		return nil, err
	}
	in, err := compile(ctx, &p)
	if err != nil {
		return nil, err
	}
	with, err := in.options(ctx, o)
	if err != nil {
		return nil, err
	}
	r := run(ctx, &in.model, with)
	if err := in.unparted(); err != nil {
		return nil, err
	}
	if r.Infeasible {
		return nil, infeasible(ReasonSupplyDoesNotFit)
	}
	stop := stopped(ctx, r.Stop)
	if r.Patterns == nil {
		return nil, noPlan(ctx, stop, r.Work)
	}
	plan, err := in.decode(&r)
	if err := in.unparted(); err != nil {
		return nil, err
	}
	if err != nil {
		return nil, undecoded(err)
	}
	if err := in.show(ctx, plan, &r); err != nil {
		return nil, &InternalError{err}
	}
	if plan.Stop = stop; plan.Proven {
		plan.Stop = StopProven
	} else if stop == StopProven {
		return nil, &InternalError{errors.New("solver claims a proof that it does not have")}
	}
	in.levels(plan, r.Goals)
	if err := in.showGoals(ctx, plan, r.Goals); err != nil {
		return nil, &InternalError{err}
	}
	// show has already verified the leaves with Check's own code, so verify omits them.
	if err := verify(&p, plan, nil); err != nil {
		return nil, &InternalError{err}
	}
	return plan, nil
}

// unparted reports that pieces can lie before and after the yard's cut in too many ways, so that the
// solver has left some patterns out.
func (in *instance) unparted() error {
	if !in.model.Parting.TooMany {
		return nil
	}
	return fieldError("rules.max_transport", in.problem.Rules.MaxTransport.About(),
		"as long as the sticks, or lengths in larger steps, or fewer pieces on a stick: these can lie before and after the yard's cut in too many ways")
}

// options returns the solver's goals, limits and start.
func (in *instance) options(ctx context.Context, o *Options) (search.Options, error) {
	with := search.Options{Work: o.work(ctx), Goals: in.goals, Brief: len(in.problem.Rules.Goals) == 0, Report: in.report(o)}
	if slices.Contains(in.goals, search.FewestPatterns) {
		with.Patterns = in.problem.fewestPatterns()
	}
	if o == nil {
		return with, nil
	}
	given, err := in.start(o.Start)
	with.Start = given
	return with, err
}

// show sets the plan's bound and its proof.
func (in *instance) show(ctx context.Context, plan *Plan, r *search.Result) error {
	var pr *unsealed
	if in.ruled {
		pr = in.unsealed(ctx, plan, r)
	} else {
		var err error
		if pr, err = in.prove(plan, r); err != nil {
			return err
		}
		plan.Proven = plan.Cost == plan.Bound
		if err := in.settle(ctx, plan, pr); err != nil {
			return err
		}
	}
	var err error
	plan.Proof, err = pr.seal()
	return err
}

// stopped translates the solver's reason.
func stopped(ctx context.Context, s search.Stop) Stop {
	switch s {
	case search.Proven:
		return StopProven
	case search.WorkLimit:
		return StopWork
	case search.Stuck:
		return StopExhausted
	case search.Interrupted:
		return interrupted(ctx)
	case search.Ended:
		return StopCaller
	}
	return StopUnknown
}

// interrupted returns how the context ended a search.
func interrupted(ctx context.Context) Stop {
	if errors.Is(meter.Ended(ctx), context.DeadlineExceeded) {
		return StopDeadline
	}
	return StopCanceled
}

// cause returns why a context ended, even if only the clock shows it so far.
func cause(ctx context.Context) error {
	if err := context.Cause(ctx); err != nil {
		return err
	}
	return meter.Ended(ctx)
}

// noPlan returns the error of a search that was stopped before it had any plan.
func noPlan(ctx context.Context, stop Stop, work int64) error {
	e := &LimitError{Stop: stop, Work: work}
	if stop == StopDeadline || stop == StopCanceled {
		e.Cause = cause(ctx)
	}
	return e
}

// undecoded returns the error for a plan that cannot be decoded: a fault of the problem if it
// names a field, else of this package.
func undecoded(err error) error {
	if bad := (*measure.FieldError)(nil); errors.As(err, &bad) {
		return bad
	}
	return &InternalError{err}
}
