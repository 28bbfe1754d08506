package branchprice

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// point is what is kept of a box that is one whole count of every class whose count has to do with the cost.
//
// All plans at the point cost the same but for what patterns and assemblies cost by themselves. One
// of them leaves nearly nothing to lose against the bound of the box that the point was
// cut from, so that few columns are good enough, and fewer by several duals; and around
// the point the bound rises to the next sum.
type point struct {
	counts []int64
	by     []master.Duals
	tries  int                    // so far
	dives  int64                  // work of dives so far
	below  [len(pointLists)]int64 // what each list was tried for last
}

// splitOff takes the point out of a box where the present relaxation uses each class so often. The
// boxes around are the rest of the box. The inherited master.Duals are of boxes around, too.
func (r *solver) splitOff(b bound.Box, counts []int64, inherited []master.Duals) (box bound.Box, pt *point, around []bound.Box) {
	pt = &point{counts: counts}
	box, around = r.m.Split(b, counts)
	// Those first that show most for the point; of a narrow box some show it by its counts alone,
	// and nothing about items.
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

// searchPoint goes on with a point and reports whether it is closed: whatever in it is better than
// the best plan before is now the best plan. Or else it may raise the node's bound.
func (r *boxes) searchPoint(n *node) bool {
	pt := n.Point
	first := pt.tries % len(pointLists)
	if pt.tries < len(pointLists) && first > 0 {
		first--
	}
	for k := first; k < len(pointLists); k++ {
		// Longer lists come before more dives once dives have taken as long.
		if k > first && pt.dives < pointLists[k].work/listShare {
			break
		}
		if r.affineOn(n.Box) && r.searchLevels(n, k) {
			return true
		}
	}
	before := r.mt.Used()
	switch {
	case r.exactOnly:
	case pt.tries == 0:
		r.diveAtCounts(pt.counts) // from the relaxation that has led here
	default:
		r.divePoint(n)
	}
	pt.dives += r.mt.Used() - before
	pt.tries++
	return false
}

// searchLevels searches a point by list k and reports whether that closes it. Plans that differ in what
// patterns and assemblies cost by themselves cost one of a few sums, the least of which is tried
// first: that takes far fewer columns than all below the best plan, and if there is no such plan the bound
// rises to the next.
func (r *boxes) searchLevels(n *node, k int) bool {
	costs := r.Reachable(n.Box)
	for step := (r.cost - n.Bound) / mostLevels; ; {
		below := n.Bound + max(1, step)
		if r.cost >= rules.NoCost || costs.RoundUp(below) >= r.cost {
			below = r.cost
		}
		if n.Point.below[k] == below {
			return false // tried before, when there were as many columns
		}
		n.Point.below[k] = below
		before := r.cost
		if !r.enumerateBoxBy(n.Box, n.Point.by, below, &pointLists[k]) {
			return false
		}
		n.Leaf.Search = r.proof
		if r.cost < before || below == before {
			return true
		}
		r.Rests, n.Bound, n.Leaf.RoundedUp = true, costs.RoundUp(below), true
	}
}

// divePoint dives from other optima of the relaxation at the point, each time with demands that
// are perturbed another way, and then improves the best plan.
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
		r.neighborhoodSearch(10 + 10*pt.tries/len(pointLists))
	}
}
