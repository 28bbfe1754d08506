package plain

import (
	"math"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
)

// Reachable returns the costs that plans in the box can have, if they are better than the
// incumbent.
func (r *solver) Reachable(box bound.Box) *bound.ReachableCosts {
	return bound.Reachable(r.p, box, r.cost, r.mt)
}

// searchPoint searches a node whose relaxation, with the duals here, uses each bin an integer number of
// times. The node becomes the point with these counts; searchPoint returns the boxes around it, and reports
// whether the point is closed.
//
// All plans at the point cost the same, and hardly more than the bound. So few patterns pass the filter of
// one dual solution, and fewer those of several. Around the point the bound rises to the next reachable cost.
func (r *boxes) searchPoint(n *node, here master.Duals, used []float64) (closed bool, around []node) {
	m, start := r.master, r.Basis()
	states := append([]master.Duals{here}, n.Inherited...)
	counts, cost := make([]int64, len(used)), int64(0)
	for b, x := range used {
		counts[b] = int64(math.Round(x))
	}
	point, boxes := m.Split(n.Box, counts)
	for _, part := range boxes {
		around = append(around, node{Box: part, Bound: n.Bound, Leaf: n.Leaf, Inherited: states[:1], Start: start})
	}
	for b, at := range point.Lo {
		cost += at * r.p.Bins[b].Cost
	}
	switch {
	case len(around) > 0:
		states = append(states, r.alternativesHere()...)
		n.Inherited = states
	case n.Visits > 0:
		states = n.Inherited
	}
	if n.Box = point; cost > n.Bound {
		n.Bound, n.Leaf.RoundedUp = cost, true
	}
	if cost >= r.cost {
		return true, around
	}
	limit := listLimit(n)
	if proof, ok := r.enumerateBox(point, states, cost+1, limit, true, int64(limit)*listStep); ok {
		mark(&n.Leaf, &proof)
		return true, around
	}
	m.SetBox(point)
	r.patience = int64(limit / firstList) // more at each visit
	r.dive(1, r.mostBacktracks())
	r.patience = 0
	r.neighborhoodSearch(boxTries)
	n.Visits++
	return cost >= r.cost, around
}

// alternativesHere returns duals of several optima of the current box's relaxation, as findAlternatives does
// for the whole problem.
func (r *solver) alternativesHere() (states []master.Duals) {
	m := r.master
	m.ToOptimality = true
	for k := range 4 {
		if k > 0 {
			m.Perturb(r.rng.Demands(k, len(r.p.Items)))
		}
		if m.Solve(r.cost, r.mt.Sub(pointDualsWork)) != master.Converged {
			break
		}
		states = append(states, m.Duals.Clone())
	}
	m.ToOptimality = false
	m.Perturb(nil)
	return states
}
