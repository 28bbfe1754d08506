package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
)

// fixedByReducedCost takes off the box what the duals themselves show to hold no plan below cutoff: uses
// of a bin that are too many, or too few. It returns the box that is left and the parts
// taken off, one after the other.
//
// By the duals a use more of a bin costs at least what is lacking between its cost and the
// best of its patterns, and one less what the best of them gains (reduced cost fixing).
func fixedByReducedCost(p *model.Problem, s *boxDuals, cutoff int64) (box bound.Box, off []bound.Box) {
	box = s.box
	if s.scale == 0 {
		return box, nil
	}
	num := bound.Numerator(p, box, s.dual, s.best, s.scale)
	num.AddMul(s.scale, -(cutoff - 1))
	n, ok := num.Int64()
	if !ok || n > 0 {
		return box, nil // far from any cost, or nothing in it is below cutoff anyway
	}
	gap := -n
	box = box.Clone()
	take := func(b int, lo, hi int64) {
		part := box.Clone()
		part.Lo[b], part.Hi[b] = lo, hi
		off = append(off, part)
	}
	for b, bin := range p.Bins {
		lo, hi := box.Lo[b], box.Hi[b]
		if lo >= hi {
			continue
		}
		switch r := bin.Cost*s.scale - s.best[b]; {
		case r > 0 && gap/r < hi-lo:
			top := lo + gap/r
			take(b, top+1, hi)
			box.Hi[b] = top
		case r < 0 && gap/-r < hi-lo:
			least := hi - gap/-r
			take(b, lo, least-1)
			box.Lo[b] = least
		}
	}
	return box, off
}

// fixCounts takes off a node's box what its relaxation rules out, and closes that.
func (r *solver) fixCounts(n *node, here *boxDuals, cutoff int64, shut func(*node)) bool {
	box, off := fixedByReducedCost(r.p, here, cutoff)
	for _, part := range off {
		shut(&node{box: part, bound: r.cost, leaf: search.Leaf{Dual: slices.Clone(here.dual), Scale: here.scale, RoundedUp: true}})
	}
	n.box = box
	return len(off) > 0
}
