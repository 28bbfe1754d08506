package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/search"
)

// Evaluate computes the cost and the offcuts of a plan made by hand, so that it can be compared
// with others and checked. It reads Patterns, except Offcut, and Spliced, in which Pieces may
// be nil. The result has these with Offcut, Parts, Buy, Cost, ByLength and Goals filled in. It
// buys the sticks in the cheapest way that the suppliers offer; with more than 4,096 spare
// sticks, or fewer if there are many kinds of sticks, the purchase may not be the cheapest. For
// a problem without rules Bound is the material bound, otherwise zero: there is no search. A
// nil context never ends.
//
// The plan is nil if and only if the error is not. Each fault of the problem is a
// [*measure.FieldError]. Each pattern that cannot be cut, stick that cannot be bought and piece
// in the wrong quantity is a [*CheckError]. They are joined in the order of the data, at most
// 100. If the context ends first, Evaluate returns its cause.
func Evaluate(ctx context.Context, p Problem, hand *Plan) (*Plan, error) {
	steps := prompt(0, ending(ctx))
	if !steps.awaited(0) {
		return nil, steps.cause
	}
	if err := p.Validate(); err != nil {
		return nil, err
	}
	if hand == nil {
		return nil, wrong("", "nil", "a plan")
	}
	e := evaluation{p: &p, steps: &steps, plan: &Plan{Patterns: slices.Clone(hand.Patterns), Spliced: slices.Clone(hand.Spliced)}}
	for k := range e.plan.Patterns {
		pat := &e.plan.Patterns[k]
		pat.Pieces, pat.Turned, pat.Stretch = slices.Clone(pat.Pieces), slices.Clone(pat.Turned), slices.Clone(pat.Stretch)
	}
	e.runs()
	e.patterns()
	if len(e.faults) == 0 {
		e.buy()
	}
	if len(e.faults) == 0 {
		e.prove(ctx)
	}
	if !steps.awaited(0) {
		return nil, steps.cause
	}
	if len(e.faults) > 0 {
		return nil, errors.Join(e.faults...)
	}
	if err := verify(&p, e.plan, &steps); err != nil {
		if !steps.awaited(0) {
			return nil, steps.cause
		}
		return nil, &InternalError{err}
	}
	return e.plan, nil
}

// evaluation completes a plan and collects its faults.
type evaluation struct {
	p      *Problem
	plan   *Plan
	steps  *effort
	faults []error
	lost   bool // a run is wrong, so the numbers of the parts are unknown
	joints int128
}

func (e *evaluation) fault(err error) {
	if err != nil && len(e.faults) < maxFaults {
		e.faults = append(e.faults, err)
	}
}

// runs makes the parts of the runs.
func (e *evaluation) runs() {
	p, plan := e.p, e.plan
	if len(plan.Spliced) != len(p.Runs) {
		e.lost = true
		e.fault(wrong("spliced", fmt.Sprintf("%d runs", len(plan.Spliced)), fmt.Sprintf("each of the %d runs, in order", len(p.Runs))))
		return
	}
	c := &ruleCheck{p: p, plan: plan, steps: e.steps}
	next := len(p.Pieces)
	for k := range plan.Spliced {
		s := &plan.Spliced[k]
		if s.Run == k && e.steps.awaited(int64(partSteps*(1+len(s.At)))) {
			s.At = slices.Clone(s.At)
			if pieces, err := p.Runs[k].Pieces(s.At); err == nil {
				plan.Parts = append(plan.Parts, pieces...)
				if s.Pieces == nil {
					for j := range pieces {
						s.Pieces = append(s.Pieces, next+j)
					}
				}
			}
		}
		if err := c.run(k, &next); err != nil {
			e.fault(err)
			e.lost = true
			next = len(p.Pieces) + len(plan.Parts)
		}
	}
	e.joints = c.bill
}

// patterns fills in the offcut of each pattern, and checks the quantities of the pieces.
func (e *evaluation) patterns() {
	p, plan := e.p, e.plan
	plain := &plainCheck{p: p, plan: plan, fill: true}
	rules := &ruleCheck{p: p, plan: plan, steps: e.steps, fill: true}
	before := len(e.faults)
	made := make([]int, len(p.Pieces)+len(plan.Parts))
	for k := range plan.Patterns {
		pat := &plan.Patterns[k]
		if !e.steps.awaited(int64(16 + 8*len(pat.Pieces))) {
			return
		}
		if e.lost && slices.ContainsFunc(pat.Pieces, func(i int) bool { return i >= len(p.Pieces) }) {
			continue
		}
		for _, i := range pat.Pieces {
			if i >= 0 && i < len(made) {
				made[i] += min(max(pat.Count, 0), math.MaxInt-made[i])
			}
		}
		if p.plain() {
			e.fault(plain.pattern(k))
		} else {
			e.fault(rules.pattern(k))
		}
	}
	for i, n := range made {
		if i >= len(p.Pieces) && e.lost {
			break
		}
		if want := rules.want(i); n < want {
			e.fault(wrong("patterns", fmt.Sprintf("%d of %s", n, rules.name(i)), want))
		}
	}
	if len(e.faults) == before && !e.lost && !p.plain() {
		e.fault(rules.lots())
	}
}

// buy fills in the purchases and the cost.
func (e *evaluation) buy() {
	b, ok := bill(e.p, e.plan.Patterns)
	if !ok {
		e.fault(wrong("buy", "nothing", "a number of each stick that its supplier sells, for the patterns and the spares, at a cost in range"))
		return
	}
	total, ok := e.joints.add(mul(b.cost, 1)).int64()
	if !ok {
		e.fault(wrong("cost", "too high", "a cost in range"))
		return
	}
	e.plan.Buy, e.plan.Cost = b.buy, total
	e.plan.ByLength, _ = costing(e.p)
}

// prove sets the bound by material and the results of the goals.
func (e *evaluation) prove(ctx context.Context) {
	if !e.p.plain() {
		e.plan.Proven = e.plan.Cost == 0
		e.plan.Goals = levels(e.p, e.plan)
		return
	}
	if ctx == nil {
		ctx = context.Background()
	}
	in, err := compile(context.Background(), e.p)
	if err != nil {
		e.fault(err)
		return
	}
	if err := in.show(ctx, e.plan, &search.Result{}); err != nil {
		e.fault(&InternalError{err})
	}
}
