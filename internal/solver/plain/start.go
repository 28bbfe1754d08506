package plain

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// quickPlans calls yield with quick plans, each cheaper than those before.
func quickPlans(p *model.Problem, mt *meter.Meter, yield func([]model.PatternCount)) {
	least := int64(search.NoPlan)
	heuristic.Quick(rules.Of(p), mt, func(plan []rules.ColumnCount) {
		cost := int64(0)
		for _, q := range plan {
			cost += q.N * p.Bins[q.Column.Fill.Bin].Cost
		}
		if cost < least {
			least = cost
			yield(rules.ToPatterns(plan))
		}
	})
}

// completeStart completes the start from the caller to one plan or several.
func (r *solver) completeStart() {
	p := rules.Of(r.p)
	heuristic.Complete(p, p.FromPatterns(r.start), r.mt, func(plan []rules.ColumnCount) {
		r.tryIncumbent(residual.Merged(rules.ToPatterns(plan)))
	})
}
