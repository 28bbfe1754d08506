package engine

import (
	"slices"

	"example.com/longpoint/internal/construct"
	"example.com/longpoint/internal/model"
	"example.com/longpoint/internal/tight"
)

// tight asks whether there is a plan of as few sticks as the bound says, where
// that leaves next to nothing to waste. It goes on where it was at the last call,
// for so many passes.
func (r *run) tight(passes int64) {
	if len(r.p.Bins) != 1 || r.p.Bins[0].Cost == 0 {
		return
	}
	cost := r.p.Bins[0].Cost
	bins := (r.bound + cost - 1) / cost
	if r.packing == nil || r.packBins != bins {
		if r.packing, r.packBins = tight.New(r.p, bins), bins; r.packing == nil {
			return
		}
	}
	near := func(cols []model.Column, left []int64) {
		rest := r.rest(left, cols)
		if rest == nil {
			return
		}
		construct.Plans(&rest.Problem, r.mt, func(sub []model.Column) {
			r.offer(merged(slices.Concat(cols, rest.original(sub))))
		})
	}
	cols, verdict := r.packing.Run(r.mt.Sub(2_000_000+passes*r.packing.Pass()), near)
	if verdict == tight.Open {
		r.remainder(cols, bins)
		return
	}
	switch verdict {
	case tight.Found:
		r.offer(cols)
	case tight.None:
		r.bound = max(r.bound, (bins+1)*cost)
	}
}

// remainder is for a search that settled some sticks and came no further: what is
// left is a smaller problem, which has a plan of the sticks that are left if and
// only if the whole has one of bins sticks.
func (r *run) remainder(settled []model.Column, bins int64) {
	used := count(settled)
	if 5*used < bins {
		return
	}
	left := r.p.Demands()
	for _, c := range settled {
		for _, u := range c.Uses {
			left[u.Item] -= c.Count * u.N
		}
	}
	rest := r.rest(left, settled)
	if rest == nil {
		return
	}
	cost := r.p.Bins[0].Cost
	sub := &run{p: &rest.Problem, mt: r.mt.Sub(r.packing.Pass() * 200), cost: noPlan, rng: r.rng}
	sub.solve()
	if sub.plan != nil {
		r.offer(merged(slices.Concat(settled, rest.original(sub.plan))))
	}
	if sub.bound > (bins-used)*cost {
		r.bound = max(r.bound, (bins+1)*cost)
	}
}
