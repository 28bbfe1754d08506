package plain

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
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
	rest := residualOf(r.p, cols)
	if rest == nil {
		return
	}
	cost := r.cost - int64(len(forced))*r.p.Bins[0].Cost
	sub := &solver{p: &rest.Problem, mt: mt, cost: cost, rng: r.rng}
	leaf, ok := sub.listed()
	if !ok {
		return
	}
	if leaf = rest.whole(leaf, len(r.p.Items)); len(forced) > 0 || leaf.Search != nil {
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

// whole converts a leaf of the residual problem to one of the whole problem, in which the other
// items have dual value zero.
func (q *residualProblem) whole(l search.Leaf, items int) search.Leaf {
	wide := func(values []int64) []int64 {
		out := make([]int64, items)
		for k, i := range q.item {
			out[i] = values[k]
		}
		return out
	}
	var node func(n *certificate.Node) *certificate.Node
	node = func(n *certificate.Node) *certificate.Node {
		if n == nil {
			return nil
		}
		out := *n
		if n.Vector != nil {
			v := *n.Vector
			v.Items = wide(v.Items)
			v.Cuts = slices.Clone(v.Cuts)
			for k := range v.Cuts {
				v.Cuts[k].Items = slices.Clone(v.Cuts[k].Items)
				for j, i := range v.Cuts[k].Items {
					v.Cuts[k].Items[j] = q.item[i]
				}
			}
			out.Vector = &v
		}
		out.Row.Holds = slices.Clone(n.Row.Holds)
		for k := range out.Row.Holds {
			out.Row.Holds[k].Item = q.item[out.Row.Holds[k].Item]
		}
		out.Then, out.Less, out.More = node(n.Then), node(n.Less), node(n.More)
		return &out
	}
	l.Dual = wide(l.Dual)
	if l.Search != nil {
		s := &certificate.Search{Root: node(l.Search.Root)}
		for _, f := range l.Search.Filters {
			s.Filters = append(s.Filters, certificate.Vector{Scale: f.Scale, Items: wide(f.Items)})
		}
		l.Search = s
	}
	return l
}
