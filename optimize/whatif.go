package optimize

import (
	"context"
	"fmt"
)

// Difference is what a change does to the cost.
type Difference struct {
	// Range holds what the least cost changes by: after less before, in the unit of the
	// plan's cost. Its two ends are the same where both plans are proven, and follow from
	// cost and bound of the two where not.
	Range

	Problem Problem `json:"problem"` // the changed problem
	After   *Plan   `json:"after"`   // its plan
}

// WhatIf solves the problem with the changes, made one after the other, and
// compares the cost with that of a plan for the problem as it is. Nothing is estimated: the
// difference is one of proven costs, or a range that follows from the bounds. A context or a
// work limit that ends the search makes the range wider.
//
// The plan must be one that [Check] accepts; its bound is taken as it stands. What
// is dear in a plan for the least length is length: a change that gives the first stick a
// price is a [ProblemError].
//
// Errors are those of a change (a nil one is a [ProblemError]), of Solve for the changed problem (an
// [InfeasibleError] says that with the change there is no plan), and a [CheckError]
// for the plan.
func WhatIf(ctx context.Context, p Problem, plan *Plan, o *Options, changes ...Change) (*Difference, error) {
	steps := prompt(0, ending(ctx))
	if err := verify(&p, plan, &steps); err != nil {
		return nil, err
	}
	q := p
	for k, c := range changes {
		if c == nil {
			return nil, &ProblemError{fmt.Sprintf("changes[%d]", k), "nil", "a change"}
		}
		if err := c(&q); err != nil {
			return nil, err
		}
	}
	if len(q.Sticks) == 0 {
		return nil, &InfeasibleError{Reason: ReasonSupplyDoesNotFit, Piece: -1, Stick: -1}
	}
	after, err := Solve(ctx, q, o)
	if err != nil {
		return nil, err
	}
	if plan.Objective == LeastLength && after.Objective == LeastPrice {
		return nil, &ProblemError{"Sticks", "prices where there were none", fmt.Sprintf("a change that leaves the objective, %v, as it is", plan.Objective)}
	}
	bound, cost := priced(plan.Objective, after)
	return &Difference{Range: Range{bound - plan.Cost, cost - plan.Bound}, Problem: q, After: after}, nil
}

// priced returns bound and cost of a plan by an objective. Where nothing that is left on the
// list has a price, the least price is zero, though the plan counts length.
func priced(o Objective, plan *Plan) (bound, cost int64) {
	if o == LeastPrice && plan.Objective == LeastLength {
		return 0, 0
	}
	return plan.Bound, plan.Cost
}
