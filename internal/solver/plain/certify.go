package plain

import (
	"context"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/search"
)

// certify looks for boxes whose relaxations show what a search has proven, so that
// nobody has to repeat the search. It ends where the counts of a relaxation are whole
// and cost less, since there only a search tells.
func (r *solver) certify() {
	if len(r.p.Bins) < 2 || r.plan == nil || r.bound < r.cost || r.leafBound >= r.cost {
		return
	}
	m, mt := r.master, r.mt.Sub(r.mt.Used()/certifyShare+certifyLeast)
	defer m.SetBox(bound.Full(r.p))
	open := []node{{box: bound.Full(r.p), leaf: r.leaves[0]}}
	var leaves []search.Leaf
	for len(open) > 0 {
		n := open[len(open)-1]
		open = open[:len(open)-1]
		sums := r.reachable(n.box)
		if cutoff := sums.Cutoff(r.cost); cutoff > 0 {
			m.SetBox(n.box)
			st := r.relax(n.start, cutoff, mt)
			if st == master.Stopped {
				return
			}
			if bound := boundOf(m, st); sums.RoundUp(bound) < r.cost {
				split, at := r.fractionalBin(r.used())
				if split < 0 {
					return
				}
				start := r.basis()
				lo, hi := halves(n.box, split, at)
				open = append(open, node{box: hi, leaf: n.leaf, start: start}, node{box: lo, leaf: n.leaf, start: start})
				continue
			}
			n.leaf.Dual, n.leaf.Scale = slices.Clone(m.Duals.Item), m.Duals.Scale
		}
		n.leaf.Lo, n.leaf.Hi, n.leaf.RoundedUp = n.box.Lo, n.box.Hi, true
		leaves = append(leaves, n.leaf)
	}
	r.leaves, r.leafBound = leaves, r.cost
}

// showAgain looks for a list that shows what a search for a packing has proven, which cannot be shown by
// itself. What that takes is no part of the search: it counts apart, within twice what the proof took and the
// limit that there is.
func (r *solver) showAgain(ctx context.Context, limit int64) {
	if len(r.p.Bins) != 1 || r.plan == nil || r.bound < r.cost || r.leafBound >= r.cost || r.leaves[0].Search != nil {
		return
	}
	used := r.mt.Used()
	work := showAgainShare*used + showAgainLeast
	if limit > 0 {
		work = min(work, limit-used)
	}
	if work > 0 && meter.Ended(ctx) == nil {
		r.certifyPacking(meter.New(ctx, work))
	}
}
