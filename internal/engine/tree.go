package engine

import (
	"math"
	"slices"

	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/dual"
)

// node is a box of bin counts that may still hold a better plan.
type node struct {
	box   dual.Box
	bound int64
	leaf  Leaf // shows bound
	limit int  // patterns that a list may have at the next try
}

// Lists of patterns start small and grow on each further visit to a box.
const (
	firstList = 20_000
	lastList  = 3_000_000
)

// tree splits the space of bin counts, the box of the least bound first. Every
// node keeps the numbers that show its bound, so that the tree is its own
// certificate.
func (r *run) tree() {
	m := r.master
	root := r.leaves[0]
	r.leaves = r.leaves[:0]
	open := []node{{dual.Full(r.p), r.bound, root, firstList}}
	var closed []Leaf
	leafBound := int64(noPlan) // of the closed leaves by themselves
	stuck := int64(noPlan)     // least bound of a box that nothing could split or search
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
		m.SetBox(n.box)
		r.mt.Tally().Boxes++
		st := m.Solve(r.cost, r.mt)
		if st == colgen.Stopped && !r.mt.Left() {
			open = append(open, n)
			break
		}
		if b := boundOf(m, st); st != colgen.Stopped && b >= n.bound {
			n.bound = b
			n.leaf = Leaf{Lo: n.box.Lo, Hi: n.box.Hi, Value: slices.Clone(m.Value), Scale: m.Scale}
		} else {
			n.leaf.Lo, n.leaf.Hi = n.box.Lo, n.box.Hi
		}
		if n.bound >= r.cost {
			closed = append(closed, n.leaf)
			leafBound = min(leafBound, n.bound)
			continue
		}
		// Split before the search over a list, which needs whole counts to be
		// strong; a dive in between for better plans.
		split, at := -1, 0.0
		here := rootState(m)
		if st == colgen.Converged {
			split, at = r.fractionalBin()
			if round%8 == 0 {
				r.dive(round + 1)
				r.improve(10)
			}
		}
		if split >= 0 {
			down := int64(math.Floor(at))
			lo, hi := n.box.Clone(), n.box.Clone()
			lo.Hi[split], hi.Lo[split] = down, down+1
			open = append(open, node{lo, n.bound, n.leaf, firstList}, node{hi, n.bound, n.leaf, firstList})
			continue
		}
		if st == colgen.Converged && r.list([]state{here}, n.limit, len(r.p.Bins) == 1, int64(n.limit)*2_000) {
			closed = append(closed, n.leaf)
			leafBound = min(leafBound, n.bound)
			continue
		}
		if st == colgen.Converged && r.descend(n.box, int64(n.limit)*10_000) {
			r.stage = Pairs
			closed = append(closed, n.leaf)
			leafBound = min(leafBound, n.bound)
			continue
		}
		if n.limit *= 4; n.limit > lastList || st != colgen.Converged {
			stuck = min(stuck, n.bound)
		}
		open = append(open, n)
		r.dive(round + 1)
		r.improve(20)
	}
	if len(open) == 0 {
		r.bound = r.cost
	}
	for _, n := range open {
		n.leaf.Lo, n.leaf.Hi = n.box.Lo, n.box.Hi
		closed = append(closed, n.leaf)
		leafBound = min(leafBound, n.bound)
	}
	r.leaves, r.leafBound = closed, leafBound
	m.SetBox(dual.Full(r.p))
}

func boundOf(m *colgen.Master, st colgen.Status) int64 {
	if st == colgen.Infeasible {
		return noPlan
	}
	return m.Bound
}

// fractionalBin returns the bin whose use is furthest from whole, weighted by
// its cost, or -1.
func (r *run) fractionalBin() (int, float64) {
	m := r.master
	x := make([]float64, len(r.p.Bins))
	for j := range m.Pats {
		x[m.Pats[j].Bin] += m.LP.Value(j)
	}
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
