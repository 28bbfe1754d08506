package whatif

import (
	"context"
	"fmt"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/begin"
	"example.com/longpoint/optimize/internal/price"
)

// Difference is the effect of changes on the least cost.
type Difference struct {
	// Range contains the difference of the least costs, after minus before, in the unit of
	// the plan's cost: money in the currency's minor unit, or length if nothing has a
	// price. Its two ends are equal if both plans are proven optimal; otherwise they
	// follow from the cost and the bound of each.
	Range `json:"range"`

	Problem optimize.Problem `json:"problem"` // the changed problem; it shares nothing with the given one
	Plan    *optimize.Plan   `json:"plan"`    // its plan
}

// Solve applies the changes in order, solves the changed problem, and compares its cost
// with that of a plan for the original problem. Nothing is estimated: the difference is one
// of proven costs, or a range that follows from the bounds. A context or a work limit that
// ends the search makes the range wider. Nil options mean the zero value; Start and
// Progress apply to the changed problem, and without a Start the search begins from the
// part of the plan that can still be cut.
//
// The plan must be one that [optimize.Check] accepts; its bound is not checked again. It is
// an error if the plan counts length and the changes introduce a price.
//
// Errors are a [*measure.FieldError] for each bad field of the problem
// (problem.sticks[2].price) and of the changes (changes[0].piece), joined; an
// [*optimize.CheckError] for the plan; the error of a function given to [Edit], which is
// not called if the problem has faults; and those of [optimize.Solve] for the changed
// problem, whose fields are also under problem or start. An [*optimize.InfeasibleError]
// means that the changed problem has no plan.
func Solve(ctx context.Context, p optimize.Problem, plan *optimize.Plan, o *optimize.Options, changes ...Change) (*Difference, error) {
	bad := check(ctx, p, plan)
	if bad != nil && !fault.Any(bad) {
		return nil, bad
	}
	q := clone(p)
	faults := []error{bad}
	for k, c := range changes {
		if bad != nil && c.free {
			continue
		}
		if err := c.on(&q); err != nil {
			faults = append(faults, fault.Under(fmt.Sprintf("changes[%d]", k), err))
		}
	}
	if err := fault.Join(faults...); err != nil {
		return nil, err
	}
	after, err := changed(ctx, q, plan, o)
	if err != nil {
		return nil, err
	}
	if price.ByLength(&p) && !after.ByLength {
		return nil, &measure.FieldError{Field: "changes", Value: "prices where there were none", Want: "changes after which length counts as before"}
	}
	bound, cost := counted(price.ByLength(&p), after)
	return &Difference{Range: Range{bound - plan.Cost, cost - plan.Bound}, Problem: q, Plan: after}, nil
}

// changed solves a changed problem, starting from the caller's start or from the plan for
// the original problem.
func changed(ctx context.Context, q optimize.Problem, plan *optimize.Plan, o *optimize.Options) (*optimize.Plan, error) {
	var after *optimize.Plan
	var err error
	if o != nil && o.Start != nil {
		after, err = optimize.Solve(ctx, q, o)
	} else {
		after, err = begin.Solve(ctx, q, o, plan)
	}
	return after, fault.Map(err, func(e *measure.FieldError) *measure.FieldError {
		if e.Field == "start" || strings.HasPrefix(e.Field, "start.") {
			return e
		}
		return e.Under("problem")
	})
}

// check checks a plan except for its proof.
func check(ctx context.Context, p optimize.Problem, plan *optimize.Plan) error {
	if plan != nil {
		plan = plan.WithoutProof()
	}
	return fault.Under("problem", optimize.Check(ctx, p, plan))
}

// counted returns bound and cost of a plan in money, or in length. If nothing left on the
// list has a price, the least cost is zero, though the plan counts length.
func counted(byLength bool, plan *optimize.Plan) (bound, cost int64) {
	if !byLength && plan.ByLength {
		return 0, 0
	}
	return plan.Bound, plan.Cost
}
