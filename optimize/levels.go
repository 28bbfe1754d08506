package optimize

import (
	"math"

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
