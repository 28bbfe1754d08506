package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
)

// residualProblem is a problem with some of the items of another.
type residualProblem struct {
	model.Problem
	item []int // of the part -> of the whole
}

// residualOf returns the problem of cutting the pieces left from the sticks that cols do not use, or nil if
// no pieces are left.
func residualOf(p *model.Problem, left []int64, cols []model.PatternCount) *residualProblem {
	var q residualProblem
	pieces := int64(0)
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
	q.Bins = slices.Clone(p.Bins)
	for _, c := range cols {
		q.Bins[c.Bin].Limit -= c.Count
	}
	for b := range q.Bins {
		q.Bins[b].Limit = min(q.Bins[b].Limit, pieces)
	}
	return &q
}

// original converts a plan of the residual problem to the numbering of the whole problem.
func (q *residualProblem) original(cols []model.PatternCount) []model.PatternCount {
	out := make([]model.PatternCount, len(cols))
	for k, c := range cols {
		uses := make([]model.Use, len(c.Uses))
		for t, u := range c.Uses {
			uses[t] = model.Use{Item: q.item[u.Item], N: u.N}
		}
		out[k] = model.PatternCount{Pattern: model.Pattern{Bin: c.Bin, Uses: uses}, Count: c.Count}
	}
	return out
}

// neighborhoodSearch repeatedly plans a few sticks of the incumbent again, until the given number
// of consecutive tries have failed.
func (r *solver) neighborhoodSearch(tries int) {
	if r.plan == nil {
		return
	}
	p := rules.Of(r.p)
	s := heuristic.Neighborhoods{
		Problem: p, Dual: r.root.Item, Scale: r.root.Scale, Random: &r.rng,
		Plan:  func() []rules.ColumnCount { return p.FromPatterns(r.plan) },
		Cost:  func() int64 { return r.cost },
		Solve: func(fixed []rules.ColumnCount) { r.planAnew(rules.ToPatterns(fixed)) },
		Done:  r.done,
	}
	s.Search(tries)
}

// planAnew plans the pieces that the fixed part of the incumbent leaves.
func (r *solver) planAnew(fixed []model.PatternCount) {
	left, spent := r.p.Demands(), int64(0)
	for _, c := range fixed {
		spent += r.p.Bins[c.Bin].Cost * c.Count
		for _, u := range c.Uses {
			left[u.Item] -= u.N * c.Count
		}
	}
	rest := residualOf(r.p, left, fixed)
	if rest == nil {
		return
	}
	if sub, _ := rest.solve(&r.root, r.cost-spent, r.mt.Sub(neighborWork)); sub != nil {
		r.tryIncumbent(merged(append(fixed, sub...)))
	}
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
