package branchprice

import (
	"cmp"
	"example.com/longpoint/internal/solver/rules"
	"slices"
)

// point is a box that is one whole count of every class whose count has to do with the cost.
//
// All plans at the point cost the same but for what patterns and assemblies cost by themselves. One
// of them leaves nearly nothing to lose against the bound of the box that the point was
// cut from, so that few columns are good enough, and fewer by several duals; and around
// the point the bound rises to the next sum.
type point struct {
	box    box
	counts []int64
	by     []duals
	tries  int               // so far
	cost   [len(lists)]int64 // of the best plan when a list was tried last
}

// splitOff takes the point out of a box where the present relaxation uses each class so often. The
// boxes around are the rest of the box. The inherited duals are of boxes around, too.
func (r *solver) splitOff(b box, counts []int64, inherited []duals) (pt *point, around []box) {
	pt = &point{box: b.clone(), counts: counts}
	in := &pt.box
	for c := range r.p.Classes {
		lo, hi := in.lo[c], in.hi[c]
		if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no || lo >= hi {
			continue
		}
		if _, each, ok := r.p.Classes[c].Affine(lo, hi); ok && each == 0 {
			continue // its count is nobody's concern
		}
		at := min(max(counts[c], lo), hi)
		add := func(lo, hi int64) {
			if lo <= hi {
				part := in.clone()
				part.lo[c], part.hi[c] = lo, hi
				around = append(around, part)
			}
		}
		add(lo, at-1)
		add(at+1, hi)
		in.lo[c], in.hi[c] = at, at
	}
	// Those first that show most for the point; of a narrow box some show it by its counts alone,
	// and nothing about items.
	all := append(r.alternativesHere(), inherited...)
	slices.Reverse(all)
	worth := func(d *duals) float64 {
		v := 0.0
		for i, n := range d.value {
			v += float64(float64(n) * float64(r.p.Items[i].Demand))
		}
		return v / float64(d.scale)
	}
	bare := func(d *duals) int {
		if worth(d) < float64(r.cost)/2 {
			return 1
		}
		return 0
	}
	all = slices.DeleteFunc(all, func(d duals) bool { return d.scale == 0 })
	slices.SortStableFunc(all, func(x, y duals) int {
		return cmp.Or(cmp.Compare(bare(&x), bare(&y)), cmp.Compare(r.m.boundOf(&y, pt.box), r.m.boundOf(&x, pt.box)))
	})
	pt.by = all[:min(len(all), mostDuals)]
	return pt, around
}

// searchPoint goes on with a point and reports whether it is closed: whatever in it is better than
// the best plan before is now the best plan.
func (r *solver) searchPoint(pt *point) bool {
	k := pt.tries % len(lists)
	if pt.tries < len(lists) && k > 0 {
		k--
	}
	l := lists[k]
	if r.affineOn(pt.box) && (pt.cost[k] == 0 || r.cost < pt.cost[k]) {
		// Of no use a second time unless there are fewer columns by now.
		pt.cost[k] = r.cost
		if r.enumerateBoxBy(pt.box, pt.by, l.limit, l.work) {
			return true
		}
	}
	switch {
	case r.exactOnly:
	case pt.tries == 0:
		r.diveAtCounts(pt.counts) // from the relaxation that has led here
	default:
		r.divePoint(pt)
	}
	pt.tries++
	return false
}

// divePoint dives from other optima of the relaxation at the point, each time with demands that
// are perturbed another way, and then improves the best plan.
func (r *solver) divePoint(pt *point) {
	r.m.setBox(pt.box)
	before := r.cost
	for k := 0; k < pointDives && r.cost == before; k++ {
		r.m.perturb(r.rng.Demands((pt.tries-1)*pointDives+k, len(r.p.Items)))
		if r.m.solve(rules.NoCost, r.mt.Sub(perturbedWork)) == converged {
			r.diveCounts(pt.counts)
		}
	}
	r.m.perturb(nil)
	if r.m.solve(rules.NoCost, r.mt) == converged {
		r.neighborhoodSearch(10 + 10*pt.tries/len(lists))
	}
}
