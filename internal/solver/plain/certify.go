package plain

import (
	"context"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/tree"
)

// certify looks for boxes whose relaxations prove the result of a search, so that a check need not repeat the
// search. It gives up if the counts of a relaxation are integers and cost less, since only a search decides
// such a box.
func (r *solver) certify() {
	if len(r.p.Bins) < 2 || r.plan == nil || r.bound < r.cost || r.leafBound >= r.cost {
		return
	}
	m, mt := r.master, r.mt.Sub(r.mt.Used()/certifyShare+certifyLeast)
	defer m.SetBox(bound.Full(r.p))
	t := tree.New(r, m, node{Box: bound.Full(r.p), Leaf: r.leaves[0]})
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
	r.leaves, r.leafBound = t.Leaves, r.cost
}

// showAgain looks for a list that proves the result of a search for a packing, since that search leaves no
// certificate. Its work is not part of the search: it is counted separately, and limited to twice the work of
// the proof and to the caller's limit.
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
