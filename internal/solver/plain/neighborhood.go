package plain

import (
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
)

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
	if rest := residual.Of(r.p, fixed); rest != nil {
		r.listRest(rest, &r.root, r.mt.Sub(neighborWork))
	}
}
