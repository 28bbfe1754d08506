package branchprice

import (
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/tree"
)

// certify looks for boxes whose relaxations prove the result of a search over a list at the root, so that a check need
// not repeat the search. It gives up if the counts of a relaxation are integers and cost less, since only a search
// decides such a box.
func (r *solver) certify() {
	if r.plan == nil || r.bound < r.cost || r.shown >= r.cost || len(r.leaves) != 1 {
		return
	}
	m, mt := r.m, r.mt.Sub(r.mt.Used()/certifyShare+certifyLeast)
	defer m.SetBox(m.Root)
	t := tree.New(r, m, node{Box: m.Root, Leaf: r.leaves[0]})
	t.Open[0].Leaf.Search = nil
	for len(t.Open) > 0 {
		n := t.Take(len(t.Open) - 1)
		_, st, shut := t.Relax(&n, mt)
		if shut {
			continue
		}
		used := m.Sticks()
		split := t.Fractional(used)
		if split < 0 || st == master.Stopped {
			return
		}
		start := t.Basis()
		lo, hi := tree.Halves(n.Box, split, int64(used[split]))
		for _, b := range [...]bound.Box{hi, lo} {
			t.Open = append(t.Open, node{Box: b, Bound: n.Bound, Leaf: n.Leaf, Start: start})
		}
	}
	for k := range t.Leaves {
		t.Leaves[k].RoundedUp = true
	}
	r.leaves, r.shown = t.Leaves, r.cost
}
