// Package search says what is asked of a search for plans and what it answers: options, events, a result. Every way to
// solve a problem speaks it, so that who asks need not know which one it was.
package search

import (
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
)

// NoPlan is the cost of having no plan: above that of any.
const NoPlan = math.MaxInt64 / 4

// Options says what to strive for, and limits how long.
type Options struct {
	Work int64 // deterministic steps; <= 0 means no limit

	Goals []Goal // lexicographic; the first is LeastPrice, which no goals at all stand for as well

	// Patterns is known to be a bound on the number of different patterns: no plan has
	// fewer.
	Patterns int64

	Brief bool // spend on the goals after the first no more than a share of what that took

	// Start is a plan to begin from, or a part of one: within limits, of no item more than
	// is wanted. Nil is none.
	Start *Start

	// Report, if not nil, is told of each better plan and bound, and once about every
	// Tick steps. With Brief the goals after the first have nothing to tell but that time
	// passes. False ends the search.
	Report func(*Event) bool
}

// Start is a plan from outside, or a part of one.
type Start struct {
	Patterns   []model.PatternCount
	Assemblies [][]int // per run: its arcs, nil where that is open; all nil: all open
}

// Goal is one of the goals, which are lexicographic.
type Goal uint8

const (
	LeastPrice Goal = iota
	FewestSticks
	MostSalvage
	LongestOffcut
	FewestPatterns
	FewestCuts
	FewestSplices
)

// UsualGoals returns the goals of a problem that has none of its own: the least cost, and of such plans one that is good to
// cut.
func UsualGoals() []Goal { return []Goal{LeastPrice, FewestSticks, FewestSplices, LongestOffcut} }

// GoalResult is what a plan reaches of a goal and what none can better that is as good in
// the goals before. Proven says that the two meet and did so for every goal before.
type GoalResult struct {
	Value, Bound int64
	Proven       bool
	Leaves       []Leaf // boxes that together hold every plan, each with what shows the bound
}

// Stop is why a search ended.
type Stop uint8

const (
	Proven Stop = iota + 1
	WorkLimit
	Interrupted // the context ended
	Stuck       // every method was tried
	Ended       // Options.Report returned false
)

// Leaf is one part of the space of how often each class of sticks is used, with the
// numbers that show what a plan inside it must cost at least.
//
// For any duals v >= 0, with K(c) the greatest dual value of what a stick of class c
// yields (at most each item's demand in it), every plan whose counts n lie in the
// box costs at least
//
//	(sum of v*demand + sum over classes of min over Lo<=n<=Hi of Scale*cost(n) - n*K(c)) / Scale
//
// rounded up, where runs, charges and purchases that are not in proportion add what they
// must. With Scale 0 a positive numerator shows that the box holds no plan at all. In a plain problem
// a class is a bin.
type Leaf struct {
	Lo, Hi    []int64 // per class, inclusive
	Used      []int8  // per supplier: 1 yes, -1 no, 0 either; nil without suppliers
	Dual      []int64 // per item, >= 0
	Scale     int64
	Weight    []int64 // per criterion, by which a goal counts or its limit, where there are any but the price's Scale
	RoundedUp bool    // rounded up to a sum of costs that counts in the box add up to

	// Search, if not nil, shows by its tree that no plan in the box costs less than the best plan.
	Search *certificate.Search
}

// Packed shows that a plain problem of one class has no plan of one stick less than the best one.
type Packed struct {
	Forced [][]int // sticks that are in such a plan if there is any, by their items, which fill them
	Leaf   Leaf    // of what they leave
}

// Result is what a search found.
type Result struct {
	Patterns   []model.PatternCount // demand met exactly, limits kept; nil when no plan was found
	Assemblies [][]int              // per run: its arcs
	Cost       int64
	Bound      int64        // no plan costs less
	Infeasible bool         // proven: no plan exists
	Leaves     []Leaf       // boxes that together hold every plan; each shows LeafBound or infeasibility
	LeafBound  int64        // what the leaves show by themselves; the rest of Bound, if any, rests on exhausted search
	Packed     *Packed      // shows Bound where the leaves do not; nil: nothing
	Goals      []GoalResult // of Options.Goals, as far as they were looked at
	Stop       Stop
	Stage      Stage // the stage in which bound and plan met, 0 if they did not
	Work       int64
	Tally      meter.Tally // what the work went into, that on later goals included
}

// Conclude says why a search ended that had reached the cost and bound of the result, NoPlan or more without
// a plan.
func (r *Result) Conclude(mt *meter.Meter, stage Stage) {
	r.Work, r.Tally = mt.Used(), *mt.Tally()
	switch {
	case r.Bound >= r.Cost:
		r.Stop, r.Bound, r.Stage = Proven, r.Cost, stage
		r.LeafBound = min(r.LeafBound, r.Cost)
	case mt.Ended():
		r.Stop = Ended
	case mt.Gone():
		r.Stop = Interrupted
	case !mt.Left():
		r.Stop = WorkLimit
	default:
		r.Stop = Stuck
	}
	if r.Cost >= NoPlan {
		r.Cost, r.Infeasible = 0, r.Stop == Proven
	}
}
