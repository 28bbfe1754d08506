package plain

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
)

// residualProblem is the problem that fixed patterns leave, with numbers of its own for the items that are left:
// relaxations and lists then have no rows for the others.
type residualProblem struct {
	model.Problem
	item  []int // of the residual problem -> of the whole
	fixed []model.PatternCount
	spent int64 // the cost of the fixed patterns
}

// residualOf returns the problem that fixed patterns leave, or nil if no pieces are left.
func residualOf(p *model.Problem, fixed []model.PatternCount) *residualProblem {
	q := residualProblem{fixed: fixed, spent: model.Cost(p, fixed)}
	left, pieces := p.Demands(), int64(0)
	q.Bins = slices.Clone(p.Bins)
	for _, c := range fixed {
		q.Bins[c.Bin].Limit -= c.Count
		for _, u := range c.Uses {
			left[u.Item] -= u.N * c.Count
		}
	}
	for i, n := range left {
		if n > 0 {
			q.Items = append(q.Items, model.Item{Size: p.Items[i].Size, Demand: n})
			q.item = append(q.item, i)
			pieces += n
		}
	}
	if pieces == 0 {
		return nil
	}
	for b := range q.Bins {
		q.Bins[b].Limit = min(q.Bins[b].Limit, pieces)
	}
	return &q
}

// joined returns the plan of the whole problem that the fixed patterns and a plan of the residual problem make.
func (q *residualProblem) joined(plan []model.PatternCount) []model.PatternCount {
	out := slices.Clone(q.fixed)
	for _, c := range plan {
		uses := make([]model.Use, len(c.Uses))
		for t, u := range c.Uses {
			uses[t] = model.Use{Item: q.item[u.Item], N: u.N}
		}
		out = append(out, model.PatternCount{Pattern: model.Pattern{Bin: c.Bin, Uses: uses}, Count: c.Count})
	}
	return merged(out)
}

// merged joins equal patterns.
func merged(cols []model.PatternCount) []model.PatternCount {
	var out []model.PatternCount
next:
	for _, c := range cols {
		for k := range out {
			if out[k].Bin == c.Bin && slices.Equal(out[k].Uses, c.Uses) {
				out[k].Count += c.Count
				continue next
			}
		}
		out = append(out, c)
	}
	return out
}

// runRest plans a residual problem in a run of its own.
func (r *solver) runRest(q *residualProblem, run *solver) {
	run.p, run.rng = &q.Problem, r.rng
	if run.solve(); run.plan != nil {
		r.tryIncumbent(q.joined(run.plan))
	}
}

// listRest plans a residual problem by lists. The duals are those of the whole problem or of another residual problem, in
// the numbering of the whole. It reports whether it is certain that no plan for the rest beats the incumbent, or the plan
// found.
func (r *solver) listRest(q *residualProblem, by *master.Duals, mt *meter.Meter) (certain bool) {
	plan, certain := q.cheapest(by, r.cost-q.spent, mt)
	if plan != nil {
		r.tryIncumbent(q.joined(plan))
	}
	return certain
}

// cheapest finds the cheapest plan of the residual problem below a cutoff by lists. The plan is nil if none was found;
// certain reports that there is none, or that no plan is cheaper.
func (q *residualProblem) cheapest(by *master.Duals, cutoff int64, mt *meter.Meter) (plan []model.PatternCount, certain bool) {
	if by.Scale == 0 {
		return nil, false
	}
	value := make([]int64, len(q.item))
	for k, i := range q.item {
		value[k] = max(by.Item[i], 1)
	}
	f := master.NewFamilies(&q.Problem)
	d, ok := f.DualsOf(value, by.Scale, mt)
	if !ok {
		return nil, false
	}
	x := listing.Box{Families: f, Bounds: f.Root, Duals: []master.Duals{d}, Most: effort(residualList, false)}
	x.Most.Steps = residualWork
	found, certain := x.Cheapest(cutoff, mt)
	if found == nil {
		return nil, certain
	}
	return exact(&q.Problem, found), certain
}
