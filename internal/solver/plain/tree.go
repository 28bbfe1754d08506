package plain

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/search"
)

// node is a box of bin counts that may still hold a better plan.
type node struct {
	box       bound.Box
	bound     int64
	leaf      search.Leaf    // shows bound
	limit     int            // patterns that a list may have at the next try
	inherited []master.Duals // of boxes around it
	start     *lp.Basis      // of the box that it is a part of
}

// dives returns how often the tree dives, and with which part of its work at most.
func (r *solver) dives() (every int, share int64) {
	if len(r.p.Bins) >= manyKinds {
		return diveEveryOfMany, shareOfMany
	}
	return diveEvery, diveShare
}

// tree splits the space of bin counts, the box of the least bound first. Every
// node keeps the numbers that show its bound, rounded up to a sum of costs that
// counts in the box add up to, so that the tree is its own certificate.
type tree struct {
	*solver
	open         []node
	closed       []search.Leaf
	closedBound  int64 // of the closed leaves by themselves
	stuckBound   int64 // least bound of a box that nothing could split or search
	round        int
	begun, dived int64 // work before the tree, and in it for better plans
}

func (r *solver) tree() {
	root := r.leaves[0]
	r.leaves = r.leaves[:0]
	t := &tree{solver: r, closedBound: search.NoPlan, stuckBound: search.NoPlan, begun: r.mt.Used()}
	t.open = []node{{box: bound.Full(r.p), bound: r.bound, leaf: root, limit: firstList}}
	for ; len(t.open) > 0; t.round++ {
		k := t.next()
		n := t.open[k]
		r.bound = max(r.bound, min(n.bound, t.stuckBound, r.cost))
		if r.done() || n.bound >= t.stuckBound {
			break
		}
		t.open = slices.Delete(t.open, k, k+1)
		if !t.explore(&n) {
			break
		}
	}
	if len(t.open) == 0 {
		r.bound = r.cost
	}
	for k := range t.open {
		t.shut(&t.open[k])
	}
	r.leaves, r.leafBound = t.closed, t.closedBound
	// A box that was taken up and not finished may show more than when it was.
	r.bound = max(r.bound, min(r.leafBound, r.cost))
	r.master.SetBox(bound.Full(r.p))
}

// next returns the place of the node of the least bound, of those the one that was searched least.
func (t *tree) next() (k int) {
	for i := range t.open {
		if a, b := &t.open[i], &t.open[k]; a.bound < b.bound || a.bound == b.bound && a.limit < b.limit {
			k = i
		}
	}
	return k
}

// shut closes a node.
func (t *tree) shut(n *node) {
	n.leaf.Lo, n.leaf.Hi = n.box.Lo, n.box.Hi
	t.closed = append(t.closed, n.leaf)
	t.closedBound = min(t.closedBound, n.bound)
}

// raise rounds the node's bound up to the next cost that its plans can have, and closes the node if that
// is enough.
func (t *tree) raise(n *node, costs *bound.ReachableCosts) (shut bool) {
	if up := costs.RoundUp(n.bound); up > n.bound {
		n.bound, n.leaf.RoundedUp = up, true
	}
	if n.bound >= t.cost {
		t.shut(n)
	}
	return n.bound >= t.cost
}

// explore closes a node or splits it, or puts it back for a longer list. It returns false where the work
// is used up.
func (t *tree) explore(n *node) bool {
	m := t.master
	costs := t.reachable(n.box)
	if t.raise(n, costs) {
		return true
	}
	m.SetBox(n.box)
	st := t.relax(n.start, costs.Cutoff(t.cost), t.mt)
	if st == master.Stopped && !t.mt.Left() {
		t.open = append(t.open, *n)
		return false
	}
	plain := boundOf(m, st)
	if b := costs.RoundUp(plain); st != master.Stopped && b >= n.bound {
		n.bound = b
		n.leaf = search.Leaf{Dual: slices.Clone(m.Duals.Item), Scale: m.Duals.Scale, RoundedUp: b > plain}
	}
	if n.bound >= t.cost {
		t.shut(n)
		return true
	}
	here, used := m.Duals.Clone(), t.used()
	if st != master.Converged {
		t.stuckBound = min(t.stuckBound, n.bound)
		t.again(n)
		return true
	}
	if t.fixCounts(n, &here, costs.Cutoff(t.cost), t.shut) && t.raise(n, t.reachable(n.box)) {
		return true
	}
	// Split before the search over a list, which needs whole counts to be
	// strong; a dive in between for better plans.
	split, at := t.fractionalBin(used)
	t.diveNow()
	if split >= 0 {
		lo, hi := halves(n.box, split, at)
		inherited, start := []master.Duals{here}, t.basis()
		t.open = append(t.open, node{lo, n.bound, n.leaf, firstList, inherited, start}, node{hi, n.bound, n.leaf, firstList, inherited, start})
		return true
	}
	t.searchWhole(n, here, used)
	return true
}

// diveNow dives for better plans each so many boxes.
func (t *tree) diveNow() {
	every, share := t.dives()
	if before := t.mt.Used(); t.round%every == 0 && t.dived <= (before-t.begun)/share {
		t.dive(t.round+1, t.mostBacktracks())
		t.neighborhoodSearch(boxTries)
		t.dived += t.mt.Used() - before
	}
}

// searchWhole searches a box whose relaxation uses each bin a whole number of times.
func (t *tree) searchWhole(n *node, here master.Duals, used []float64) {
	if len(t.p.Bins) > 1 {
		closed, around := t.searchPoint(n, here, used)
		if t.open = append(t.open, around...); closed {
			t.shut(n)
			return
		}
		if n.limit > lastList {
			t.stuckBound = min(t.stuckBound, n.bound)
		}
		t.open = append(t.open, *n)
		return
	}
	if rec, closed := t.enumerateBox(n.box, []master.Duals{here}, n.limit, true, int64(n.limit)*listStep); closed {
		rec.mark(&n.leaf)
		t.shut(n)
		return
	}
	if t.branchOnPairs(n.box, int64(n.limit)*pairStep) {
		t.enter(search.Pairs)
		t.shut(n)
		return
	}
	if listGrowth*n.limit > lastList {
		t.stuckBound = min(t.stuckBound, n.bound)
	}
	t.again(n)
}

// again puts a node back for a longer list, and looks for better plans in the meantime.
func (t *tree) again(n *node) {
	n.limit *= listGrowth
	t.open = append(t.open, *n)
	t.dive(t.round+1, t.mostBacktracks())
	t.neighborhoodSearch(boxTriesOfOneKind)
}

// relax solves the relaxation of the box that the master has, from the basis of one around
// it; nil: from where it is.
func (r *solver) relax(start *lp.Basis, cutoff int64, mt *meter.Meter) master.Status {
	m := r.master
	if start != nil {
		m.LP.Restore(start)
	}
	mt.Tally().Boxes++
	m.LP.Warm = true
	st := m.Solve(cutoff, mt)
	m.LP.Warm = false
	return st
}

// halves splits the box where a bin is used so often, no whole number.
func halves(box bound.Box, bin int, at float64) (lo, hi bound.Box) {
	down := int64(math.Floor(at))
	lo, hi = box.Clone(), box.Clone()
	lo.Hi[bin], hi.Lo[bin] = down, down+1
	return lo, hi
}

func boundOf(m *master.Master, st master.Status) int64 {
	if st == master.Infeasible {
		return search.NoPlan
	}
	return m.Bound
}

// fractionalBin returns the bin whose use, of those in x, is furthest from whole,
// weighted by its cost, or -1.
func (r *solver) fractionalBin(x []float64) (int, float64) {
	m := r.master
	best, score := -1, 0.0
	for b, v := range x {
		f := v - math.Floor(v)
		// Near a bound of the box, or in huge counts, a fraction is noise.
		if v <= float64(m.Box.Lo[b]) || v >= float64(m.Box.Hi[b]) {
			continue
		}
		if tol := 1e-6 + float64(1e-12*v); f > tol && f < 1-tol {
			if s := min(f, 1-f) * float64(1+r.p.Bins[b].Cost); s > score {
				best, score = b, s
			}
		}
	}
	if best < 0 {
		return -1, 0
	}
	return best, x[best]
}
