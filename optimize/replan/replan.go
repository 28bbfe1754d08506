package replan

import (
	"cmp"
	"context"
	"errors"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/begin"
	"example.com/longpoint/optimize/internal/share"
	"example.com/longpoint/stock"
)

// Solve plans what is left of a job after some of it was done and some of it went wrong:
// pieces that were spoiled, sticks that are missing or short. Nil options are the zero value.
//
// The new plan has the least remaining cost, as far as Proven says so: stock on hand is free,
// or worth its refund. Among plans of that cost Solve keeps as much of the old plan as it can.
// It first tries to keep everything that can still be cut. If the rest then costs more, it
// fixes old patterns one by one, those of started sticks first and then those that yield most
// pieces, each on as many sticks as possible, and solves the rest again; a pattern stays if
// the whole costs no more. That is a heuristic: another order might keep more. Goals of
// Rules.Goals after the cost go before keeping; if there are none, the fewest sticks, the
// fewest splices and the longest offcut come after it. If everything is owned, keeping goes
// before using less length.
//
// Keeping takes at most a quarter of the work limit, in addition to the search for the least
// cost; if only a deadline sets a limit, that search has three quarters of the time. Plan.Work
// counts both. The same input gives the same revision.
//
// The search begins from what is left of the old plan; Options.Start is not used.
// Options.Progress is told of the search for the least cost, in terms of the revision's
// problem, and not of keeping. If it returns false, nothing is tried but to keep the old plan
// as a whole.
//
// If nothing has been done, problem and plan come back as they are. If a limit ends the
// search for the least cost before there is any plan, the old plan goes on if it can, with
// the bound of [optimize.Evaluate].
//
// The rules of the problem hold for what is left, as if it were a job of its own:
//
//   - A run of which nothing has been cut may be spliced elsewhere, and the price of its
//     splices is in Cost. The parts of any other run are pieces, and the price of their
//     splices is taken as paid.
//   - Groups that come from one stick may be done in whole sets only; anything else is an
//     error of progress.cut. What is left of a group of one lot comes from the lot of the
//     pieces that are cut and not spoiled: see [optimize.Group.Started]. It is an error if
//     those may be from several lots.
//   - Bundles, minimums and price breaks apply again to what is bought, and as many spare
//     sticks are wanted as before, on hand or not. A charge is not paid again if a stick of
//     the supplier's has been cut or is on hand.
//   - Rules.MaxTransport does not apply to stock on hand. What is left of a stick has a square
//     end: with Rules.Nest it shares no cut with what was cut before.
//
// The plan must be one that [optimize.Check] accepts for the problem; its proof is not
// verified again. Errors are a *[measure.FieldError] for each bad field of the problem
// (problem.kerf) or, if it has none, of the progress (progress.cut[2]), joined in the order of
// the data; an *[optimize.CheckError] for the plan; the cause of a context that ends before the search begins; and those of
// [optimize.Solve] for what is left, with the numbers and fields of the old problem. What was
// cut or is owned may take what is left out of the limits that package optimize names.
func Solve(ctx context.Context, p optimize.Problem, plan *optimize.Plan, progress Progress, o *optimize.Options) (*Revision, error) {
	return solve(ctx, p, plan, progress, o, true)
}

// solve is Solve, beginning from the old plan or not.
func solve(ctx context.Context, p optimize.Problem, plan *optimize.Plan, progress Progress, o *optimize.Options, begins bool) (*Revision, error) {
	if err := p.Validate(); err != nil {
		return nil, fault.Under("problem", err)
	}
	bare := plan
	if plan != nil {
		bare = plan.WithoutProof()
	}
	if err := optimize.Check(ctx, p, bare); err != nil {
		return nil, err
	}
	r := &replan{p: &p, old: plan, done: &progress, mt: meter.New(ctx, 0)}
	r.tries = r.mt.First(keepGrace).Sub(keepTries)
	if err := r.count(); err != nil {
		return nil, err
	}
	if progress.untouched() {
		return r.unchanged(), nil
	}
	if err := r.remain(); err != nil {
		return nil, err
	}
	if r.begin(); !r.mt.Left() {
		return nil, cmp.Or(context.Cause(ctx), meter.Ended(ctx))
	}
	if len(r.ids) > 0 {
		if err := r.solve(ctx, o, begins); err != nil {
			return nil, err
		}
	}
	r.compare()
	return &r.rev, nil
}

// replan is the work on a revision.
type replan struct {
	p    *optimize.Problem
	old  *optimize.Plan
	done *Progress
	rev  Revision

	inventory
	ids     []int         // per piece that is left, parts of Revision.Runs last: its number in the old problem
	all     []stock.Piece // the same as pieces, those parts with a quantity of zero: they are not wanted by themselves
	runOf   []int         // per piece of the old problem: the index in Revision.Runs of the run that it is part of, else -1
	at      []int         // per piece of the old problem, parts after them: its index in all, -1 if nothing is left
	started []int         // per started stick: where it is among the revision's sticks, -1 if nothing is left of it
	begun   []int         // per started stick: the old pattern that it was begun by, -1 for none
	whole   []int         // per old pattern: sticks that are neither cut nor begun

	parts map[int]int // per part of the new plan that is one of the old, its number there; see partID

	mt    *meter.Meter // of what comes before the search
	tries *meter.Meter // to keep what there was, which goes on a little when the context has ended

	units []keepable // what may stay as it is
	full  draft      // all of it that can at once
	most  []refusal  // per unit: why not one more is in full

	no   []refusal     // per old pattern: why not one more is kept
	work int64         // steps of keeping
	stop optimize.Stop // of a search that found no plan
}

func (r *replan) solve(ctx context.Context, o *optimize.Options, begins bool) error {
	rev := &r.rev
	if len(rev.Problem.Sticks) == 0 {
		return r.stickless()
	}
	r.fill()
	first, with, done := ctx, optimize.Options{}, func() {}
	if o != nil {
		with = *o
	}
	if share.Work(ctx, o) == 0 {
		var part *optimize.Options
		first, part, done = share.Part(ctx, o, keepShare-1, keepShare)
		with.Work = part.Work
	}
	var from *optimize.Plan
	if begins {
		from = r.start()
	}
	best, err := begin.Solve(first, rev.Problem, &with, from)
	done()
	var stopped *optimize.LimitError
	switch {
	case err == nil:
		rev.Plan, r.work = best, best.Work
	case errors.As(err, &stopped):
		r.stop, r.work = stopped.Stop, stopped.Work
	default:
		return r.told(err)
	}
	r.keep(ctx, o)
	if rev.Plan == nil {
		return err
	}
	now := *rev.Plan
	now.Work = r.work
	rev.Plan = &now
	return nil
}
