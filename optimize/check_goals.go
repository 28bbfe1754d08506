package optimize

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// weights are the weights of a plan's results in a leaf.
type weights struct {
	cost, sticks, cuts, splices int64
	worth                       int64 // of offcuts, which count in favor of a plan
	offcuts                     []longOffcut
}

// longOffcut is the value of an offcut of at least a length.
type longOffcut struct {
	length measure.Length
	value  int64
}

// goal is the goal that a proof is for.
type goal struct {
	at      int          // in Rules.Goals
	results []GoalResult // of the plan, those before it and its own
}

// weights returns the weights of a leaf.
func (e *ruleEvidence) weights(l *leaf) (w weights) {
	if e.goal == nil {
		w.cost = l.Scale
		return w
	}
	for k := range e.goal.results {
		r := &e.goal.results[k]
		v, length := l.Scale, r.Bound
		if k < e.goal.at {
			v, length = l.Values[e.numbers+k], r.Value
		} else if length < math.MaxInt64 {
			length++ // a length that the bound excludes
		}
		switch r.Goal {
		case GoalCost:
			w.cost = v
		case GoalSticks:
			w.sticks = v
		case GoalOffcutValue:
			w.worth = v
		case GoalLongestOffcut:
			w.offcuts = append(w.offcuts, longOffcut{measure.Length(length), v})
		case GoalCuts:
			w.cuts = v
		case GoalSplices:
			w.splices = v
		}
	}
	return w
}

// within returns the contribution of the results of the earlier goals, and of the required offcuts, to a
// leaf's sum.
func (e *ruleEvidence) within(l *leaf, unit int64) (sum int128) {
	if e.goal == nil {
		return sum
	}
	for k := range e.goal.results {
		r := &e.goal.results[k]
		v, budget := l.Scale, int64(0)
		if k < e.goal.at {
			v, budget = l.Values[e.numbers+k], r.Value
		}
		switch r.Goal {
		case GoalCost:
			sum = sum.add(mul(-v, budget/unit))
		case GoalOffcutValue:
			sum = sum.add(mul(v, budget))
		case GoalLongestOffcut:
			sum = sum.add(mul(v, 1))
		case GoalPatterns: // not part of any leaf
		default:
			sum = sum.add(mul(-v, budget))
		}
	}
	return sum
}

// baseline returns the worth of a stick before it is cut, which its offcuts have to make up for.
func (e *ruleEvidence) baseline(cl *ruleClass) (worth int64) {
	switch {
	case !cl.stick.Rack:
		return 0
	case len(cl.stick.Defects) == 0:
		return offcutWorth(e.p, cl.stick.Length)
	}
	for _, w := range cl.clear {
		worth += offcutWorth(e.p, w.To-w.From) // at most 1<<40 each
	}
	return worth
}

// gain is the value that a pattern gains if its offcut has at least a length.
type gain struct {
	length measure.Length
	value  int64
}

// gains returns the gains from offcuts, by ascending length from zero.
func (e *ruleEvidence) gains(w *weights) ([]gain, outcome) {
	lengths := []measure.Length{0}
	if w.cuts > 0 {
		lengths = append(lengths, 1)
	}
	if w.worth > 0 {
		for _, v := range e.p.Rules.OffcutValues {
			lengths = append(lengths, v.Length)
		}
	}
	for _, o := range w.offcuts {
		if o.value > 0 {
			lengths = append(lengths, o.length)
		}
	}
	slices.Sort(lengths)
	var out []gain
	for _, l := range slices.Compact(lengths) {
		v := mul(w.worth, offcutWorth(e.p, l))
		for _, o := range w.offcuts {
			if l >= o.length {
				v = v.add(mul(o.value, 1))
			}
		}
		if l > 0 {
			v = v.add(mul(-w.cuts, 1)) // the last cut, which separates it
		}
		x, ok := v.int64()
		if !ok || x >= maxValue || x <= -maxValue {
			return nil, beyond
		}
		out = append(out, gain{l, x})
	}
	return out, worked
}

// checkGoals verifies the proofs of the bounds of goals after the cost. It returns, in words, the
// bounds that are not shown.
func checkGoals(p *Problem, plan *Plan, steps *effort) ([]string, error) {
	var open []string
	var e *ruleEvidence
	for k := range plan.Goals {
		r := &plan.Goals[k]
		field := func(err error) error {
			if c, ok := err.(*CheckError); ok {
				return &CheckError{fmt.Sprintf("goals[%d].%s", k, c.Field), c.Value, c.Want}
			}
			return err
		}
		shown := evident(p, r) || r.Goal == GoalPatterns && steps.spend(p.fewestSteps()) && r.Bound <= p.fewestPatterns()
		if e == nil && (!shown || r.Proof != Proof{}) {
			e = gatherRules(p, steps)
		}
		if r.Proof == (Proof{}) {
			if !shown && !(r.Goal == GoalLongestOffcut && e.roomiest(r.Bound)) {
				open = append(open, fmt.Sprintf("bound %d of the goal %v", r.Bound, r.Goal))
			}
			continue
		}
		if r.Goal == GoalCost || r.Goal == GoalPatterns {
			return nil, field(wrong("proof.kind", r.Proof.kind, fmt.Sprintf("%v for the goal %v", ProofNone, r.Goal)))
		}
		x, err := r.Proof.open(steps)
		if err != nil {
			return nil, field(err)
		}
		e.goal = &goal{k, plan.Goals[:k+1]}
		if err := e.checkGoal(x); err != nil {
			return nil, field(err)
		}
	}
	return open, nil
}

// evident reports whether the bound of a goal follows directly from the problem.
func evident(p *Problem, r *GoalResult) bool {
	bound, more := glance(p, r.Goal)
	return r.Goal == GoalCost || more && r.Bound >= bound || !more && r.Bound <= bound
}

// roomiest reports whether no offcut can be longer than the bound because every pattern has a
// piece.
func (e *ruleEvidence) roomiest(bound int64) bool {
	if e.short {
		return false
	}
	for c := range e.class {
		cl := &e.class[c]
		if !e.steps.spend(int64(8 * len(e.articles))) {
			return false
		}
		least := int64(math.MaxInt64) // doubled
		for k := range e.articles {
			a := &e.articles[k]
			if a.grade > cl.stick.Grade || a.begun && a.lot != e.lots[cl.lot] {
				continue
			}
			for _, w := range a.ways {
				least = min(least, w.size)
			}
		}
		for _, w := range cl.clear {
			left := 2 * int64(w.To-w.From)
			if least > left+2*int64(e.p.Kerf) && len(cl.clear) == 1 {
				continue // nothing is cut from it
			}
			if len(cl.clear) == 1 {
				left -= least
			}
			if left > 0 && left/2 > bound {
				return false
			}
		}
	}
	return true
}

// checkGoal verifies the proof of a goal's bound.
func (e *ruleEvidence) checkGoal(x *exhibit) error {
	bound := e.goal.results[e.goal.at].Bound
	switch {
	case x.kind == ProofDual && x.leaves != 1:
		return wrong("proof.leaves", fmt.Sprintf("%d leaves", x.leaves), fmt.Sprintf("one for a proof of kind %v", x.kind))
	case x.kind == ProofTree && x.leaves < 2:
		return wrong("proof.leaves", fmt.Sprintf("%d leaves", x.leaves), "several for a tree")
	case x.kind != ProofDual && x.kind != ProofTree:
		return wrong("proof.kind", x.kind, "none, dual or tree for a goal after the cost")
	case x.leafBound != bound:
		return wrong("proof.leaf_bound", x.leafBound, fmt.Sprintf("the goal's bound, %d", bound))
	}
	covered := coverUnknown
	if x.manageable() {
		if err := e.form(x); err != nil {
			return err
		}
		covered = e.covered(x)
	}
	switch covered {
	case coverHole:
		return wrong("proof.leaves", "boxes with a hole between them", "boxes that hold every count of sticks")
	case coverUnknown:
		return wrong("proof.leaves", fmt.Sprintf("%d leaves", x.leaves), "leaves of which it can be shown that they hold every count of sticks")
	}
	var known recent[ruleHolding]
	for k, l := range x.all {
		if !e.steps.awaited(int64(len(l.Lo) + len(l.Values) + len(l.Parts) + len(e.p.Runs))) {
			return e.steps.cause
		}
		h, seen := known.of(l)
		if !seen {
			*h = *e.holding(l)
		}
		switch kept, o := e.keeps(l, x.unit, h); {
		case o == beyond:
			return tooGreat(k)
		case !kept:
			return wrong("proof.leaf_bound", x.leafBound, fmt.Sprintf("a bound that leaf %d shows", k))
		}
	}
	return nil
}

// keeps reports whether a leaf shows that no plan in its box, as good in the earlier goals, is
// better than the bound of the goal.
func (e *ruleEvidence) keeps(l *leaf, unit int64, h *ruleHolding) (bool, outcome) {
	sum, _, o := e.sum(l, unit, h)
	if o != worked {
		return false, o
	}
	// If a plan were better than the bound, the sum would be zero or less.
	r := &e.goal.results[e.goal.at]
	switch r.Goal {
	case GoalLongestOffcut: // the sum already contains the longer offcut
	case GoalOffcutValue:
		sum = sum.add(mul(l.Scale, r.Bound)).add(mul(l.Scale, 1))
	default:
		sum = sum.add(mul(-l.Scale, r.Bound)).add(mul(l.Scale, 1))
	}
	if sum.over {
		return false, beyond
	}
	if sum.sign() > 0 {
		return true, worked
	}
	// Otherwise the leaf may show that no plan in the box has a cost within the budget.
	cost := l.Values[e.numbers]
	budget := e.goal.results[0].Value
	if !l.Sums || budget == math.MaxInt64 {
		return false, worked
	}
	least := int64(0)
	if cost > 0 {
		sum = sum.add(mul(cost, budget/unit))
		least = atLeast(sum, cost, unit)
	}
	outlay := e.outlay(l)
	if outlay == nil {
		return false, worked
	}
	v, ok := outlay.next(least, budget+1, e.steps)
	return ok && v > budget, worked
}
