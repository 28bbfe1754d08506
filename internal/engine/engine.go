// Package engine solves a model.Problem to proven optimality where it can, and
// otherwise returns the best plan it found with a lower bound that holds.
package engine

import (
	"context"

	"example.com/longpoint/internal/model"
)

// Options limits a run.
type Options struct {
	Work int64 // deterministic steps; <= 0 means no limit
}

// Stop is why a run ended.
type Stop uint8

const (
	Proven Stop = iota + 1
	WorkLimit
	Interrupted // the context ended
	Stuck       // every method was tried
)

// Leaf is one part of the space of how often each bin is used, with the
// numbers that show what a plan inside it must cost at least.
//
// For any values v >= 0, with K(b) the greatest value of a pattern of bin b
// (at most each item's demand in it), every plan whose bin counts n lie in the
// box costs at least
//
//	(sum of v*demand + sum over bins of min over Lo<=n<=Hi of n*(Scale*cost - K)) / Scale
//
// rounded up. With Scale 0 a positive numerator shows that the box holds no
// plan at all.
type Leaf struct {
	Lo, Hi []int64 // per bin, inclusive
	Value  []int64 // per item, >= 0
	Scale  int64
}

// Result is what a run found.
type Result struct {
	Columns    []model.Column // demand met exactly, limits kept; nil when no plan was found
	Cost       int64
	Bound      int64  // no plan costs less
	Infeasible bool   // proven: no plan exists
	Leaves     []Leaf // boxes that together hold every plan; each shows RootBound or infeasibility
	LeafBound  int64  // what the leaves show by themselves; the rest of Bound, if any, rests on exhausted search
	Stop       Stop
	Work       int64
}

// Solve runs the engine. It keeps nothing between runs.
func Solve(ctx context.Context, p *model.Problem, o Options) Result {
	return Result{}
}
