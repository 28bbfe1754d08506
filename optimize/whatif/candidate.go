package whatif

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/optimize/internal/share"
	"example.com/longpoint/stock"
)

// Candidate is a stick that could be added to the supplier's list.
type Candidate struct {
	Stick stock.Stick `json:"stick"` // as it was given

	// BreakEven is a price at which, and above which, every plan with the stick costs more than
	// the bound that the plan's proof shows (see optimize.Audit) less the unit of the proof,
	// which divides every price; and no less than that bound if the unit divides the stick's
	// price as well and the proof rests on no search. It is -1 if the proof does not tell.
	// Below it, the stick may save something or not.
	BreakEven int64 `json:"break_even"`

	// Saves holds what adding the stick lowers the least cost by, in the unit of the plan's
	// cost; zero or more.
	Saves Range `json:"saves"`

	// Plan is a plan with the stick added at the end of Problem.Sticks; nil if the proof
	// alone shows that nothing is saved, or if the search ended before.
	Plan *optimize.Plan `json:"plan,omitempty"`
}

// Range holds a number that is at least Low and at most High.
type Range struct {
	Low  int64 `json:"low"`
	High int64 `json:"high"`
}

// Exact reports whether the number is known: Low and High are equal.
func (r Range) Exact() bool { return r.Low == r.High }

// Candidates says what each of some sticks would save if it were added to the list, the
// most first. The plan is one for the problem as it is, which [optimize.Check] accepts.
//
// By the values that a leaf of the proof gives to pieces (see [optimize.Proof]), a stick of
// another length holds pieces worth so much at most. Priced at that or more it leaves the
// leaf's sum as it is: that is the break-even; if the leaf is rounded up to sums of costs,
// what the rounding adds comes on top, once. Priced at a part of that, it leaves at least
// that part of the sum, since all values may be made smaller together. A stick that saves nothing by this is not solved for. The others
// are, the most promising first, each with an equal share of the work or the time; if the
// context or the limit ends that, the range that the proof shows stays. Once the context has
// ended the proof is not asked any more.
//
// With rules, what a stick holds is computed as [optimize.Check] does, and a supplier's charge for the stick
// is left out, so that a break-even may be higher than it need be. The proof says nothing of
// a stick with Breaks or, if the problem has no rules, with other rules of its own; nothing
// of one that with rules is alike another on the list; and nothing of one that has the
// longest clear stretch if there are runs, since that would allow longer parts. Those are
// solved for.
//
// Nil options are the zero value; of others Start and Progress are not used.
//
// Errors are a *[measure.FieldError] for each bad field of the problem (problem.kerf) and
// of the candidates (sticks[0].price), joined, a candidate that has a price although nothing
// in the problem has one among them; an *[optimize.CheckError] for the plan; and the cause of
// a context that ends before the plan is checked.
func Candidates(ctx context.Context, p optimize.Problem, plan *optimize.Plan, sticks []stock.Stick, o *optimize.Options) ([]Candidate, error) {
	bad := check(ctx, p, plan)
	if bad != nil && !fault.Any(bad) {
		return nil, bad
	}
	if err := fault.Join(bad, checkCandidates(&p, sticks, bad != nil)); err != nil {
		return nil, err
	}
	out := make([]Candidate, len(sticks))
	var open []int
	ended := false
	for k, s := range sticks {
		out[k] = Candidate{Stick: s, BreakEven: -1, Saves: Range{0, plan.Cost}}
		if ended = ended || ctx != nil && meter.Ended(ctx) != nil; ended {
			// Nobody waits for what the proof says.
		} else if e := entering(ctx, &p, plan, &s); e != nil {
			out[k].BreakEven = e.breakEven()
			out[k].Saves.High = plan.Cost - min(plan.Cost, e.least(s.Price))
		}
		if out[k].Saves.High > 0 {
			open = append(open, k)
		}
	}
	// The most promising first, in case that not all can be solved.
	slices.SortStableFunc(open, func(a, b int) int { return cmp.Compare(out[b].Saves.High, out[a].Saves.High) })
	for n, k := range open {
		c := &out[k]
		mine, o, done := share.Of(ctx, o, n, len(open))
		d, err := Solve(mine, p, plan, o, NewStick(c.Stick))
		done()
		var limit *optimize.LimitError
		switch {
		case err == nil:
			c.Saves.Low, c.Saves.High = max(-d.High, 0), min(c.Saves.High, max(-d.Low, 0))
			c.Plan = d.Plan
		case errors.As(err, &limit) || meter.Ended(mine) != nil:
		default:
			return nil, ofCandidate(k, len(p.Sticks), err)
		}
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(b.Saves.Low, a.Saves.Low), cmp.Compare(b.Saves.High, a.Saves.High))
	})
	return out, nil
}

// checkCandidates reports every stick that cannot be added to the list, and of a list that is
// bad itself only what is wrong with those sticks.
func checkCandidates(p *optimize.Problem, sticks []stock.Stick, bad bool) error {
	byLength, n := price.ByLength(p), len(p.Sticks)
	var faults []error
	for k, s := range sticks {
		q := *p
		q.Sticks = append(slices.Clip(p.Sticks), s)
		priced := byLength && price.Has(s)
		if priced {
			q.Sticks[n].Price, q.Sticks[n].Breaks = -1, nil // a fault of this field, and of no other for its sake
		}
		for e := range measure.FieldErrors(ofCandidate(k, n, fault.Under("problem", q.Validate()))) {
			switch field := fmt.Sprintf("sticks[%d]", k); {
			case priced && e.Field == field+".price":
				faults = append(faults, &measure.FieldError{Field: e.Field, Value: strconv.FormatInt(s.Price, 10), Want: "zero, as all others"})
			case !bad || strings.HasPrefix(e.Field, field):
				faults = append(faults, e)
			}
		}
	}
	return fault.Join(faults...)
}

// ofCandidate names a candidate in an error about the stick after the n of the problem.
func ofCandidate(k, n int, err error) error {
	return fault.Map(err, func(e *measure.FieldError) *measure.FieldError {
		if field, ok := strings.CutPrefix(e.Field, fmt.Sprintf("problem.sticks[%d]", n)); ok {
			e := *e
			e.Field = fmt.Sprintf("sticks[%d]%s", k, field)
			return &e
		}
		return e
	})
}
