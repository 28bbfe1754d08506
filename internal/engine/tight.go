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
	if len(r.p.Bins) != 1 || r.p.Bins[0].Cost == 0 || r.within {
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
	part := func(cols []model.Column) bool {
		r.remainder(cols, bins, 100, false)
		return r.cost <= bins*cost || !r.mt.Left()
	}
	work := 2_000_000 + passes*r.packing.Pass()
	if cap := r.p.Bins[0].Cap; bins*cap-total(r.p) > cap/50 {
		work = min(work, 30_000_000) // it settles less, the more may be wasted
	}
	cols, verdict := r.packing.Run(r.mt.Sub(work), near, nil)
	if verdict == tight.Open && !r.done() {
		if r.remainder(cols, bins, 200, true); r.done() {
			return
		}
		// From the start again, since later runs shuffle what they try first.
		cols, verdict = tight.New(r.p, bins).Run(r.mt.Sub(work), near, part)
	}
	switch verdict {
	case tight.Found:
		r.offer(cols)
	case tight.None:
		r.bound = max(r.bound, (bins+1)*cost)
	}
}

// remainder plans what a search that has packed so many sticks and came no further
// leaves. Where they are sure to be part of a plan of bins sticks if there is one,
// that there is none for what is left says as much of the whole.
func (r *run) remainder(packed []model.Column, bins, passes int64, sure bool) {
	used := count(packed)
	if 5*used < bins {
		return
	}
	left := r.p.Demands()
	for _, c := range packed {
		for _, u := range c.Uses {
			left[u.Item] -= c.Count * u.N
		}
	}
	rest := r.rest(left, packed)
	if rest == nil {
		return
	}
	cost := r.p.Bins[0].Cost
	sub := &run{p: &rest.Problem, mt: r.mt.Sub(r.packing.Pass() * passes), cost: noPlan, rng: r.rng, within: true}
	sub.solve()
	if sub.plan != nil {
		r.offer(merged(slices.Concat(packed, rest.original(sub.plan))))
	}
	if sure && sub.bound > (bins-used)*cost {
		r.bound = max(r.bound, (bins+1)*cost)
	}
}

// total returns the size of all pieces together.
func total(p *model.Problem) int64 {
	sum := int64(0)
	for _, it := range p.Items {
		sum += it.Size * it.Demand
	}
	return sum
}
