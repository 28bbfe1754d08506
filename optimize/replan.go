package optimize

import (
	"context"
	"errors"

	"example.com/longpoint/internal/engine"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Revision is the plan for what is left of a job. Its numbers of patterns are those of the
// old plan, its numbers of pieces and sticks, where nothing else is said, those of the old
// problem.
type Revision struct {
	// Problem is what is left to cut and from what: first the sticks that are owned,
	// priced at what their supplier would refund, then those that can be bought. Its Runs
	// are those of which nothing has been cut; the parts of the others are pieces.
	Problem Problem `json:"problem"`

	// Pieces, Runs and Sticks lead back: per index in Problem.Pieces the number in the
	// old problem, as Pattern.Pieces has it, per index in Problem.Runs that of the old run,
	// and per index in Problem.Sticks where the stick is.
	Pieces []int    `json:"pieces,omitempty"`
	Runs   []int    `json:"runs,omitempty"`
	Sticks []Source `json:"sticks,omitempty"`

	// Plan is the plan for Problem; nil when nothing is left to cut.
	Plan *Plan `json:"plan,omitempty"`

	// Objective is that of the old plan: whether the amounts here count money or length.
	Objective Objective `json:"objective"`

	// Cost is what is still to be paid, in the unit of the old plan: less than zero where
	// refunds are more. No plan for what is left costs less than Bound. Where everything
	// is owned both are zero, whatever Plan.Cost counts then.
	Cost   int64 `json:"cost"`
	Bound  int64 `json:"bound"`
	Proven bool  `json:"proven"` // Cost == Bound

	// Planned is what would still have had to be paid had nothing gone wrong: for the
	// sticks of the old plan that are neither cut, nor opened, nor in hand. Of a stick with
	// Bundle, Minimum or Breaks all counts as bought once one is there, and a charge as
	// paid once anything of the supplier's is.
	Planned int64 `json:"planned"`

	// Old says what becomes of each pattern of the old plan of which sticks were left.
	Old []OldPattern `json:"old,omitempty"`

	// Buy is what to buy, or to take from where it was, beyond what is owned, its Cost in
	// the unit of the old plan. Idle is what is owned and not needed.
	Buy  []Purchase `json:"buy,omitempty"`
	Idle []Idle     `json:"idle,omitempty"`

	// Respliced are the runs, numbered as in the old problem, that are spliced elsewhere
	// than planned.
	Respliced []int `json:"respliced,omitempty"`

	// Again are the pieces that were spoiled and are cut again.
	Again []Spoiled `json:"again,omitempty"`
}

// Extra returns what the job costs beyond what was planned: Cost less Planned. It is less
// than zero where the new plan is cheaper.
func (r *Revision) Extra() int64 { return r.Cost - r.Planned }

// Replan plans what is left of a job after some of it was done and some of it went
// wrong: pieces that were spoiled, sticks that are missing or short.
//
// The new plan costs the least that can still be paid, as far as Proven says so: what is
// owned is free, or worth its refund. Among the plans of that cost it keeps what it can of
// the old one: first it is tried whether everything that can stay may stay, then one old
// pattern after the other is fixed, sticks on the saw first and then those that yield most
// pieces, on as many sticks as possible, and what remains is solved again; the pattern
// stays if the whole costs no more than before. That is a heuristic: another order might
// keep more. Later ones of Rules.Goals go before keeping; the fewest sticks, the fewest
// splices and the longest offcut, which decide where no goals are set, come after it. Keeping takes at most a
// quarter of the work limit (of [DefaultWork] where there is none) beyond what the search
// for the least cost may take, which has three quarters of the time where only a deadline
// sets a limit; Plan.Work counts both. Where everything is owned, keeping
// goes before using less length. The same input gives the same revision.
//
// Where nothing has been done, problem and plan come back as they are. Where a limit
// ends the search for the least cost before there is any plan, the old plan goes on if it
// can, with no bound.
//
// The rules of the problem hold for what is left, as if it were a job of its own:
//
//   - A run of which nothing has been cut may be spliced elsewhere, and the price of its
//     splices is in Cost. Of any other the parts are pieces, and their splices are as
//     good as paid.
//   - Of groups that come from one stick, whole sets may be done; otherwise it is a
//     [ProgressError], since what is left has to match what is gone. What is left of a group of
//     one lot comes from the lot of what is cut and not spoiled: see Group.Started. Where that may
//     be from several lots it is a ProgressError.
//   - Bundles, minimums and price breaks hold anew for what is bought, and as many
//     spare sticks are wanted as before, in hand or not. A charge is not paid again where a
//     stick of the supplier's has been cut or is in hand.
//   - A stick that is owned is at home: Rules.MaxTransport does not concern it. What is left
//     of a stick is straight: with Rules.Nest it shares no cut with what was cut before.
//
// The plan must be one that [Check] accepts for the problem; its proof is not looked at
// again. The errors are those of [Solve] for what is left, with the numbers of the old
// problem (what was cut or is owned may take it out of the limits that the package comment
// names), a [CheckError] for the plan, a [ProgressError], and the cause of a context that
// ends before the search begins.
func Replan(ctx context.Context, p Problem, plan *Plan, done Progress, o *Options) (*Revision, error) {
	steps := prompt(0, ending(ctx))
	if err := verify(&p, plan, &steps); err != nil {
		return nil, err
	}
	if err := validatePrices(&p); err != nil {
		return nil, err
	}
	r := &replan{p: &p, old: plan, done: &done, steps: &steps, tries: hurried(keepTries, ending(ctx))}
	if err := r.count(); err != nil {
		return nil, err
	}
	if done.untouched() {
		return r.unchanged(), nil
	}
	if err := r.remain(); err != nil {
		return nil, err
	}
	if r.begin(); !steps.awaited(0) {
		return nil, steps.cause
	}
	if len(r.ids) > 0 {
		if err := r.solve(ctx, o); err != nil {
			return nil, err
		}
	}
	r.compare()
	return &r.rev, nil
}

// replan is the work on a revision.
type replan struct {
	p    *Problem
	old  *Plan
	done *Progress
	rev  Revision

	inventory
	ids    []int         // per piece that is left, parts of Revision.Runs last: its number in the old problem
	all    []stock.Piece // the same as pieces, those parts with a quantity of zero: they are not wanted by themselves
	runOf  []int         // per piece of the old problem: the index in Revision.Runs of the run that it is part of, else -1
	at     []int         // per piece of the old problem, parts after them: its index in all, -1 where nothing is left
	opened []int         // per opened stick: where it is among the revision's sticks, -1 where nothing is left of it
	begun  []int         // per opened stick: the old pattern that it was begun by, -1 for none
	whole  []int         // per old pattern: sticks that are neither cut nor begun

	parts map[int]int // per part of the new plan that is one of the old, its number there; see partID

	steps *effort // of what comes before the search
	tries effort  // to keep what there was, which goes on a little when the context has ended

	no   []refusal // per old pattern: why not one more is kept
	work int64     // steps of keeping
	stop Stop      // of a search that found no plan
}

func (r *replan) solve(ctx context.Context, o *Options) error {
	rev := &r.rev
	if len(rev.Problem.Sticks) == 0 {
		return r.stickless()
	}
	first := ctx
	if o.work(ctx) == 0 {
		var done context.CancelFunc
		first, o, done = o.share(ctx, keepShare-1, keepShare)
		defer done()
	}
	// A refund may be the only price.
	best, err := solveIf(first, rev.Problem, o, engine.Solve, validate)
	var stopped *LimitError
	switch {
	case err == nil:
		rev.Plan = best
		r.work = best.Work
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

// Source is where a stick of a revision is.
type Source struct {
	Stick int   `json:"stick"` // index in the old problem's Sticks
	Place Place `json:"place"`
}

// Idle is what is owned and not needed.
type Idle struct {
	Stick  int            `json:"stick"` // index in the old problem's Sticks
	Place  Place          `json:"place"` // not ToBuy
	Length measure.Length `json:"length"`
	Count  int            `json:"count"`
	Refund int64          `json:"refund,omitempty"` // for all of them
}

// Place is where a stick is.
type Place uint8

const (
	ToBuy    Place = iota // at the supplier's, or on the rack as before
	Whole                 // in hand, not cut
	Started               // in hand, opened
	LeftOver              // kept of one that was cut
)

var (
	placeNames  = names{"to buy", "whole", "started", "offcut"}
	placeLabels = names{"", "in hand", "opened", "offcut"} // beside the stick's own label
)

// String returns the place in words.
func (p Place) String() string { return placeNames.text(uint8(p)) }

// MarshalText implements encoding.TextMarshaler.
func (p Place) MarshalText() ([]byte, error) { return placeNames.marshal(uint8(p)) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (p *Place) UnmarshalText(b []byte) error {
	v, err := placeNames.parse(b)
	if err == nil {
		*p = Place(v)
	}
	return err
}
