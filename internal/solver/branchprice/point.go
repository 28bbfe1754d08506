package branchprice

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// point is the state of a box that fixes the count of every class whose count affects the cost.
//
// All plans at the point cost the same, except for own costs of patterns and assemblies. The gap to the bound of the box
// that the point was cut from is small, so few columns pass the filter, and fewer that of several duals; around the
// point the bound rises to the next reachable cost.
type point struct {
	counts []int64
	by     []master.Duals
	tries  int               // so far
	dives  int64             // steps of dives so far
	below  [len(lists)]int64 // the cutoff of the last try of each list
}

// splitOff splits a box into the point with the counts of the present relaxation and boxes around it. The inherited
// duals are those of enclosing boxes.
func (r *solver) splitOff(b bound.Box, counts []int64, inherited []master.Duals) (box bound.Box, pt *point, around []bound.Box) {
	pt = &point{counts: counts}
	box, around = r.m.Split(b, counts)
	// The duals with the best bound for the point first. In a narrow box some get it from the counts alone and tell
	// nothing about items.
	all := append(r.alternativesHere(), inherited...)
	slices.Reverse(all)
	worth := func(d *master.Duals) float64 {
		v := 0.0
		for i, n := range d.Item {
			v += float64(float64(n) * float64(r.p.Items[i].Demand))
		}
		return v / float64(d.Scale)
	}
	bare := func(d *master.Duals) int {
		if worth(d) < float64(r.cost)/2 {
			return 1
		}
		return 0
	}
	all = slices.DeleteFunc(all, func(d master.Duals) bool { return d.Scale == 0 })
	slices.SortStableFunc(all, func(x, y master.Duals) int {
		return cmp.Or(cmp.Compare(bare(&x), bare(&y)), cmp.Compare(r.m.BoundOf(&y, box), r.m.BoundOf(&x, box)))
	})
	pt.by = all[:min(len(all), mostDuals)]
	return box, pt, around
}

// searchPoint continues with a point and reports whether it is closed, so that no plan in it is better than the
// incumbent. Otherwise it may raise the node's bound.
func (r *boxes) searchPoint(n *node) bool {
	pt := n.Point
	first := pt.tries % len(lists)
	if pt.tries < len(lists) && first > 0 {
		first--
	}
	for k := first; k < len(lists); k++ {
		// Longer lists come before more dives once dives have taken as long.
		if k > first && pt.dives < lists[k].work/listShare {
			break
		}
		if r.affineOn(n.Box) && r.searchLevels(n, k) {
			return true
		}
	}
	before := r.mt.Used()
	r.patience = 1 << min(2*pt.tries, 6) // more at each visit
	switch {
	case r.exactOnly:
	case pt.tries == 0:
		r.diveAtCounts(pt.counts) // from the relaxation that led here
	default:
		r.divePoint(n)
	}
	r.patience = 0
	pt.dives += r.mt.Used() - before
	pt.tries++
	return false
}

// searchLevels searches a point by list k and reports whether that closes it. If patterns and assemblies have costs of
// their own, plans can have one of a few costs. The least is tried first, with far fewer columns than all costs below
// the incumbent; if there is no such plan, the bound rises to the next.
func (r *boxes) searchLevels(n *node, k int) bool {
	costs := r.Reachable(n.Box)
	for step := (r.cost - n.Bound) / mostLevels; ; {
		below := n.Bound + max(1, step)
		if r.cost >= rules.NoCost || costs.RoundUp(below) >= r.cost {
			below = r.cost
		}
		if n.Point.below[k] == below {
			return false // tried before, with as many columns
		}
		n.Point.below[k] = below
		before := r.cost
		if !r.enumerateBoxBy(n.Box, n.Point.by, below, &lists[k]) {
			return false
		}
		r.mark(n, below)
		if r.cost < before || below == before {
			return true
		}
		r.Rests, n.Bound, n.Leaf.RoundedUp = true, costs.RoundUp(below), true
	}
}

// divePoint dives from other optima of the relaxation at the point, found by differently perturbed demands, and then
// improves the incumbent.
func (r *solver) divePoint(n *node) {
	pt := n.Point
	r.m.SetBox(n.Box)
	before := r.cost
	for k := 0; k < pointDives && r.cost == before; k++ {
		r.m.Perturb(r.rng.Demands((pt.tries-1)*pointDives+k, len(r.p.Items)))
		if r.m.Solve(rules.NoCost, r.mt.Sub(perturbedWork)) == master.Converged {
			r.diveCounts(pt.counts)
		}
	}
	r.m.Perturb(nil)
	if r.m.Solve(rules.NoCost, r.mt) == master.Converged {
		r.neighborhoodSearch(10 + 10*pt.tries/len(lists))
	}
}
