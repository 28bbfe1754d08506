// Package tree splits the space of how often sticks of each class are used into boxes. A node is a box with
// what shows its bound, rounded up to a cost that plans in it can have; the relaxation of the box it was cut from is where
// its own begins. Closed parts and open nodes together hold every plan, so that the tree is its own certificate. How a box
// is split, and what else closes it or finds plans in it, is up to who searches.
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

// Host knows what plans cost.
type Host interface {
	Incumbent() int64                            // what the best plan costs, search.NoPlan without any
	Reachable(b bound.Box) *bound.ReachableCosts // what plans in a box that are better can cost
}

// Node is a box that may still hold a better plan.
type Node[P any] struct {
	Box       bound.Box
	Bound     int64
	Leaf      search.Leaf    // shows Bound, or as much of it as is known
	Inherited []master.Duals // of boxes around it
	Start     *lp.Basis      // of the box that it was cut from; nil for that of all plans
	Visits    int            // searches in vain
	Point     *P             // what there is to know of a box with whole counts, where that is kept
}

// Tree is what is closed so far, and the nodes that are open, the oldest first.
type Tree[P any] struct {
	Host   Host
	Master *master.Master
	Open   []Node[P]
	Leaves []search.Leaf
	Shown  int64 // the least that closed parts show by themselves
	Closed int64 // the least that plans in closed parts can cost and be better than the best
	Rests  bool  // on rounding up or a search, what Closed says
}

// New returns a tree of one node.
func New[P any](h Host, m *master.Master, root Node[P]) *Tree[P] {
	return &Tree[P]{Host: h, Master: m, Open: []Node[P]{root}, Shown: search.NoPlan, Closed: search.NoPlan}
}

// Least returns the place of the open node of the least bound, of those the one that was searched least, then
// the oldest.
func (t *Tree[P]) Least() (k int) {
	for i := range t.Open {
		if a, b := &t.Open[i], &t.Open[k]; a.Bound < b.Bound || a.Bound == b.Bound && a.Visits < b.Visits {
			k = i
		}
	}
	return k
}

// Take takes an open node out.
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

// Leaf returns what the present duals show.
func (t *Tree[P]) Leaf() search.Leaf { return t.leafOf(&t.Master.Duals) }

func (t *Tree[P]) leafOf(d *master.Duals) search.Leaf {
	l := search.Leaf{Dual: slices.Clone(d.Item), Scale: d.Scale}
	if t.Master.Plain == nil {
		l.Weight = slices.Clone(d.Weight[:])
	}
	return l
}

// close keeps what shows the bound of a part.
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

// SearchedOut closes a node of which everything was looked at: whatever is better than the best plan
// before is now the best plan.
func (t *Tree[P]) SearchedOut(n *Node[P]) {
	t.close(n)
	cost := t.Host.Incumbent()
	t.Rests = t.Rests || n.Bound < cost
	t.Closed = min(t.Closed, max(n.Bound, cost))
}

// Raise rounds a node's bound up to the next cost that its plans can have, and closes the node if that
// is enough.
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

// Relax solves the relaxation of a node's box from the basis of the box around it, and closes the node if the bound is enough.
// It returns what plans in the box can cost.
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

// Resolve solves the relaxation of the box that the master has, from the basis of one around
// it; nil: from where it is.
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

// Fractional returns the class whose count in the relaxation, n as Master.Sticks has it, is furthest from whole, weighted by its
// price; -1 if all counts are whole. At an end of the box's range, or in a huge count, a fraction is noise.
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

// Halves splits a box: into that with so many sticks of a class at most, and that with more.
func Halves(b bound.Box, class int, at int64) (lo, hi bound.Box) {
	lo, hi = b.Clone(), b.Clone()
	lo.Hi[class], hi.Lo[class] = at, at+1
	return lo, hi
}

// Fix takes off a node's box the counts that its relaxation, of these duals, rules out below the cutoff, and closes them, and
// the node itself if its bound then rises enough.
func (t *Tree[P]) Fix(n *Node[P], d *master.Duals, cutoff int64) (costs *bound.ReachableCosts, shut bool) {
	cost := t.Host.Incumbent()
	if cost >= search.NoPlan {
		return nil, false
	}
	box, off := t.Master.Fix(d, n.Box, cutoff)
	if len(off) == 0 {
		return nil, false
	}
	t.Rests = t.Rests || cutoff < cost
	leaf := t.leafOf(d)
	leaf.RoundedUp = true
	for _, part := range off {
		t.Shut(&Node[P]{Box: part, Bound: cost, Leaf: leaf})
	}
	n.Box = box
	costs = t.Host.Reachable(n.Box)
	return costs, t.Raise(n, costs)
}
