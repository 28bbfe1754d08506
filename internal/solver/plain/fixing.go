package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/search"
)

// fixCounts takes off a node's box what its relaxation rules out, and closes that.
func (r *solver) fixCounts(n *node, here *master.Duals, cutoff int64, shut func(*node)) bool {
	box, off := r.master.Fix(here, n.box, cutoff)
	for _, part := range off {
		shut(&node{box: part, bound: r.cost, leaf: search.Leaf{Dual: slices.Clone(here.Item), Scale: here.Scale, RoundedUp: true}})
	}
	n.box = box
	return len(off) > 0
}
