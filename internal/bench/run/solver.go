// Package run solves benchmark instances, measures the effort and checks every claim against
// the plan itself and against published results.
package run

import (
	"context"
	"errors"
	"fmt"

	"example.com/longpoint/internal/bench/instance"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/optimize"
)

// Claim is the result of a solver for an instance, in the instance's units of cost.
type Claim struct {
	Cost, Bound int64
	Shown       int64 // the part of Bound that a proof shows without another search
	Plan        bool  // there is a plan, of cost Cost; it was checked
	Infeasible  bool
	Proven      bool
	Stop        string
	Work        int64
	Leaves      int // of the proof; 0 if it is opaque
	Patterns    int // number of different ones in the plan

	// Stage is the stage of the solver that closed the instance, or Open. It is empty if the
	// internals are unknown, and Tally is then meaningless.
	Stage string
	Tally meter.Tally
}

// Open is the stage of an instance that no stage of the solver closed.
const Open = "open"

// Counted reports whether Stage and Tally are set.
func (c *Claim) Counted() bool { return c.Stage != "" }

// Solver solves an instance within a number of steps; zero means no limit. It returns a
// function that returns the outcome, with an error if that is wrong in itself: it is separate
// because checking is not timed.
type Solver func(ctx context.Context, in *instance.Instance, work int64) func() (Claim, error)

// Engine calls the solver for the usual goals and checks its plan. Shown is the solver's claim
// about its leaves.
func Engine(ctx context.Context, in *instance.Instance, work int64) func() (Claim, error) {
	p, unit := in.Model()
	r := solver.Solve(ctx, rules.Of(p), search.Options{Work: work, Goals: search.UsualGoals(), Brief: true})
	return func() (Claim, error) { return engineClaim(p, unit, r) }
}

func engineClaim(p *model.Problem, unit int64, r search.Result) (Claim, error) {
	c := Claim{
		Cost: r.Cost * unit, Bound: r.Bound * unit, Shown: min(r.LeafBound, r.Bound) * unit,
		Plan: r.Patterns != nil, Infeasible: r.Infeasible, Proven: r.Stop == search.Proven,
		Stop: engineStop(r.Stop), Work: r.Work, Leaves: len(r.Leaves), Patterns: len(r.Patterns),
		Stage: Open, Tally: r.Tally,
	}
	if c.Proven {
		c.Stage = r.Stage.String()
	}
	switch {
	case !c.Plan:
		return c, nil
	case c.Proven && r.Cost != r.Bound:
		return c, fmt.Errorf("proven, with cost %d and bound %d", c.Cost, c.Bound)
	}
	return c, checkPlan(p, r)
}

func engineStop(s search.Stop) string {
	switch s {
	case search.Proven:
		return "proven"
	case search.WorkLimit:
		return "work limit"
	case search.Interrupted:
		return "interrupted"
	case search.Stuck:
		return "stuck"
	}
	return fmt.Sprintf("stop %d", s)
}

// Public calls package optimize, whose plan and proof pass its checker. Shown is the bound that
// the checker verified. The plan does not report how its work was spent.
func Public(ctx context.Context, in *instance.Instance, work int64) func() (Claim, error) {
	if work <= 0 {
		work = -1
	}
	p := in.Public()
	plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: work})
	done := ctx.Err() != nil
	return func() (Claim, error) { return publicClaim(p, plan, err, done) }
}

func publicClaim(p optimize.Problem, plan *optimize.Plan, err error, done bool) (Claim, error) {
	if err != nil {
		var limit *optimize.LimitError
		var none *optimize.InfeasibleError
		switch {
		case errors.As(err, &limit):
			return Claim{Stop: limit.Stop.String(), Work: limit.Work}, nil
		case errors.As(err, &none):
			return Claim{Infeasible: true, Proven: true, Stop: "proven"}, nil
		case done:
			return Claim{Stop: "interrupted"}, nil
		}
		return Claim{}, err
	}
	report, err := optimize.Audit(context.Background(), p, plan)
	if err != nil {
		return Claim{}, err
	}
	shown, _ := report.Bound()
	return Claim{
		Cost: plan.Cost, Bound: plan.Bound, Shown: shown,
		Plan: true, Proven: plan.Proven, Stop: plan.Stop.String(), Work: plan.Work,
		Patterns: len(plan.Patterns),
	}, nil
}
