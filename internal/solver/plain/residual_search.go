package plain

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
)

// solve finds the cheapest plan of the residual problem below cutoff, in the numbering of the whole problem.
// The duals are those of the whole problem or of another residual problem in the same numbering. The plan is
// nil if none was found; certain reports that there is none, or that no plan is cheaper.
//
// It looks for plans that cost hardly more than the bound, then for more expensive ones, until it finds one.
// The list of patterns for the cheapest plan is often short, even if the list up to the cutoff is far too
// long.
func (q *residualProblem) solve(by *master.Duals, cutoff int64, mt *meter.Meter) (plan []model.PatternCount, certain bool) {
	f := master.NewFamilies(&q.Problem)
	d, ok := q.duals(f, by, mt)
	if !ok {
		return nil, false
	}
	base := max(0, f.BoundOf(&d, bound.Full(&q.Problem)))
	for gap := max(1, min(cutoff-base, base)/firstGapShare); mt.Left(); gap *= 2 {
		upTo := min(base+gap, cutoff)
		cols, ok := q.cheapestBelow(f, &d, upTo, mt)
		if cols != nil {
			return q.original(cols), ok
		}
		if !ok || upTo == cutoff {
			return nil, ok
		}
	}
	return nil, false
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

// cheapestBelow searches for the cheapest plan of the residual problem below a cost, and reports
// whether the search was complete.
func (q *residualProblem) cheapestBelow(f *master.Families, d *master.Duals, cost int64, mt *meter.Meter) ([]model.PatternCount, bool) {
	x := listing.Box{Families: f, Bounds: bound.Full(&q.Problem), Duals: []master.Duals{*d}, Most: effort(residualList, false)}
	x.Most.Steps = residualWork
	plan, ok := x.Run(cost, mt)
	if plan == nil {
		return nil, ok
	}
	return exact(&q.Problem, plan), ok
}
