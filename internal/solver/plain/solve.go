// Package plain solves a model.Problem with one kind of stick to proven optimality if it can. Otherwise it returns the
// best plan found, with a valid lower bound.
//
// A run goes through these stages and ends as soon as the bound meets the plan: quick plans (package
// heuristic); a search for a plan without waste (packing); the linear relaxation over all patterns (master),
// at several of its optimal duals (alternatives); dives that fix patterns one after another (dive); the list
// of all patterns that a better plan could use, and a search over that list (enumerate, setcover); for large
// demands, the residual problem that the integer part of the relaxation leaves (residual). Then longer lists, dives,
// neighborhoods of the best plan and the search for a plan without waste alternate. Every bound is exact, see package
// bound.
package plain

import (
	"context"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/packing"
	"example.com/longpoint/internal/solver/search"
)

// inequalityItems is the number of items from which the relaxation starts with dual inequalities.
const inequalityItems = 30

// solver is the state of one run.
type solver struct {
	p            *model.Problem
	mt           *meter.Meter
	master       *master.Master
	rng          diversify.Stream
	root         master.Duals
	alternatives []master.Duals // several optimal dual solutions of the root
	shown        master.Duals   // the duals that prove the bound for the whole problem

	packing *packing.Search // nil if there is nothing to search for
	peeler  *packing.Peeler // likewise

	plan  []model.PatternCount // best so far
	cost  int64
	bound int64
	stage search.Stage // the present stage

	leaves    []search.Leaf
	leafBound int64
	noPacking *search.Packed

	insidePacking bool // the problem is the rest that a packing search left
	nested        bool // one of several tries, without long searches

	watch *search.Watch        // nil for none, and in nested runs
	start []model.PatternCount // the caller's start
}

// Run finds the cheapest plan and proves it if it can. It ignores the goals after the cost. It also returns
// the basis and optimal duals of the relaxation.
func Run(ctx context.Context, p *model.Problem, mt *meter.Meter, w *search.Watch, o search.Options) (res search.Result, root master.Relaxed) {
	r := &solver{p: p, mt: mt, cost: search.NoPlan, rng: diversify.Start, watch: w}
	if o.Start != nil {
		r.start = o.Start.Patterns
	}
	r.solve()
	root = r.known()
	r.showAgain(ctx, o.Work)
	res = search.Result{Patterns: r.plan, Cost: r.cost, Bound: r.bound, Leaves: r.leaves, LeafBound: r.leafBound, Packed: r.noPacking}
	res.Conclude(mt, r.stage)
	return res, root
}

// enter begins a stage.
func (r *solver) enter(stage search.Stage) {
	r.stage = stage
	r.watch.Enter(stage)
}

// solve goes through the stages until the run is over.
func (r *solver) solve() {
	for _, phase := range []struct {
		stage search.Stage
		enter func()
	}{
		{search.Quick, func() { r.begin() }},
		{search.Tight, func() { r.searchPacking() }},
		{search.Root, func() { r.relax() }},
		{search.Dive, func() { r.firstDive() }},
		{search.Root, func() { r.findAlternatives() }},
		{search.Dive, func() { r.diveOnce() }},
		{search.List, func() { r.enumerateRoot(earlyList, r.whole(), r.work(earlyWorkMany, earlyWork)) }},
		{search.Dive, func() { r.dive(0, r.mostBacktracks()) }},
		{search.Residual, func() { r.residual() }},
		{search.List, func() { r.enumerateRoot(rootList, true, r.work(treeFirstWork, 0)) }},
		{search.List, func() { r.enumerateRoot(rootList, true, r.work(0, middleWork)) }},
		{search.Dive, func() { r.diveAndPack(1) }},
		{search.List, func() { r.enumerateRoot(rootList, true, r.work(0, lastWork)) }},
		{search.Dive, func() { r.keepDiving(2, 4) }},
		{search.Tree, func() { r.tree() }},
		{search.Dive, func() { r.keepDiving(4, 100) }},
	} {
		r.enter(phase.stage)
		if phase.enter(); r.done() {
			break
		}
	}
}

// begin makes quick plans and bounds the cost by material.
func (r *solver) begin() {
	if len(r.start) > 0 {
		r.completeStart()
	}
	quickPlans(r.p, r.mt, r.tryIncumbent)
	r.master = master.New(r.p)
	r.master.Material()
	box := bound.Full(r.p)
	r.leaves, r.bound = []search.Leaf{{Lo: box.Lo, Hi: box.Hi}}, -1
	r.show(r.master.Bound)
}

// relax solves the relaxation of the whole problem.
func (r *solver) relax() {
	addInitialColumns(r.master, r.plan)
	for _, c := range r.start {
		r.master.Add(c.Bin, c.Uses)
	}
	r.master.SeedByLength(min(len(r.p.Items)/12, 12), r.mt)
	if len(r.p.Items) >= inequalityItems {
		if r.takeBound(r.master.SolveWithInequalities(r.cost, r.mt)); r.done() {
			return
		}
	}
	r.takeBound(r.master.Solve(r.cost, r.mt))
}

// firstDive dives before there are several optimal duals, except in the rest of a packing: see diveOnce.
func (r *solver) firstDive() {
	if r.whole() && !r.insidePacking {
		r.dive(0, r.mostBacktracks())
	}
}

// takeBound takes the bound of the master for the whole problem, with the duals that prove it.
func (r *solver) takeBound(st master.Status) {
	b := r.master.Bound
	if st == master.Infeasible {
		b = search.NoPlan
	}
	r.show(b)
	if r.master.Duals.Scale > 0 {
		r.root = r.master.Duals.Clone()
	}
}

// show records a bound for the whole problem that the master's duals prove, if it is the best so far.
func (r *solver) show(bound int64) {
	if bound > r.bound {
		r.bound, r.leafBound, r.shown = bound, bound, r.master.Duals.Clone()
		r.leaves[0].Dual, r.leaves[0].Scale = r.shown.Item, r.shown.Scale
	}
}

// maxPieces is the number of pieces up to which long searches over lists are tried.
const maxPieces = 20_000

// whole reports whether lists are the way to search the whole problem. With large demands a dive leaves little.
func (r *solver) whole() bool {
	return r.p.Pieces() <= maxPieces && !r.nested
}

// work chooses the work for the whole problem: several if the tree or a dive is the better way,
// else one.
func (r *solver) work(several, one int64) int64 {
	if !r.whole() {
		return several
	}
	return one
}

// enumerateRoot tries to finish by listing patterns for the whole problem.
func (r *solver) enumerateRoot(limit int, cuts bool, work int64) {
	if work <= 0 {
		return
	}
	if proof, closed := r.enumerateBox(bound.Full(r.p), r.alternatives, r.cost, limit, cuts, work); closed {
		r.bound = max(r.bound, r.cost)
		if len(r.leaves) == 1 {
			mark(&r.leaves[0], &proof)
		}
	}
}

// diveOnce dives once, without backtracks, in the rest of a packing: that is as likely to have no plan, which
// a list decides.
func (r *solver) diveOnce() {
	if r.insidePacking && r.whole() {
		r.dive(0, 0)
	}
}

// diveAndPack dives once more, with other choices, and continues the search for a plan with almost
// no slack.
func (r *solver) diveAndPack(diversify int) {
	if !r.whole() {
		return
	}
	if r.dive(diversify, r.mostBacktracks()); r.done() {
		return
	}
	if r.neighborhoodSearch(boxTriesOfOneKind); r.done() {
		return
	}
	r.goOnPacking(goOnPackingWork)
}

// keepDiving repeats diveAndPack.
func (r *solver) keepDiving(from, to int) {
	for k := from; k < to && r.whole() && !r.done(); k++ {
		r.diveAndPack(k)
	}
}

// done reports whether the run is over: proven, or out of work. The caller's Progress may be called
// here.
func (r *solver) done() bool {
	r.watch.Bounded(r.bound)
	r.mt.Pause()
	return r.bound >= r.cost || !r.mt.Left()
}

// tryIncumbent takes a plan that meets the demand exactly as the incumbent if it is better.
func (r *solver) tryIncumbent(cols []model.PatternCount) {
	if c := model.Cost(r.p, cols); c < r.cost {
		r.plan, r.cost = cols, c
		if r.watch != nil {
			plan := slices.Clone(cols)
			r.watch.Found(c, func() ([]model.PatternCount, [][]int) { return plan, nil })
		}
	}
}

// addInitialColumns gives the master initial columns: the patterns of a plan, and for each item a stick filled with that
// item alone.
func addInitialColumns(m *master.Master, plan []model.PatternCount) {
	for _, c := range plan {
		m.Add(c.Bin, c.Uses)
	}
	bin := m.Plain.Bins[0]
	for i, it := range m.Plain.Items {
		if n := min(it.Demand, bin.Cap/it.Size); n > 0 && bin.Limit > 0 {
			m.Add(0, []model.Use{{Item: i, N: n}})
		}
	}
}

// count returns the number of sticks of a plan.
func count(plan []model.PatternCount) (n int64) {
	for _, c := range plan {
		n += c.Count
	}
	return n
}
