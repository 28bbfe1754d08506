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

	// BreakEven is a price at or above which every plan with the stick costs more than the
	// bound that the plan's proof shows (see optimize.Audit) minus the unit of the proof,
	// which divides every price. If the unit also divides the stick's price and the proof
	// rests on no search, every such plan costs at least that bound. BreakEven is -1 if the
	// proof does not determine it. Below it, the stick may or may not save something.
	BreakEven int64 `json:"break_even"`

	// Saving is the range of the amount by which adding the stick lowers the least cost, in
	// the unit of the plan's cost; zero or more.
	Saving Range `json:"saving"`

	// Plan is a plan with the stick added at the end of Problem.Sticks; nil if the proof
	// alone shows that the stick saves nothing, or if the search ended before it was
	// solved for.
	Plan *optimize.Plan `json:"plan,omitempty"`
}

// Range contains a number that is at least Low and at most High.
type Range struct {
	Low  int64 `json:"low"`
	High int64 `json:"high"`
}

// Exact reports whether the number is known: Low and High are equal.
func (r Range) Exact() bool { return r.Low == r.High }

// Candidates returns the saving of each stick if it were added to the list, largest first.
// The plan must be one for the given problem that [optimize.Check] accepts.
//
// The dual values in a leaf of the proof (see [optimize.Proof]) bound the total value of
// the pieces that a stick of another length can hold. Priced at that bound or more, the
// stick leaves the leaf's sum unchanged: that is the break-even. If the leaf is rounded up
// to sums of costs, the amount of the rounding is added, once. Priced at a fraction of the
// bound, the stick leaves at least that fraction of the sum, since all dual values can be
// scaled down together. Candidates does not solve for a stick that saves nothing by this
// argument. It solves for the others, the most promising first, each with an equal share of
// the work or the time; if the context or the limit ends that, the range from the proof
// remains. Once the context has ended, the proof is no longer evaluated.
//
// With rules, the bound on a stick's value is computed as in [optimize.Check], and a
// supplier's charge for the stick is ignored, so a break-even may be higher than necessary.
// The proof gives no bound for a stick with Breaks; for a stick that has other rules if the
// problem has none; for a stick equal to one on the list if the problem has rules; and for
// a stick with the longest clear stretch if there are runs, since it would allow longer
// parts. These are solved for.
//
// Nil options mean the zero value; Start and Progress are ignored.
//
// Errors are a [*measure.FieldError] for each bad field of the problem (problem.kerf) and
// of the candidates (sticks[0].price), joined, including a candidate with a price if
// nothing in the problem has one; an [*optimize.CheckError] for the plan; and the cause of
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
		out[k] = Candidate{Stick: s, BreakEven: -1, Saving: Range{0, plan.Cost}}
		if ended = ended || ctx != nil && meter.Ended(ctx) != nil; ended {
			// Do not evaluate the proof for a caller that no longer waits.
		} else if e := entering(ctx, &p, plan, &s); e != nil {
			out[k].BreakEven = e.breakEven()
			out[k].Saving.High = plan.Cost - min(plan.Cost, e.least(s.Price))
		}
		if out[k].Saving.High > 0 {
			open = append(open, k)
		}
	}
	// The most promising first, in case not all can be solved.
	slices.SortStableFunc(open, func(a, b int) int { return cmp.Compare(out[b].Saving.High, out[a].Saving.High) })
	for n, k := range open {
		c := &out[k]
		mine, o, done := share.Of(ctx, o, n, len(open))
		d, err := Solve(mine, p, plan, o, NewStick(c.Stick))
		done()
		var limit *optimize.LimitError
		switch {
		case err == nil:
			c.Saving.Low, c.Saving.High = max(-d.High, 0), min(c.Saving.High, max(-d.Low, 0))
			c.Plan = d.Plan
		case errors.As(err, &limit) || meter.Ended(mine) != nil:
		default:
			return nil, ofCandidate(k, len(p.Sticks), err)
		}
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(b.Saving.Low, a.Saving.Low), cmp.Compare(b.Saving.High, a.Saving.High))
	})
	return out, nil
}

// checkCandidates reports every stick that cannot be added to the list. If the list itself
// is bad, it reports only the faults of those sticks.
func checkCandidates(p *optimize.Problem, sticks []stock.Stick, bad bool) error {
	byLength, n := price.ByLength(p), len(p.Sticks)
	var faults []error
	for k, s := range sticks {
		q := *p
		q.Sticks = append(slices.Clip(p.Sticks), s)
		priced := byLength && price.Has(s)
		if priced {
			q.Sticks[n].Price, q.Sticks[n].Breaks = -1, nil // a fault of this field only, not of others because of it
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

// ofCandidate rewrites an error about stick n, the one after those of the problem, to
// name candidate k.
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
