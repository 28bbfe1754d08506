package plain

import (
	"example.com/longpoint/internal/solver/residual"
	"slices"

	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
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
	d.HandOver = func() { r.handOver(d) }
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

// handOver plans the residual problem of a dive in a separate run, with the sticks that the
// master's box allows.
func (r *solver) handOver(d *heuristic.Dive) {
	rest := residual.Of(r.p, rules.ToPatterns(d.Columns()))
	hi := slices.Clone(r.master.Box.Hi)
	for _, c := range rest.Fixed {
		hi[c.Bin] -= c.Count
	}
	for b := range rest.Bins {
		rest.Bins[b].Limit = max(min(rest.Bins[b].Limit, hi[b]), 0)
	}
	work := min(handOverWork*d.Pieces, mostHandOverWork) * max(r.patience, 1)
	r.runRest(rest, &solver{mt: r.mt.Sub(work), cost: r.cost - rest.Spent, nested: true, startPatterns: r.hints(d, rest)})
}

// hints returns the patterns that the relaxation uses, reduced to the residual demand, in the
// numbering of the residual problem.
func (r *solver) hints(d *heuristic.Dive, rest *residual.Problem) []model.Pattern {
	at := make([]int, len(r.p.Items))
	for k, i := range rest.Item {
		at[i] = k
	}
	var out []model.Pattern
	for _, j := range d.InUse {
		pat := *r.master.Columns[j].Fill
		var uses []model.Use
		for _, u := range pat.Uses {
			if n := min(u.N, d.Left[u.Item]); n > 0 {
				uses = append(uses, model.Use{Item: at[u.Item], N: n})
			}
		}
		if len(uses) > 0 {
			out = append(out, model.Pattern{Bin: pat.Bin, Uses: uses})
		}
	}
	return out
}
