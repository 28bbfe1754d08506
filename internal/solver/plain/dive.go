package plain

import (
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
)

// mostBacktracksOfOne limits the backtracks of a dive with one kind of stick.
const mostBacktracksOfOne = 6

// mostBacktracks returns how often a dive may backtrack.
func (r *solver) mostBacktracks() int {
	switch {
	case r.p.Pieces() > maxPieces:
		return 0
	case !r.whole():
		return 1
	}
	return mostBacktracksOfOne
}

// dive rounds the relaxation to a plan. A positive diversify perturbs the choices, each number
// differently.
func (r *solver) dive(diversify, backtracks int) {
	d := &heuristic.Dive{
		Master: r.master, Meter: r.mt, Random: &r.rng, Diversify: diversify, Backtracks: backtracks,
		Cost: func() int64 { return r.cost }, Bound: r.bound, Dearest: true,
		Offer: func(plan []rules.ColumnCount) {
			if cols, ok := model.Exact(r.p, rules.ToPatterns(plan)); ok {
				r.tryIncumbent(cols)
			}
		},
	}
	d.Finish = func() bool { return r.finish(d) }
	d.Run()
}

// finish completes a dive that leaves only some items, by the duals of the relaxation of the
// residual problem. It reports whether it is certain that no plan for the rest beats the incumbent,
// or the plan found.
func (r *solver) finish(d *heuristic.Dive) (certain bool) {
	rest := residual.Of(r.p, rules.ToPatterns(d.Columns()))
	if rest == nil {
		return false
	}
	by := &r.root
	if d.Optimal {
		by = new(master.Duals)
		by.Item, by.Scale = r.master.ScaledDuals()
	}
	return r.listRest(rest, by, r.mt.Sub(finishWork))
}
