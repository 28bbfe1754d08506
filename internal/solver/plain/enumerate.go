package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/setcover"
)

// enumerateBox lists the patterns that a plan in the box below the cutoff can use by all of the duals, and
// searches them. It reports whether there is no better plan there than the incumbent; then proof shows it. It
// gives up beyond limit patterns or work steps.
func (r *solver) enumerateBox(box bound.Box, by []master.Duals, cutoff int64, limit int, cuts bool, work int64) (proof listing.Proof, closed bool) {
	x := listing.Box{Families: r.master.Families, Bounds: box, Duals: by, Most: effort(limit, cuts), Record: true}
	plan, closed := x.Run(cutoff, r.mt.Sub(work))
	if plan != nil {
		r.tryIncumbent(exact(r.p, plan))
	}
	return x.Proof, closed
}

func effort(limit int, cuts bool) listing.Effort {
	return listing.Effort{Effort: master.Effort{Columns: limit, Visits: mostVisits * limit}, Branching: setcover.Branching{Cuts: cuts}}
}

// exact returns a plan that meets the demand without surplus.
func exact(p *model.Problem, plan []rules.ColumnCount) []model.PatternCount {
	cols, _ := model.Exact(p, rules.ToPatterns(plan))
	return cols
}

// mark puts a proof into a leaf.
func mark(l *search.Leaf, proof *listing.Proof) {
	if proof.Search != nil {
		l.Search = proof.Search
	}
	if d := proof.Alone; d != nil {
		l.Dual, l.Scale, l.RoundedUp = slices.Clone(d.Item), d.Scale, true
	}
}
