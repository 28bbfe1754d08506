package optimize

import (
	"context"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// criterionOf is the solver's criterion for each goal, below zero if there is none.
var criterionOf = [...]int{GoalCost: rules.Price, GoalSticks: rules.Sticks, GoalOffcutValue: rules.Salvage,
	GoalLongestOffcut: -1, GoalPatterns: -1, GoalCuts: rules.Cuts, GoalSplices: rules.Splices}

// showGoals adds the proofs of the bounds of the goals after the cost, as far as Check can verify
// them.
func (in *instance) showGoals(ctx context.Context, plan *Plan, found []search.GoalResult) error {
	var e *ruleEvidence
	for k := range plan.Goals {
		r := &plan.Goals[k]
		if k == 0 || k >= len(found) || len(found[k].Leaves) == 0 || evident(in.problem, r) || criterionOf[r.Goal] < 0 && r.Goal != GoalLongestOffcut {
			continue
		}
		steps := hurried(selfCheckSteps, func() error { return meter.Ended(ctx) })
		if e == nil {
			e = gatherRules(in.problem, &steps)
		}
		if e.steps = &steps; r.Goal == GoalLongestOffcut && e.roomiest(r.Bound) {
			continue
		}
		e.goal = &goal{k, plan.Goals[:k+1]}
		leaves, _, ok := in.leaves(found[k].Leaves, e)
		if !ok {
			continue
		}
		pr := &unsealed{kind: ProofTree, Evidence: certificate.Evidence{Unit: in.costUnit, LeafBound: r.Bound, Leaves: leaves}}
		if len(leaves) == 1 {
			pr.kind = ProofDual
		}
		if !e.bears(pr) {
			continue
		}
		e.shortenGoal(pr)
		var err error
		if r.Proof, err = pr.seal(); err != nil {
			return err
		}
	}
	return nil
}

// bears reports whether the leaves show the goal's bound; it sets Sums for those that need it.
func (e *ruleEvidence) bears(pr *unsealed) bool {
	if len(pr.Leaves) == 0 || e.covered(pr.exhibit()) != coverFull {
		return false
	}
	var known recent[ruleHolding]
	for k := range pr.Leaves {
		l := &pr.Leaves[k]
		h, seen := known.of(l)
		if !seen {
			*h = *e.holding(l)
		}
		kept, o := e.keeps(l, pr.Unit, h)
		if !kept && o == worked {
			l.Sums = true
			kept, o = e.keeps(l, pr.Unit, h)
		}
		if !kept || o != worked {
			return false
		}
	}
	return true
}

// shortenGoal makes a proof of several leaves take fewer bytes.
func (e *ruleEvidence) shortenGoal(pr *unsealed) {
	if len(pr.Leaves) < 2 {
		return
	}
	short := *pr
	short.Leaves = slices.Clone(pr.Leaves)
	shorten(short.Leaves, func(values *leaf) func(*leaf) bool {
		h := e.holding(values)
		return func(l *leaf) bool {
			kept, o := e.keeps(l, pr.Unit, h)
			return kept && o == worked
		}
	})
	if e.checkGoal(short.exhibit()) == nil {
		pr.Leaves = short.Leaves
	}
}

// weigh sets the weights of the earlier goals in a leaf.
func (e *ruleEvidence) weigh(l *leaf, in *search.Leaf, offcut int64) {
	for k := range e.goal.at {
		v := int64(0)
		switch c := criterionOf[e.goal.results[k].Goal]; {
		case c >= 0 && c < len(in.Weight):
			v = in.Weight[c]
		case e.goal.results[k].Goal == GoalLongestOffcut:
			v = offcut
		}
		l.Values[e.numbers+k] = v
	}
	if e.goal.results[e.goal.at].Goal == GoalLongestOffcut {
		l.Scale = offcut
	}
}
