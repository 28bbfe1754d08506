// Package tree is the branch and bound tree over the counts of sticks of each class. A node is a box of
// counts, with a bound and the duals that prove it; the bound is rounded up to a cost that plans in the box
// can have. The relaxation of a box starts from the basis of the box that it is a part of. Closed parts and
// open nodes together contain every plan, so the tree is its own certificate. The caller decides how to split
// a box, looks for plans in it, and may close it by other means.
package tree

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/search"
)

// Host provides the costs of plans.
type Host interface {
	Incumbent() int64                            // the cost of the best plan, search.NoPlan if there is none
	Reachable(b bound.Box) *bound.ReachableCosts // the costs below the incumbent that plans in a box can have
}

// Node is a box that may still hold a better plan.
type Node[P any] struct {
	Box       bound.Box
	Bound     int64
	Leaf      search.Leaf    // proves Bound, or a part of it
	Inherited []master.Duals // of enclosing boxes
	Start     *lp.Basis      // of the box that it is a part of; nil at the root
	Visits    int            // failed searches
	Point     *P             // further state of a box with fixed counts, nil if there is none
}

// Tree has the leaves of the closed parts, and the open nodes, the oldest first.
type Tree[P any] struct {
	Host   Host
	Master *master.Master
	Open   []Node[P]
	Leaves []search.Leaf
	Shown  int64 // the least bound of the closed parts
	Closed int64 // a lower bound on the cost of plans in closed parts, by bounds or searches
	Rests  bool  // Closed depends on rounding up or on a search
}

// New returns a tree of one node.
func New[P any](h Host, m *master.Master, root Node[P]) *Tree[P] {
	return &Tree[P]{Host: h, Master: m, Open: []Node[P]{root}, Shown: search.NoPlan, Closed: search.NoPlan}
}

// Least returns the index of the open node with the least bound; among equals the one with the fewest failed
// searches, then the oldest.
func (t *Tree[P]) Least() (k int) {
	for i := range t.Open {
		if a, b := &t.Open[i], &t.Open[k]; a.Bound < b.Bound || a.Bound == b.Bound && a.Visits < b.Visits {
			k = i
		}
	}
	return k
}

// Take removes an open node and returns it.
func (t *Tree[P]) Take(k int) Node[P] {
	n := t.Open[k]
	t.Open = slices.Delete(t.Open, k, k+1)
	return n
}

// Basis returns the basis of the relaxation.
func (t *Tree[P]) Basis() *lp.Basis {
	b := new(lp.Basis)
	t.Master.LP.Save(b)
	return b
}

// Leaf returns a leaf with the present duals.
func (t *Tree[P]) Leaf() search.Leaf { return t.leafOf(&t.Master.Duals) }

func (t *Tree[P]) leafOf(d *master.Duals) search.Leaf {
	l := search.Leaf{Dual: slices.Clone(d.Item), Scale: d.Scale}
	if t.Master.Plain == nil {
		l.Weight = slices.Clone(d.Weight[:])
	}
	return l
}

// close records the leaf of a closed part.
func (t *Tree[P]) close(n *Node[P]) {
	l := n.Leaf
	l.Lo, l.Hi = n.Box.Lo, n.Box.Hi
	for _, s := range n.Box.On {
		l.Used = append(l.Used, map[bound.Supply]int8{bound.Yes: 1, bound.No: -1}[s])
	}
	t.Leaves = append(t.Leaves, l)
	t.Shown = min(t.Shown, n.Bound)
}

// Shut closes a node by its bound.
func (t *Tree[P]) Shut(n *Node[P]) {
	t.close(n)
	t.Closed = min(t.Closed, n.Bound)
}

// SearchedOut closes a node after an exhaustive search: no plan in its box is better than the incumbent.
func (t *Tree[P]) SearchedOut(n *Node[P]) {
	t.close(n)
	cost := t.Host.Incumbent()
	t.Rests = t.Rests || n.Bound < cost
	t.Closed = min(t.Closed, max(n.Bound, cost))
}

// Raise rounds a node's bound up to the next cost that its plans can have, and closes the node if that
// reaches the incumbent.
func (t *Tree[P]) Raise(n *Node[P], costs *bound.ReachableCosts) (shut bool) {
	if up := costs.RoundUp(n.Bound); up > n.Bound {
		n.Bound, n.Leaf.RoundedUp, t.Rests = up, true, true
	}
	if n.Bound < t.Host.Incumbent() {
		return false
	}
	t.Shut(n)
	return true
}

// Relax solves the relaxation of a node's box from the node's starting basis, and closes the node if its
// bound reaches the incumbent. It returns the costs that plans in the box can have.
func (t *Tree[P]) Relax(n *Node[P], mt *meter.Meter) (costs *bound.ReachableCosts, st master.Status, shut bool) {
	m := t.Master
	costs = t.Host.Reachable(n.Box)
	if n.Start != nil && t.Raise(n, costs) {
		return costs, master.Pruned, true
	}
	m.SetBox(n.Box)
	st = t.Resolve(n.Start, costs.Cutoff(t.Host.Incumbent()), mt)
	if st == master.Stopped && m.Duals.Scale == 0 {
		return costs, st, false
	}
	shown := m.Bound
	if st == master.Infeasible {
		shown = search.NoPlan
	}
	if shown >= n.Bound || costs.RoundUp(shown) >= n.Bound {
		n.Bound, n.Leaf = shown, t.Leaf()
	}
	return costs, st, t.Raise(n, costs)
}

// Resolve solves the relaxation of the master's present box from the basis of an enclosing box, or from the
// present basis if start is nil.
func (t *Tree[P]) Resolve(start *lp.Basis, cutoff int64, mt *meter.Meter) master.Status {
	m := t.Master
	if start != nil {
		m.LP.Restore(start)
	}
	mt.Tally().Boxes++
	m.LP.Warm = true
	st := m.Solve(cutoff, mt)
	m.LP.Warm = false
	return st
}

// Fractional returns the class whose count in the relaxation is furthest from an integer, weighted by its
// price; -1 if all counts are integers. The counts n are those of Master.Sticks. At an end of the box's
// range, or in a huge count, a fraction is noise.
func (t *Tree[P]) Fractional(n []float64) int {
	m := t.Master
	best, score := -1, 0.0
	for c, x := range n {
		lo, hi := m.Range(m.Box, c)
		f := x - math.Floor(x)
		if f = min(f, 1-f); x <= float64(lo) || x >= float64(hi) || f <= 1e-6+float64(1e-12*x) {
			continue
		}
		if s := f * float64(1+m.P.Classes[c].Tiers[0].Price); s > score {
			best, score = c, s
		}
	}
	return best
}

// Halves splits a box into the part with at most the given count of a class and the part with more. The count may lie
// outside the box, if the box became smaller after its relaxation; one part is then empty.
func Halves(b bound.Box, class int, at int64) (lo, hi bound.Box) {
	lo, hi = b.Clone(), b.Clone()
	lo.Hi[class], hi.Lo[class] = min(b.Hi[class], at), max(b.Lo[class], at+1)
	return lo, hi
}

// Fix removes from a node's box the counts that the duals of its relaxation rule out below the cutoff, and
// closes the removed parts. It also closes the node if its bound then reaches the incumbent.
func (t *Tree[P]) Fix(n *Node[P], d *master.Duals, cutoff int64) (shut bool) {
	cost := t.Host.Incumbent()
	if cost >= search.NoPlan {
		return false
	}
	box, off := t.Master.Fix(d, n.Box, cutoff)
	if len(off) == 0 {
		return false
	}
	t.Rests = t.Rests || cutoff < cost
	leaf := t.leafOf(d)
	leaf.RoundedUp = true
	for _, part := range off {
		t.Shut(&Node[P]{Box: part, Bound: cost, Leaf: leaf})
	}
	n.Box = box
	return t.Raise(n, t.Host.Reachable(n.Box))
}
