package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/packing"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/setcover"
	"example.com/longpoint/internal/solver/tree"
)

// oneKind is the search for a plan without rules if there is one kind of stick. Its cost is a number of sticks, and the
// bound of the relaxation, rounded up, is nearly always the least number: what remains is to find such a plan, or to show
// that there is none. Therefore ways to find plans and lists of all patterns alternate, and the tree over counts, which has
// nothing to split, is the last resort. See stages.
type oneKind struct {
	*solver
	ofPacking    bool            // the problem is the rest that a search for a packing left
	alternatives []master.Duals  // several optimal dual solutions of the root
	proving      master.Duals    // the duals that prove the bound for the whole problem
	packing      *packing.Search // nil if there is nothing to search for
	peeler       *packing.Peeler // likewise
	noPacking    *search.Packed  // the proof that no packing exists, if there is one
}

// inequalityItems is the number of items from which the relaxation starts with dual inequalities.
const inequalityItems = 30

// stages goes through the stages until the bound meets the cost or the work is used up.
func (k *oneKind) stages() {
	if !k.ofPacking {
		k.rng = diversify.Start
	}
	for _, phase := range [...]struct {
		stage search.Stage
		enter func()
	}{
		{search.Quick, k.begin},
		{search.Tight, k.searchPacking},
		{search.Root, k.relax},
		{search.Dive, k.firstDive},
		{search.Root, k.findAlternatives},
		{search.Dive, k.diveOnce},
		{search.List, func() { k.enumerateWhole(earlyList, k.whole(), k.work(earlyWorkMany, earlyWork)) }},
		{search.Dive, func() { k.dive(0, k.mostBacktracks()) }},
		{search.List, func() { k.enumerateWhole(longList, true, k.work(manyWork, middleWork)) }},
		{search.Dive, func() { k.diveAndPack(1) }},
		{search.List, func() { k.enumerateWhole(longList, true, k.work(0, lastWork)) }},
		{search.Dive, func() { k.keepDiving(2, 4) }},
		{search.Tree, k.tree},
		{search.Dive, func() { k.keepDiving(4, 100) }},
	} {
		k.enter(phase.stage)
		if phase.enter(); k.done() {
			break
		}
	}
	k.rootBasis = k.m.Basics()
}

// begin bounds the cost by material.
func (k *oneKind) begin() {
	k.leaves = []search.Leaf{{Lo: slices.Clone(k.m.Root.Lo), Hi: slices.Clone(k.m.Root.Hi)}}
	k.m.Material()
	k.show(k.m.Bound)
}

// relax solves the relaxation of the whole problem.
func (k *oneKind) relax() {
	k.addInitialColumns()
	k.m.SeedByLength(min(len(k.p.Items)/12, 12), k.mt)
	if len(k.p.Items) >= inequalityItems {
		if k.takeBound(k.m.SolveWithInequalities(k.cost, k.mt)); k.done() {
			return
		}
	}
	k.takeBound(k.m.Solve(k.cost, k.mt))
}

// takeBound takes the bound of the master for the whole problem, with the duals that prove it.
func (k *oneKind) takeBound(st master.Status) {
	b := k.m.Bound
	if st == master.Infeasible {
		b = search.NoPlan
	}
	if k.show(b); k.m.Duals.Scale > 0 {
		k.takeDuals()
	}
}

func (k *oneKind) takeDuals() {
	k.rootDuals = k.m.Duals.Clone()
	k.rootValue, k.rootScale = k.rootDuals.Item, k.rootDuals.Scale
}

// show records a bound for the whole problem that the master's duals prove, if it is the best so far.
func (k *oneKind) show(bound int64) {
	if bound > k.bound {
		k.bound, k.shown, k.proving = bound, bound, k.m.Duals.Clone()
		k.leaves[0].Dual, k.leaves[0].Scale = k.proving.Item, k.proving.Scale
	}
}

// findAlternatives finds several optimal duals of the relaxation, under which few patterns have a small reduced cost. A
// better plan must satisfy all of them, so its list of patterns is short if it is short under any of them.
func (k *oneKind) findAlternatives() {
	k.takeDuals()
	k.alternatives = []master.Duals{k.rootDuals}
	if k.whole() {
		k.alternatives = append(k.alternatives, k.alternativesHere()...)
	}
}

// maxPieces is the number of pieces up to which long searches over lists are tried.
const maxPieces = 20_000

// whole reports whether lists are the way to search the whole problem. With large demands a dive leaves little.
func (k *oneKind) whole() bool {
	return k.plain.Pieces() <= maxPieces
}

// work chooses the work of a list for the whole problem: many if a dive is the better way, else few.
func (k *oneKind) work(many, few int64) int64 {
	if !k.whole() {
		return many
	}
	return few
}

// enumerateWhole tries to finish by a list of patterns for the whole problem.
func (k *oneKind) enumerateWhole(columns int, cuts bool, work int64) {
	if work <= 0 {
		return
	}
	most := listLimits{listing.Effort{Effort: master.Effort{Columns: columns, Visits: mostVisits * columns}, Branching: setcover.Branching{Cuts: cuts}}, work}
	if !k.enumerateBoxBy(k.m.Root, k.alternatives, k.cost, &most) {
		return
	}
	k.bound = max(k.bound, k.cost)
	if len(k.leaves) > 1 {
		return
	}
	if k.leaves[0].Search = k.proof; k.alone != nil {
		k.leaves[0] = search.Leaf{Lo: k.leaves[0].Lo, Hi: k.leaves[0].Hi, Dual: slices.Clone(k.alone.Item), Scale: k.alone.Scale, RoundedUp: true}
	}
}

// firstDive dives before there are several optimal duals, except in the rest of a packing: see diveOnce.
func (k *oneKind) firstDive() {
	if k.whole() && !k.ofPacking {
		k.dive(0, k.mostBacktracks())
	}
}

// diveOnce dives once, without backtracks, in the rest of a packing: that is as likely to have no plan, which
// a list decides.
func (k *oneKind) diveOnce() {
	if k.whole() && k.ofPacking {
		k.dive(0, 0)
	}
}

// mostBacktracks returns how often a dive may backtrack.
func (k *oneKind) mostBacktracks() int {
	if k.whole() {
		return mostBacktracksOfOne
	}
	return 0
}

// dive rounds the relaxation to a plan. A positive diversify perturbs the choices, each number
// differently.
func (k *oneKind) dive(diversify, backtracks int) {
	d := k.diveByLists()
	d.Diversify, d.Backtracks = diversify, backtracks
	d.Run()
}

// diveAndPack dives once more, with other choices, and continues the search for a plan with almost
// no slack.
func (k *oneKind) diveAndPack(diversify int) {
	if !k.whole() {
		return
	}
	if k.dive(diversify, k.mostBacktracks()); k.done() {
		return
	}
	if k.neighborhoodSearch(triesOfOneKind); k.done() {
		return
	}
	k.goOnPacking(goOnPackingWork)
}

// keepDiving repeats diveAndPack.
func (k *oneKind) keepDiving(from, to int) {
	for n := from; n < to && k.whole() && !k.done(); n++ {
		k.diveAndPack(n)
	}
}

// tree searches the tree over the count of sticks.
func (k *oneKind) tree() {
	t := k.boxes()
	t.Tree, t.rooted = tree.New(k, k.m, node{Box: k.m.Root, Bound: k.bound, Leaf: k.leaves[0]}), true
	t.search()
	k.m.SetBox(bound.Full(k.plain))
}

// runRest plans the rest that a search for a packing left, in a search of its own, and returns the bound of its cost.
func (k *oneKind) runRest(rest *residual.Problem, work int64) (least int64) {
	s := &solver{p: rules.Of(&rest.Problem), plain: &rest.Problem, objective: k.objective, mt: k.mt.Sub(work), rng: k.rng}
	s.one = &oneKind{solver: s, ofPacking: true}
	if s.solve(nil); s.plan != nil {
		k.tryIncumbent(k.p.FromPatterns(rest.Joined(rules.ToPatterns(s.plan))))
	}
	return s.bound
}

// known returns optimal duals of the relaxation, or those that prove the bound if it has none.
func (k *oneKind) known() (all []master.Duals) {
	for _, d := range append([]master.Duals{k.rootDuals}, k.alternatives...) {
		if d.Scale > 0 {
			all = append(all, d)
		}
	}
	if len(all) == 0 && k.proving.Scale > 0 {
		all = append(all, k.proving)
	}
	return all
}
