package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
)

// mostBacktracksOfOne is how often a dive that comes to nothing takes back a part of what it
// fixed.
const mostBacktracksOfOne = 6

// mostBacktracks is how often a dive into the problem is worth a step back.
func (r *solver) mostBacktracks() int {
	switch {
	case r.p.Pieces() > maxPieces:
		return 0
	case !r.whole():
		return 1
	}
	return mostBacktracksOfOne
}

// dive rounds the relaxation to a plan. Above zero, diversify scatters the choices, each number in another way.
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

// finish completes a plan that leaves only some items to be cut, by the duals of the
// relaxation of what is left, and reports whether there is certainly none that is better than the best,
// or none better than the one found.
func (r *solver) finish(d *heuristic.Dive) (certain bool) {
	cols := rules.ToPatterns(d.Columns())
	rest := residualOf(r.p, d.Left, cols)
	if rest == nil {
		return false
	}
	by := &r.root
	if d.Optimal {
		by = new(master.Duals)
		by.Item, by.Scale = r.master.ScaledDuals()
	}
	sub, certain := rest.solve(by, r.cost-model.Cost(r.p, cols), r.mt.Sub(finishWork))
	if sub != nil {
		r.tryIncumbent(merged(append(cols, sub...)))
	}
	return certain
}

// handOver plans what is left in a run of its own, with the sticks that the master's box allows.
func (r *solver) handOver(d *heuristic.Dive) {
	cols := rules.ToPatterns(d.Columns())
	rest := residualOf(r.p, d.Left, cols)
	hi := slices.Clone(r.master.Box.Hi)
	for _, c := range cols {
		hi[c.Bin] -= c.Count
	}
	for b := range rest.Bins {
		rest.Bins[b].Limit = max(min(rest.Bins[b].Limit, hi[b]), 0)
	}
	work := min(handOverWork*d.Pieces, mostHandOverWork) * max(r.patience, 1)
	sub := &solver{
		p: &rest.Problem, mt: r.mt.Sub(work), cost: r.cost - model.Cost(r.p, cols),
		rng: r.rng, nested: true, startPatterns: r.hints(d, rest),
	}
	sub.solve()
	if sub.plan != nil {
		r.tryIncumbent(merged(append(cols, rest.original(sub.plan)...)))
	}
}

// hints returns what the relaxation uses of patterns, as far as it is left, in terms of the rest.
func (r *solver) hints(d *heuristic.Dive, rest *residualProblem) []model.Pattern {
	at := make([]int, len(r.p.Items))
	for k, i := range rest.item {
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
