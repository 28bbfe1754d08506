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

// Solve plans the rest of a job after some of it has been done and some has gone wrong: pieces
// were spoiled, or sticks are missing or short. Nil options mean the zero value.
//
// The new plan has the least remaining cost, if Proven is set: stock on hand is free, or costs
// its refund. Among plans of that cost Solve keeps as much of the old plan as it can. It first
// tries to keep everything that can still be cut. If the rest then costs more, it fixes old
// patterns one by one, those of started sticks first and then those that yield most pieces,
// each on as many sticks as possible, and solves the rest again; a pattern stays if the total
// does not cost more. That is a heuristic: another order might keep more. Goals of Rules.Goals
// after the cost take precedence over keeping; if there are none, the fewest sticks, the fewest
// splices and the longest offcut come after it. If everything is on hand, keeping takes
// precedence over using less length.
//
// Keeping takes at most a quarter of the work limit, in addition to the search for the least
// cost; if only a deadline sets a limit, that search has three quarters of the time. Plan.Work
// counts both. The same input gives the same revision.
//
// The search begins from the rest of the old plan; Options.Start is ignored. Options.Progress
// reports the search for the least cost, in terms of the revision's problem, but not the
// attempts to keep the old plan. If it returns false, Solve only tries to keep the old plan as
// a whole.
//
// If nothing has been done, problem and plan are returned unchanged. If a limit ends the search
// for the least cost before there is any plan, the old plan is continued if possible, with the
// bound of [optimize.Evaluate].
//
// The rules of the problem apply to the rest as if it were a separate job:
//
//   - A run that is completely uncut may be spliced differently, and the price of its splices
//     is in Cost. The parts of other runs are pieces, and the price of their splices counts as
//     paid.
//   - Groups that come from one stick may only be done in whole sets; anything else is an error
//     of progress.cut. The rest of a group of one lot comes from the lot of the pieces that are
//     cut and not spoiled: see [optimize.Group.Started]. It is an error if those may be from
//     several lots.
//   - Bundles, minimums and price breaks apply again to new purchases, and the number of spare
//     sticks is the same, on hand or not. A charge is not paid again if a stick from the
//     supplier has been cut or is on hand.
//   - Rules.MaxTransport does not apply to stock on hand. The rest of a started stick has a
//     square end: with Rules.Nest it shares no cut with the pieces already cut.
//
// [optimize.Check] must accept the plan for the problem; its proof is not verified again.
// Errors are a [*measure.FieldError] for each bad field of the problem (problem.kerf) or, if it
// has none, of the progress (progress.cut[2]), joined in the order of the data; an
// [*optimize.CheckError] for the plan; the cause of a context that ends before the search
// begins; and those of [optimize.Solve] for the rest, with the numbers and fields of the old
// problem. Cut pieces and stock on hand may push the rest beyond the limits of package
// optimize.
func Solve(ctx context.Context, p optimize.Problem, plan *optimize.Plan, progress Progress, o *optimize.Options) (*Revision, error) {
	return solve(ctx, p, plan, progress, o, true)
}

// solve is Solve, with or without the old plan as a start.
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

// replan is the state of Solve.
type replan struct {
	p    *optimize.Problem
	old  *optimize.Plan
	done *Progress
	rev  Revision

	inventory
	ids     []int         // per remaining piece, parts of Revision.Runs last: its number in the old problem
	all     []stock.Piece // the same as pieces; those parts have a quantity of zero, since they are not wanted by themselves
	runOf   []int         // per piece of the old problem: the index in Revision.Runs of its run, else -1
	at      []int         // per piece of the old problem, parts after the pieces: its index in all, -1 if none is left
	started []int         // per started stick: its index in the revision's sticks, -1 if nothing is left of it
	begun   []int         // per started stick: the old pattern by which it was begun, -1 for none
	whole   []int         // per old pattern: number of sticks neither cut nor started

	parts map[int]int // per part of the new plan that is one of the old: its number there; see partID

	mt    *meter.Meter // of the work before the search
	tries *meter.Meter // for keeping the old plan, with some grace after the context has ended

	units []keepable // the parts that may be kept
	full  draft      // all of it that can be kept together
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
