// Package search defines the input and output of a search for plans: options, events, a result. All
// solution methods share it, so callers need not know which one is used.
package search

import (
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
)

// NoPlan stands for the cost if there is no plan: it is above that of any plan.
const NoPlan = math.MaxInt64 / 4

// Options are the goals and the limits of a search.
type Options struct {
	Work int64 // deterministic steps; <= 0 means no limit

	Goals []Goal // lexicographic; the first is LeastPrice; none means LeastPrice alone

	// Patterns is a known lower bound on the number of different patterns in a plan.
	Patterns int64

	Brief bool // spend on later goals at most a share of the work on the first

	// Start is a plan to begin from, or part of one: it keeps the limits, and yields no more of an item
	// than demanded. Nil means none.
	Start *Start

	// Report, if not nil, is called for each better plan and bound, and about once every Tick steps.
	// With Brief, only ticks are reported during later goals. If Report returns false, the search ends.
	Report func(*Event) bool
}

// Start is a plan from outside the search, or part of one.
type Start struct {
	Patterns   []model.PatternCount
	Assemblies [][]int // per run: its arcs, nil if open; nil: all are open
}

// Goal is a goal; goals are lexicographic.
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

// UsualGoals returns the goals of a problem without its own: the least cost and, among the plans of
// least cost, one that is convenient to cut.
func UsualGoals() []Goal { return []Goal{LeastPrice, FewestSticks, FewestSplices, LongestOffcut} }

// GoalResult is the value of a goal that a plan attains, and its bound: no plan that is as good in the
// earlier goals is better. Proven means that value and bound are equal, for this goal and all earlier
// ones.
type GoalResult struct {
	Value, Bound int64
	Proven       bool
	Leaves       []Leaf // boxes that together contain every plan, each with the values that prove the bound
}

// Stop is the reason why a search ended.
type Stop uint8

const (
	Proven Stop = iota + 1
	WorkLimit
	Interrupted // the context ended
	Stuck       // every method was tried
	Ended       // Options.Report returned false
)

// Leaf is a box of stick counts per class, with the values that prove a lower bound on the cost of
// every plan in it.
//
// For any duals v >= 0, with K(c) the greatest dual value of what a stick of class c can yield (of each
// item at most its demand), every plan whose counts n lie in the box costs at least
//
//	(sum of v*demand + sum over classes of min over Lo<=n<=Hi of Scale*cost(n) - n*K(c)) / Scale
//
// rounded up, plus the least cost of runs, charges and purchases that are not proportional. With Scale
// 0 a positive numerator proves that the box contains no plan. In a plain problem a class is a bin.
type Leaf struct {
	Lo, Hi    []int64 // per class, inclusive
	Used      []int8  // per supplier: 1 yes, -1 no, 0 either; nil without suppliers
	Dual      []int64 // per item, >= 0
	Scale     int64
	Weight    []int64 // per criterion: the weight of a goal or of its limit, if others than the price have one (that is Scale)
	RoundedUp bool    // the bound is rounded up to a sum of costs that counts in the box can add up to

	// Search, if not nil, is a search tree that proves that no plan in the box costs less than the best
	// plan.
	Search *certificate.Search
}

// Packed proves that a plain problem of one class has no plan with one stick less than the best plan.
type Packed struct {
	Forced [][]int // full sticks, as their items, that belong to such a plan if there is one
	Leaf   Leaf    // of the rest
}

// Result is the result of a search.
type Result struct {
	Patterns   []model.PatternCount // meets the demand exactly and keeps the limits; nil if no plan was found
	Assemblies [][]int              // per run: its arcs
	Cost       int64
	Bound      int64        // no plan costs less
	Infeasible bool         // proven: no plan exists
	Leaves     []Leaf       // boxes that together contain every plan; each proves LeafBound or infeasibility
	LeafBound  int64        // the bound that the leaves prove; the rest of Bound, if any, relies on exhaustive search
	Root       *Leaf        // of a plain problem, a leaf of all plans, for use if the leaves are too many; nil: none
	RootBound  int64        // the bound that it proves
	Packed     *Packed      // proves Bound if the leaves do not; nil: nothing does
	Goals      []GoalResult // of Options.Goals, as far as the search got
	Stop       Stop
	Stage      Stage // the stage in which bound and plan met, 0 if they did not
	Work       int64
	Tally      meter.Tally // the work by purpose, including that for later goals
}

// Conclude sets why the search ended, from the cost and the bound of the result; the cost is at least
// NoPlan if there is no plan.
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
