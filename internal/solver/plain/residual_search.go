package plain

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/knapsack"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/setcover"
)

// solve finds the cheapest plan for the part below cutoff, in terms of the whole, by
// duals that suit the whole or what else is left of it. Nil is none; certain is that there
// is none, and else that none is cheaper.
//
// It asks for plans that cost hardly more than the duals say, then for dearer ones: the
// cheapest one is found by the shortest list of patterns that shows it, which is often
// short where the list up to the cutoff would be far too long.
func (q *residualProblem) solve(by *boxDuals, cutoff int64, mt *meter.Meter) (plan []model.PatternCount, certain bool) {
	s, ok := q.duals(by, mt)
	if !ok {
		return nil, false
	}
	num := bound.Numerator(&q.Problem, s.box, s.dual, s.best, s.scale)
	base := num.CeilDiv(s.scale)
	for gap := max(1, min(cutoff-base, base)/firstGapShare); mt.Left(); gap *= 2 {
		upTo := min(base+gap, cutoff)
		cols, ok := q.cheapestBelow(&s, upTo, mt)
		if cols != nil {
			return q.original(cols), ok
		}
		if !ok || upTo == cutoff {
			return nil, ok
		}
	}
	return nil, false
}

// duals is what a bound of the residual problem by such duals rests on.
func (q *residualProblem) duals(by *boxDuals, mt *meter.Meter) (s boxDuals, ok bool) {
	s = boxDuals{box: bound.Full(&q.Problem), scale: by.scale, best: make([]int64, len(q.Bins))}
	for _, i := range q.item {
		s.dual = append(s.dual, max(by.dual[i], 1))
	}
	var targets []knapsack.Target
	for b, bin := range q.Bins {
		if s.best[b] = bin.Cost * s.scale; bin.Limit > 0 {
			targets = append(targets, knapsack.Target{Cap: bin.Cap, Need: s.best[b]})
		}
	}
	var t knapsack.Table
	if s.scale == 0 || !t.BuildFor(targets, q.Items, q.Demands(), s.dual, pricing.MaxLabels, mt) {
		return s, false
	}
	for b, bin := range q.Bins {
		if bin.Limit > 0 {
			s.best[b] = max(s.best[b], t.Best(bin.Cap))
		}
	}
	return s, true
}

// cheapestBelow searches for the cheapest plan of the part below a cost, and reports whether it went
// through all there are.
func (q *residualProblem) cheapestBelow(s *boxDuals, cost int64, mt *meter.Meter) ([]model.PatternCount, bool) {
	g, closed, ok := filterOf(&q.Problem, *s, cost)
	if closed || !ok {
		return nil, closed
	}
	pats, ok := enumerate(&q.Problem, nil, s.box, []reducedCostFilter{g}, residualList, mt)
	if !ok {
		return nil, false
	}
	return setcover.Solve(&q.Problem, s.box, pats, cost, false, mt.Sub(residualWork))
}
