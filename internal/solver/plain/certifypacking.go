package plain

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/search"
)

// certifyPacking looks for a list that proves that no plan has one stick less. The sticks that were
// peeled off are in some such plan if there is one, so only the remaining pieces are listed.
func (r *solver) certifyPacking(mt *meter.Meter) {
	var forced [][]int
	var cols []model.PatternCount
	if r.peeler != nil {
		forced, cols = r.peeledOff()
	}
	rest := residual.Of(r.p, cols)
	if rest == nil {
		return
	}
	cost := r.cost - int64(len(forced))*r.p.Bins[0].Cost
	sub := &solver{p: &rest.Problem, mt: mt, cost: cost, rng: r.rng}
	leaf, ok := sub.listed()
	if !ok {
		return
	}
	if leaf = rest.Whole(leaf, len(r.p.Items)); len(forced) > 0 || leaf.Search != nil {
		r.noPacking = &search.Packed{Forced: forced, Leaf: leaf}
		return
	}
	r.leaves, r.leafBound = []search.Leaf{leaf}, r.cost
}

// peeledOff returns the sticks that were peeled off, by their items and as patterns.
func (r *solver) peeledOff() (forced [][]int, cols []model.PatternCount) {
	for _, sizes := range r.peeler.Forced() {
		var items []int
		var pat model.Pattern
		for _, v := range sizes {
			i := slices.IndexFunc(r.p.Items, func(it model.Item) bool { return it.Size == v })
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
func (r *solver) listed() (leaf search.Leaf, ok bool) {
	r.master = master.New(r.p)
	addInitialColumns(r.master, nil)
	few := r.p.Pieces() <= fewLeft
	if !few {
		r.master.SeedByLength(min(len(r.p.Items)/12, 12), r.mt)
	}
	r.leaves = []search.Leaf{{Lo: make([]int64, 1), Hi: []int64{r.p.Bins[0].Limit}, Dual: make([]int64, len(r.p.Items)), Scale: 1}}
	if r.takeBound(r.master.Solve(r.cost, r.mt)); r.bound < r.cost && few {
		r.alternatives = []master.Duals{r.master.Duals.Clone()}
		r.enumerateRoot(earlyList, false, lastWork)
	}
	if r.bound < r.cost {
		r.findAlternatives()
	}
	if r.bound < r.cost {
		r.enumerateRoot(rootList, true, lastWork)
	}
	return r.leaves[0], r.bound >= r.cost
}
