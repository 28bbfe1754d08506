package plain

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
)

// node is a box of bin counts that may still hold a better plan.
type node struct {
	box       bound.Box
	bound     int64
	leaf      Leaf       // shows bound
	limit     int        // patterns that a list may have at the next try
	inherited []boxDuals // of boxes around it
	start     *lp.Basis  // of the box that it is a part of
}

// Lists of patterns start small and grow on each further visit to a box.
const (
	firstList = 20_000
	lastList  = 3_000_000
)

// Every so many boxes a tree dives for better plans, with no more than such a part of its work. Of
// many kinds of stick there are too many counts for the tree to come to whole ones by itself.
const (
	diveEvery, diveShare         = 8, 4
	manyKinds                    = 50
	diveEveryOfMany, shareOfMany = 2, 2
)

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
func (r *solver) tree() {
	m := r.master
	root := r.leaves[0]
	r.leaves = r.leaves[:0]
	open := []node{{box: bound.Full(r.p), bound: r.bound, leaf: root, limit: firstList}}
	var closed []Leaf
	leafBound := int64(noPlan) // of the closed leaves by themselves
	stuck := int64(noPlan)     // least bound of a box that nothing could split or search
	shut := func(n *node) {
		n.leaf.Lo, n.leaf.Hi = n.box.Lo, n.box.Hi
		closed = append(closed, n.leaf)
		leafBound = min(leafBound, n.bound)
	}
	begun, dives := r.mt.Used(), int64(0)
	every, share := r.dives()
	for round := 0; len(open) > 0; round++ {
		k := 0
		for i := range open {
			if open[i].bound < open[k].bound || open[i].bound == open[k].bound && open[i].limit < open[k].limit {
				k = i
			}
		}
		n := open[k]
		r.bound = max(r.bound, min(n.bound, stuck, r.cost))
		if r.done() || n.bound >= stuck {
			break
		}
		open = slices.Delete(open, k, k+1)
		sums := r.reachable(n.box)
		if up := sums.RoundUp(n.bound); up > n.bound {
			n.bound, n.leaf.RoundedUp = up, true
		}
		if n.bound >= r.cost {
			shut(&n)
			continue
		}
		m.SetBox(n.box)
		st := r.relax(n.start, sums.Cutoff(r.cost), r.mt)
		if st == master.Stopped && !r.mt.Left() {
			open = append(open, n)
			break
		}
		plain := boundOf(m, st)
		if b := sums.RoundUp(plain); st != master.Stopped && b >= n.bound {
			n.bound = b
			n.leaf = Leaf{Dual: slices.Clone(m.Duals), Scale: m.Scale, RoundedUp: b > plain}
		}
		if n.bound >= r.cost {
			shut(&n)
			continue
		}
		// Split before the search over a list, which needs whole counts to be
		// strong; a dive in between for better plans.
		split, at := -1, 0.0
		here, used := dualsOf(m), r.used()
		if st == master.Converged && r.fixCounts(&n, &here, sums.Cutoff(r.cost), shut) {
			if up := r.reachable(n.box).RoundUp(n.bound); up > n.bound {
				n.bound, n.leaf.RoundedUp = up, true
			}
			if n.bound >= r.cost {
				shut(&n)
				continue
			}
		}
		if st == master.Converged {
			split, at = r.fractionalBin(used)
			if before := r.mt.Used(); round%every == 0 && dives <= (before-begun)/share {
				r.dive(round+1, r.mostBacktracks())
				r.neighborhoodSearch(10)
				dives += r.mt.Used() - before
			}
		}
		if split >= 0 {
			lo, hi := halves(n.box, split, at)
			near, start := []boxDuals{here}, r.basis()
			open = append(open, node{lo, n.bound, n.leaf, firstList, near, start}, node{hi, n.bound, n.leaf, firstList, near, start})
			continue
		}
		if st == master.Converged && len(r.p.Bins) > 1 {
			closed, around := r.searchPoint(&n, here, used)
			if open = append(open, around...); closed {
				shut(&n)
				continue
			}
			if n.limit > lastList {
				stuck = min(stuck, n.bound)
			}
			open = append(open, n)
			continue
		}
		if st == master.Converged && r.enumerateBox([]boxDuals{here}, n.limit, len(r.p.Bins) == 1, int64(n.limit)*2_000) {
			shut(&n)
			continue
		}
		if st == master.Converged && r.branchOnPairs(n.box, int64(n.limit)*10_000) {
			r.stage = Pairs
			shut(&n)
			continue
		}
		if n.limit *= 4; n.limit > lastList || st != master.Converged {
			stuck = min(stuck, n.bound)
		}
		open = append(open, n)
		r.dive(round+1, r.mostBacktracks())
		r.neighborhoodSearch(20)
	}
	if len(open) == 0 {
		r.bound = r.cost
	}
	for k := range open {
		shut(&open[k])
	}
	r.leaves, r.leafBound = closed, leafBound
	// A box that was taken up and not finished may show more than when it was.
	r.bound = max(r.bound, min(leafBound, r.cost))
	m.SetBox(bound.Full(r.p))
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
		return noPlan
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
