package plain

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
)

// solve finds the cheapest plan of the residual problem below cutoff, in the numbering of the whole problem.
// The duals are those of the whole problem or of another residual problem in the same numbering. The plan is
// nil if none was found; certain reports that there is none, or that no plan is cheaper.
func (q *residualProblem) solve(by *master.Duals, cutoff int64, mt *meter.Meter) (plan []model.PatternCount, certain bool) {
	f := master.NewFamilies(&q.Problem)
	d, ok := q.duals(f, by, mt)
	if !ok {
		return nil, false
	}
	x := listing.Box{Families: f, Bounds: f.Root, Duals: []master.Duals{d}, Most: effort(residualList, false)}
	x.Most.Steps = residualWork
	found, certain := x.Cheapest(cutoff, mt)
	if found == nil {
		return nil, certain
	}
	return q.original(exact(&q.Problem, found)), certain
}

// duals restricts duals of the whole problem to the residual problem.
func (q *residualProblem) duals(f *master.Families, by *master.Duals, mt *meter.Meter) (d master.Duals, ok bool) {
	if by.Scale == 0 {
		return d, false
	}
	value := make([]int64, len(q.item))
	for k, i := range q.item {
		value[k] = max(by.Item[i], 1)
	}
	return f.DualsOf(value, by.Scale, mt)
}
