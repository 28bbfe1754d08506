package plain

import (
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
)

// enumerateBox lists the patterns that a better plan in the box can use by all of the duals, and searches
// them. It reports whether the box is closed: then no plan in it is better than the incumbent, and rec proves
// it. It gives up beyond limit patterns or work steps.
func (r *solver) enumerateBox(box bound.Box, by []master.Duals, limit int, cuts bool, work int64) (rec recorded, closed bool) {
	plan, rec, closed := searchRecorded(r.master.Families, box, by, r.cost, limit, cuts, r.mt.Sub(work))
	if plan != nil {
		r.tryIncumbent(plan)
	}
	return rec, closed
}

// patternsOf returns the patterns of columns.
func patternsOf(cols []rules.Column) []model.Pattern {
	pats := make([]model.Pattern, len(cols))
	for i := range cols {
		pats[i] = *cols[i].Fill
	}
	return pats
}
