package optimize

import (
	"math"

	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/measure"
)

// levels returns the results of a plan for each goal; beyond the cost the bounds are trivial.
func levels(q *Problem, plan *Plan) []GoalResult {
	c := &ruleCheck{p: q, plan: plan}
	if len(q.Rules.Goals) == 0 || c.runs() != nil || c.patterns() != nil {
		return nil // the checker of the plan finds the error
	}
	pieces, longest, dearest, offcuts := int64(len(plan.Parts)), measure.Length(0), int64(0), int64(1)
	for i := range q.Pieces {
		pieces += quantity(&q.Pieces[i])
	}
	for i := range q.Sticks {
		longest = max(longest, clearest(&q.Sticks[i]))
		offcuts = max(offcuts, int64(len(q.Sticks[i].Defects)+1))
	}
	for _, w := range q.Rules.OffcutValues {
		dearest = max(dearest, w.Value)
	}
	var out []GoalResult
	proven := true
	for _, g := range q.Rules.Goals {
		l := GoalResult{Goal: g}
		l.Value, _ = c.level(g)
		switch g {
		case GoalCost:
			l.Bound = plan.Bound
		case GoalSticks:
			l.Bound = 1
		case GoalPatterns:
			l.Bound = min(q.fewestPatterns(), l.Value)
		case GoalLongestOffcut:
			l.Bound = int64(longest)
		case GoalOffcutValue: // there are no more cut sticks than pieces
			var ok bool
			if l.Bound, ok = mul(dearest*min(offcuts, 1<<20), pieces).int64(); !ok || offcuts > 1<<20 {
				l.Bound = math.MaxInt64
			}
		}
		proven = proven && l.Bound == l.Value
		l.Proven = proven
		out = append(out, l)
	}
	return out
}

// levels records the plan's result for each goal.
func (in *instance) levels(plan *Plan, levels []search.GoalResult) {
	c := &ruleCheck{p: in.problem, plan: plan}
	if len(in.problem.Rules.Goals) == 0 || c.runs() != nil || c.patterns() != nil {
		return
	}
	for k, g := range in.problem.Rules.Goals {
		l := GoalResult{Goal: g}
		var more bool
		l.Value, more = c.level(g)
		if k >= len(levels) { // the search is not over
			l.Bound, _ = glance(in.problem, g)
			if g == GoalCost {
				l.Bound = plan.Bound
			}
			if more {
				l.Bound = max(l.Bound, l.Value)
			} else {
				l.Bound = min(l.Bound, l.Value)
			}
			plan.Goals = append(plan.Goals, l)
			continue
		}
		l.Bound = levels[k].Bound
		switch g {
		case GoalCost:
			l.Bound *= in.costUnit
		case GoalLongestOffcut:
			l.Bound = l.Bound * in.unit / in.double
			for i := range in.classes {
				if len(in.classes[i].clear) > 1 {
					// A stretch without pieces may be longer than any offcut that the engine
					// considered.
					l.Bound = max(l.Bound, int64(in.classes[i].usable))
				}
			}
		case GoalPatterns:
			// The engine counts some patterns as different that a person counts as one.
			l.Bound = in.problem.fewestPatterns()
		}
		if more {
			l.Bound = max(l.Bound, l.Value)
		} else {
			l.Bound = min(l.Bound, l.Value)
		}
		l.Proven = l.Bound == l.Value && (k == 0 || plan.Goals[k-1].Proven)
		plan.Goals = append(plan.Goals, l)
	}
}
