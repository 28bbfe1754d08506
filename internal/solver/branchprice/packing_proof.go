package branchprice

import (
	"context"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// certify looks for a list that proves the result of a search for a packing, since that search leaves no
// certificate. Its work is not part of the search: it is counted separately, and limited to twice the work of
// the proof and to the caller's limit.
func (k *oneKind) certify(ctx context.Context, limit int64) {
	if k.plan == nil || k.bound < k.cost || k.shown >= k.cost || k.leaves[0].Search != nil {
		return
	}
	used := k.mt.Used()
	work := showAgainShare*used + showAgainLeast
	if limit > 0 {
		work = min(work, limit-used)
	}
	if work > 0 && meter.Ended(ctx) == nil {
		k.certifyPacking(meter.New(ctx, work))
	}
}

// certifyPacking looks for a list that proves that no plan has one stick less. The sticks that were
// peeled off are in some such plan if there is one, so only the remaining pieces are listed.
func (k *oneKind) certifyPacking(mt *meter.Meter) {
	var forced [][]int
	var cols []model.PatternCount
	if k.peeler != nil {
		forced, cols = k.peeledOff()
	}
	rest := residual.Of(k.plain, cols)
	if rest == nil {
		return
	}
	s := &solver{p: rules.Of(&rest.Problem), plain: &rest.Problem, objective: k.objective, mt: mt, rng: k.rng, records: true}
	s.cost = k.cost - int64(len(forced))*k.plain.Bins[0].Cost
	leaf, ok := (&oneKind{solver: s}).listed()
	if !ok {
		return
	}
	if leaf = rest.Whole(leaf, len(k.p.Items)); len(forced) > 0 || leaf.Search != nil {
		k.noPacking = &search.Packed{Forced: forced, Leaf: leaf}
		return
	}
	k.leaves, k.shown = []search.Leaf{leaf}, k.cost
}

// peeledOff returns the sticks that were peeled off, by their items and as patterns.
func (k *oneKind) peeledOff() (forced [][]int, cols []model.PatternCount) {
	for _, sizes := range k.peeler.Forced() {
		var items []int
		var pat model.Pattern
		for _, v := range sizes {
			i := slices.IndexFunc(k.plain.Items, func(it model.Item) bool { return it.Size == v })
			items = append(items, i)
			pat = pat.With(i, 0, 1)
		}
		forced = append(forced, items)
		cols = append(cols, model.PatternCount{Pattern: pat, Count: 1})
	}
	return forced, cols
}

// fewLeft is a number of pieces so small that any list of their patterns is short.
const fewLeft = 24

// listed returns a leaf that proves, by a search over a list, that no plan costs less.
func (k *oneKind) listed() (leaf search.Leaf, ok bool) {
	k.m = master.New(k.plain)
	k.addInitialColumns()
	few := k.plain.Pieces() <= fewLeft
	if !few {
		k.m.SeedByLength(min(len(k.p.Items)/12, 12), k.mt)
	}
	k.leaves = []search.Leaf{{Lo: make([]int64, 1), Hi: []int64{k.plain.Bins[0].Limit}, Dual: make([]int64, len(k.p.Items)), Scale: 1}}
	if k.takeBound(k.m.Solve(k.cost, k.mt)); k.bound < k.cost && few {
		k.alternatives = []master.Duals{k.m.Duals.Clone()}
		k.enumerateWhole(earlyList, false, lastWork)
	}
	if k.bound < k.cost {
		k.findAlternatives()
	}
	if k.bound < k.cost {
		k.enumerateWhole(longList, true, lastWork)
	}
	return k.leaves[0], k.bound >= k.cost
}
