package engine

import (
	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/cover"
	"example.com/longpoint/internal/dual"
	"example.com/longpoint/internal/knapsack"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/model"
)

// A part of a problem is searched by lists of so many patterns at most, each with so many
// steps. The first goes such a part of the way from its bound to the cutoff.
const (
	partList  = 3_000
	partWork  = 4_000_000
	firstPart = 64
)

// solve finds the cheapest plan for the part below cutoff, in terms of the whole, by
// values that suit the whole or what else is left of it. Nil is none; certain is that there
// is none, and else that none is cheaper.
//
// It asks for plans that cost hardly more than the values say, then for dearer ones: the
// cheapest one is found by the shortest list of patterns that shows it, which is often
// short where the list up to the cutoff would be far too long.
func (q *part) solve(by *state, cutoff int64, mt *meter.Meter) (plan []model.Column, certain bool) {
	s, ok := q.state(by, mt)
	if !ok {
		return nil, false
	}
	num := dual.Numerator(&q.Problem, s.box, s.value, s.best, s.scale)
	base := num.CeilDiv(s.scale)
	for gap := max(1, min(cutoff-base, base)/firstPart); mt.Left(); gap *= 2 {
		upTo := min(base+gap, cutoff)
		cols, ok := q.below(&s, upTo, mt)
		if cols != nil {
			return q.original(cols), ok
		}
		if !ok || upTo == cutoff {
			return nil, ok
		}
	}
	return nil, false
}

// state is what a bound of the part by such values rests on.
func (q *part) state(by *state, mt *meter.Meter) (s state, ok bool) {
	s = state{box: dual.Full(&q.Problem), scale: by.scale, best: make([]int64, len(q.Bins))}
	for _, i := range q.item {
		s.value = append(s.value, max(by.value[i], 1))
	}
	var targets []knapsack.Target
	for b, bin := range q.Bins {
		if s.best[b] = bin.Cost * s.scale; bin.Limit > 0 {
			targets = append(targets, knapsack.Target{Cap: bin.Cap, Need: s.best[b]})
		}
	}
	var t knapsack.Table
	if s.scale == 0 || !t.BuildFor(targets, q.Items, q.Demands(), s.value, colgen.MaxSteps, mt) {
		return s, false
	}
	for b, bin := range q.Bins {
		if bin.Limit > 0 {
			s.best[b] = max(s.best[b], t.Best(bin.Cap))
		}
	}
	return s, true
}

// below searches for the cheapest plan of the part below a cost, and reports whether it went
// through all there are.
func (q *part) below(s *state, cost int64, mt *meter.Meter) ([]model.Column, bool) {
	g, closed, ok := gaugeOf(&q.Problem, *s, cost)
	if closed || !ok {
		return nil, closed
	}
	pats, ok := listed(&q.Problem, nil, s.box, []gauge{g}, partList, mt)
	if !ok {
		return nil, false
	}
	return cover.Solve(&q.Problem, s.box, pats, cost, false, mt.Sub(partWork))
}
