package plain

import (
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/tree"
)

// node is a box of bin counts, without further state.
type (
	node = tree.Node[none]
	none struct{}
)

// boxes is the tree over counts of bins.
type boxes struct {
	*solver
	*tree.Tree[none]
	stuckBound int64 // least bound of the boxes that could be neither split nor searched
	round      int
	schedule   heuristic.Schedule
}

func (r *solver) tree() {
	root := node{Box: bound.Full(r.p), Bound: r.bound, Leaf: r.leaves[0]}
	t := &boxes{solver: r, Tree: tree.New(r, r.master, root), stuckBound: search.NoPlan}
	t.schedule = heuristic.Schedule{Turns: turns[:], Meter: r.mt, Try: t.turn}
	t.schedule.Begin()
	for ; len(t.Open) > 0; t.round++ {
		k := t.Least()
		least := t.Open[k].Bound
		r.bound = max(r.bound, min(least, t.stuckBound, r.cost))
		if r.done() || least >= t.stuckBound {
			break
		}
		n := t.Take(k)
		if !t.explore(&n) {
			break
		}
	}
	if len(t.Open) == 0 {
		r.bound = r.cost
	}
	for k := range t.Open {
		t.Shut(&t.Open[k])
	}
	r.leaves, r.leafBound = t.Leaves, t.Shown
	// An unfinished box may have a better bound than when it was taken.
	r.bound = max(r.bound, min(r.leafBound, r.cost))
	r.master.SetBox(bound.Full(r.p))
}

// Incumbent returns the cost of the incumbent.
func (r *solver) Incumbent() int64 { return r.cost }

// listLimit returns the limit of patterns for the next list of a node.
func listLimit(n *node) int {
	limit := firstList
	for range n.Visits {
		limit *= listGrowth
	}
	return limit
}

// explore closes a node, splits it, or puts it back for a longer list. It returns false if the work
// is used up.
func (t *boxes) explore(n *node) bool {
	m := t.master
	costs, st, shut := t.Relax(n, t.mt)
	if shut {
		return true
	}
	if st == master.Stopped && !t.mt.Left() {
		t.Open = append(t.Open, *n)
		return false
	}
	here, used := m.Duals.Clone(), m.Sticks()
	if st != master.Converged {
		t.stuckBound = min(t.stuckBound, n.Bound)
		t.again(n)
		return true
	}
	if t.Fix(n, &here, costs.Cutoff(t.cost)) {
		return true
	}
	// Split before the search over a list, whose bound is strong only if the counts are integers. Dives in
	// between look for better plans.
	split := t.Fractional(used)
	t.schedule.Box(t.round)
	if split >= 0 {
		lo, hi := tree.Halves(n.Box, split, int64(used[split]))
		inherited, start := []master.Duals{here}, t.Basis()
		for _, b := range [...]bound.Box{lo, hi} {
			t.Open = append(t.Open, node{Box: b, Bound: n.Bound, Leaf: n.Leaf, Inherited: inherited, Start: start})
		}
		return true
	}
	t.searchWhole(n, here, used)
	return true
}

// turn runs the heuristic of a turn.
func (t *boxes) turn(now *heuristic.Turn) {
	switch now.Name {
	case heuristic.DiveTurn:
		t.dive(t.round+1, t.mostBacktracks())
	case heuristic.NeighborhoodTurn:
		t.neighborhoodSearch(now.Tries)
	}
}

// searchWhole searches a box whose relaxation uses each bin an integer number of times.
func (t *boxes) searchWhole(n *node, here master.Duals, used []float64) {
	limit := listLimit(n)
	if proof, closed := t.enumerateBox(n.Box, []master.Duals{here}, t.cost, limit, true, int64(limit)*listStep); closed {
		mark(&n.Leaf, &proof)
		t.SearchedOut(n)
		return
	}
	if listGrowth*limit > lastList {
		t.stuckBound = min(t.stuckBound, n.Bound)
	}
	t.again(n)
}

// again puts a node back for a longer list, and meanwhile looks for better plans.
func (t *boxes) again(n *node) {
	n.Visits++
	t.Open = append(t.Open, *n)
	t.dive(t.round+1, t.mostBacktracks())
	t.neighborhoodSearch(boxTriesOfOneKind)
}

// Reachable returns the costs that plans in the box can have, if they are better than the incumbent.
func (r *solver) Reachable(box bound.Box) *bound.ReachableCosts {
	return bound.Reachable(r.p, box, r.cost, r.mt)
}
