package branchprice

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/tree"
)

// solver is the search for the best plan by one criterion.
type solver struct {
	p            *rules.Problem
	plain        *model.Problem // the same problem without rules, nil if it has any or only a part of it is of interest
	objective    rules.Objective
	mt           *meter.Meter
	m            *master.Master
	plan         []rules.ColumnCount
	cost         int64
	bound        int64
	stage        search.Stage // the present stage
	leaves       []search.Leaf
	searched     bool
	shown        int64 // the bound that the leaves prove without searches
	rng          diversify.Stream
	rootValue    []int64 // duals at the root, for improve
	rootScale    int64
	patience     int64               // multiple of the usual work for the residual problem of a dive; 0 counts as 1
	threshold    int64               // only plans that cost less count; 0: any
	target       int64               // with a threshold, a plan that costs no more ends the run
	exactOnly    bool                // without quick plans and dives, for tests
	dived        [][]int64           // counts that diveAtCounts has tried
	startPlan    []rules.ColumnCount // the caller's start: a plan, or a part of one
	startColumns []rules.Column      // of earlier relaxations, to start this one
	startSwaps   []int               // likewise, exchanges
	listed       []rules.Column      // all columns that a plan within the limits can use; nil: unknown
	rootBasis    []rules.Column      // of the root relaxation
	rootSwaps    []int               // the exchanges of its basis
	rootDuals    master.Duals        // likewise
	watch        *watch              // reports better plans and bounds; nil for none, and in nested runs
	records      bool                // searches over lists record their proofs
	alone        *master.Duals       // if not nil, these duals alone prove the result of the last search, without rules
	proof        *certificate.Search // the proof of the last of these searches, nil if not recorded
	one          *oneKind            // the search if there are no rules and one kind of stick, nil otherwise
}

// done reports whether the search is over: the bound met the cost, or no work is left. The caller's Progress may be called
// here.
func (r *solver) done() bool {
	r.watch.bounded(r.bound)
	r.mt.Pause()
	return r.bound >= r.cost || !r.mt.Left()
}

// tryIncumbent makes a plan the incumbent if it is feasible, within the limits and better.
func (r *solver) tryIncumbent(plan []rules.ColumnCount) {
	crit, ok := rules.Evaluate(r.p, plan)
	if !ok || crit[r.objective.Main] >= r.cost && !r.p.Spliced() && r.p.Exactly(plan) {
		return
	}
	plan = r.p.Tidy(plan)
	if crit, ok = rules.Evaluate(r.p, plan); !ok {
		return
	}
	joined := plan
	if r.p.Spliced() && r.mt.Spend(int64(len(plan))) {
		joined = r.p.Unspliced(plan)
		// The search continues from the plan as it is, unless joining its parts improves the main criterion
		// or the plan exceeds a limit: a plan of short parts is closer to other plans.
		if now, ok := rules.Evaluate(r.p, joined); ok && (now[r.objective.Main] < crit[r.objective.Main] || !r.objective.Keeps(&crit)) {
			plan, crit = joined, now
		}
	}
	if r.objective.Keeps(&crit) && crit[r.objective.Main] < r.cost {
		r.plan, r.cost = plan, crit[r.objective.Main]
		r.watch.found(joined, crit)
	}
}

// enter begins a stage.
func (r *solver) enter(stage search.Stage) {
	r.stage = stage
	r.watch.enter(stage)
}

// solve finds the best plan by the objective, and proves it if it can.
func (r *solver) solve(seed []rules.ColumnCount) {
	r.cost = rules.NoCost
	if r.threshold > 0 {
		r.cost = r.threshold
	}
	r.bound, r.stage = master.NoBound, search.Quick
	r.completeStart()
	if seed != nil {
		r.tryIncumbent(seed)
	} else if !r.exactOnly {
		heuristic.Quick(r.p, r.mt, r.tryIncumbent)
	}
	if r.plain != nil {
		if r.m = master.New(r.plain); huge(r.plain) {
			r.m.KeepInequalities()
		}
	} else {
		r.m = master.NewOf(r.p, r.objective)
	}
	if r.plain != nil && len(r.plain.Bins) == 1 && !r.exactOnly {
		if r.one == nil {
			r.one = &oneKind{solver: r}
		}
		r.one.stages()
		return
	}
	r.enter(search.Root)
	if r.p.Spliced() {
		r.m.KeepExchanges()
	}
	r.m.Material()
	if r.objective.Main != rules.Salvage { // salvage may be negative
		r.bound = max(r.bound, min(r.m.Bound, r.cost))
	}
	r.addInitialColumns()
	t := r.boxes()
	t.Tree = tree.New(r, r.m, node{Box: r.m.Root, Bound: master.NoBound})
	t.Open[0].Leaf = t.Leaf()
	t.search()
}

// node is a box of counts, or a point.
type node = tree.Node[point]

// boxes is the tree over counts of sticks.
type boxes struct {
	*solver
	*tree.Tree[point]
	later  []node // points that no list has closed yet
	rooted bool   // the root relaxation has been solved

	visits   int
	schedule heuristic.Schedule
}

// boxes returns a tree without boxes yet.
func (r *solver) boxes() *boxes {
	t := &boxes{solver: r, schedule: heuristic.Schedule{Turns: turns[:], Meter: r.mt, Try: r.turn}}
	if r.plain != nil && len(r.plain.Bins) >= manyKinds {
		t.schedule.Turns = turnsOfMany[:]
	}
	return t
}

// Incumbent returns the cost of the incumbent.
func (r *solver) Incumbent() int64 { return r.cost }

func (t *boxes) search() {
	for len(t.Open) > 0 || len(t.later) > 0 {
		at, ok := t.next()
		if !ok {
			break
		}
		n := t.Take(at)
		if n.Point != nil {
			t.enter(search.Tree)
			t.try(n)
		} else if !t.explore(n) {
			break
		}
	}
	for _, n := range slices.Concat(t.Open, t.later) {
		t.Shut(&n)
	}
	t.leaves, t.searched, t.shown = t.Leaves, t.Rests, t.Shown
	t.bound = max(t.bound, min(t.Closed, t.cost))
}

// next returns the index of the next node, and false if the search is over or the work is used up.
func (t *boxes) next() (at int, ok bool) {
	if !slices.ContainsFunc(t.Open, func(n node) bool { return n.Bound < t.cost }) {
		// The plans found in other boxes may close the points.
		t.Open, t.later = append(t.Open, t.later...), nil
	}
	at = t.Least()
	least := min(t.Open[at].Bound, t.Closed, t.cost)
	for i := range t.later {
		least = min(least, t.later[i].Bound)
	}
	t.bound = max(t.bound, least)
	t.watch.bounded(t.bound)
	ok = t.Open[at].Bound < t.cost && t.mt.Left() && (t.threshold == 0 || t.plan == nil || t.cost > t.target)
	return at, ok
}

// mark puts the proof of the last search into a node's leaf: no plan in its box costs less than below.
func (t *boxes) mark(n *node, below int64) {
	if d := t.alone; t.plain != nil && d != nil && below <= t.cost {
		n.Leaf = search.Leaf{Dual: slices.Clone(d.Item), Scale: d.Scale, RoundedUp: true}
		n.Bound = max(n.Bound, below)
		return
	}
	n.Leaf.Search = t.proof
}

// try searches a point. If that does not close it, the point stays open for further tries, up to a limit.
func (t *boxes) try(n node) {
	if t.Raise(&n, t.Reachable(n.Box)) {
		return
	}
	switch done := t.searchPoint(&n); {
	case done:
		t.SearchedOut(&n)
	case n.Point.tries%len(lists) > 0:
		t.Open = append(t.Open, n)
	case n.Point.tries < (1+mostAgain)*len(lists):
		t.later = append(t.later, n)
	default:
		t.Shut(&n)
	}
}

// explore solves the relaxation of a box, then closes or splits the box. It returns false if the relaxation
// was too much work.
func (t *boxes) explore(n node) bool {
	costs, st, shut := t.Relax(&n, t.mt)
	if st == master.Stopped && t.m.Duals.Scale == 0 {
		t.Open = append(t.Open, n)
		return false
	}
	if !t.rooted {
		t.rootBasis, t.rootSwaps, t.rootDuals = t.m.Basics(), t.m.BasicExchanges(), t.m.Duals.Clone()
	}
	basis := t.Basis()
	if shut || !t.rooted && t.root(&n) {
		return true
	}
	if st == master.Converged && t.Fix(&n, &t.m.Duals, costs.Cutoff(t.cost)) {
		return true
	}
	t.schedule.Begin()
	t.enter(search.Tree)
	kids, whole := t.branch(n.Box)
	if whole != nil && t.objective.Main == rules.Price {
		t.branchOnPoint(&n, whole, basis)
		return true
	}
	if whole != nil && !t.exactOnly {
		t.diveAtCounts(whole)
		if n.Bound >= t.cost {
			t.Shut(&n)
			return true
		}
	}
	if len(kids) == 0 && t.list(&n) {
		t.mark(&n, t.cost)
		t.SearchedOut(&n)
		return true
	}
	t.improve()
	if len(kids) == 0 {
		t.Shut(&n)
		return true
	}
	inherited := handDown(&n, t.m.Duals.Clone())
	for _, b := range kids {
		t.Open = append(t.Open, node{Box: b, Bound: n.Bound, Leaf: n.Leaf, Inherited: inherited, Start: basis})
	}
	return true
}

// handDown returns the duals that the parts of a node's box inherit: the latest on the path to it.
func handDown(n *node, here master.Duals) []master.Duals {
	all := append(n.Inherited[:len(n.Inherited):len(n.Inherited)], here)
	return all[max(0, len(all)-mostNear):]
}

// root looks for plans at the root, by a list or by dives, and reports whether that closed the root.
func (t *boxes) root(n *node) (shut bool) {
	t.rooted = true
	t.bound = max(t.bound, min(n.Bound, t.cost))
	t.watch.bounded(t.bound)
	switch {
	case t.exactOnly: // the tree alone
	case t.listed != nil && t.searchListed(n):
		t.SearchedOut(n)
		return true
	case t.affineOn(n.Box) && t.enumerateBox(n.Box, &rootList):
		if t.cost < rules.NoCost {
			t.mark(n, t.cost)
			t.SearchedOut(n)
			return true
		}
	default:
		before := t.mt.Used()
		if t.p.ManyAssemblies() {
			t.enter(search.Improve)
			t.settleAssemblies()
			t.schedule.Spent += t.mt.Used() - before
		} else {
			t.enter(search.Dive)
			t.dive()
		}
	}
	if n.Bound >= t.cost {
		t.Shut(n)
		return true
	}
	return false
}

// searchListed searches the listed columns that pass the filter of the root's duals, and reports whether that
// closed the root.
func (t *boxes) searchListed(n *node) bool {
	costs := t.Reachable(n.Box)
	g, closed, ok := t.m.FilterOf(&t.m.Duals, n.Box, costs.Cutoff(t.cost))
	if closed || !ok {
		return closed
	}
	var list []rules.Column
	for k := range t.listed {
		if g.Accepts(t.p, &t.listed[k]) {
			list = append(list, t.listed[k])
		}
	}
	x := listing.Search{P: t.p, Objective: t.objective, Box: n.Box, Columns: list, Costs: costs, Branching: byColumns}
	plan, complete := x.Run(t.cost, t.mt.Sub(pickWork))
	if plan != nil {
		t.tryIncumbent(plan)
	}
	return complete
}

// branchOnPoint splits a node's box into the point with the integer counts of the relaxation and the boxes
// around it, and searches the point first.
func (t *boxes) branchOnPoint(n *node, whole []int64, basis *lp.Basis) {
	here, leaf := t.m.Duals.Clone(), t.Leaf()
	inherited := handDown(n, here)
	box, pt, around := t.splitOff(n.Box, whole, inherited)
	for _, b := range around {
		part := node{Box: b, Bound: n.Bound, Leaf: n.Leaf, Inherited: inherited, Start: basis}
		if least := t.m.BoundOf(&here, b); least >= n.Bound {
			part.Bound, part.Leaf = least, leaf
		}
		if up := t.Reachable(b).RoundUp(part.Bound); up > part.Bound {
			part.Bound, part.Leaf.RoundedUp, t.Rests = up, true, true
		}
		t.Open = append(t.Open, part)
	}
	t.try(node{Box: box, Bound: n.Bound, Leaf: n.Leaf, Point: pt})
}

// list searches a box that cannot be split by lists of its columns, and reports whether that closed it.
func (t *boxes) list(n *node) bool {
	if !t.affineOn(n.Box) {
		return false
	}
	for k := range lists[:len(lists)-1] {
		if t.enumerateBox(n.Box, &lists[k]) {
			return true
		}
		if !t.mt.Left() {
			break
		}
	}
	return false
}

// improve looks for better plans at some of the boxes: each box's relaxation is another start for a dive.
func (t *boxes) improve() {
	if t.visits++; !t.exactOnly {
		t.schedule.Box(t.visits)
	}
}

// turn runs the heuristic of a turn.
func (r *solver) turn(t *heuristic.Turn) {
	switch t.Name {
	case heuristic.DiveTurn:
		r.dive()
	case heuristic.NeighborhoodTurn:
		r.neighborhoodSearch(t.Tries)
	}
}

// seedSteps is the number of steps counted for an initial column, so that the clock is checked regularly.
const seedSteps = 30

// addInitialColumns gives the master its initial columns: those of the incumbent, of the start and of earlier
// relaxations, and for each item a pattern of that item alone. They are few, since each stays in the master.
func (r *solver) addInitialColumns() {
	p := r.p
	for _, q := range slices.Concat(r.plan, r.startPlan) {
		r.m.AddColumn(*q.Column)
	}
	if len(r.startColumns) > 0 {
		var start []int
		for _, c := range r.startColumns {
			k, _ := r.m.AddColumn(c)
			start = append(start, k)
		}
		r.m.StartWith(start, r.startSwaps)
	}
	bins, one := initialBins(p)
	for i := range p.Items {
		if p.Items[i].Most <= 0 {
			continue // no more of it are of use
		}
		for _, b := range bins {
			f := rules.Pattern{Bin: b, Uses: []rules.Use{{Item: i, Orient: 0, N: 1}}}
			for w := range p.Items[i].Orientations {
				f.Uses[0].Orient = w
				if _, ok := p.Fill(&f); ok {
					break
				}
			}
			if !r.mt.Spend(seedSteps) {
				return // without work left, no duals will be computed
			}
			x, ok := p.Fill(&f)
			if p.Items[i].Offcut > 0 {
				r.addInitialAround(i, b)
			}
			if !ok {
				continue
			}
			if !p.Items[i].Alone {
				lo, hi := int64(1), max(1, min(p.Items[i].Most, p.Bins[b].Cap/p.Items[i].Orientations[f.Uses[0].Orient].Size))
				for lo < hi {
					mid := (lo + hi + 1) / 2
					f.Uses[0].N = mid
					if y, ok := p.Fill(&f); ok {
						lo, x = mid, y
					} else {
						hi = mid - 1
					}
				}
				f.Uses[0].N = lo
				x, _ = p.Fill(&f)
			}
			r.m.AddColumn(rules.Column{Fill: &f, Cost: p.Costs(&f, &x)})
			if one && p.Items[i].Offcut == 0 && !p.Items[i].Alone {
				break
			}
		}
	}
	r.m.Cheapest()
}

// initialBins returns the bins to try for an item's initial pattern, and whether one pattern is enough. Bins
// with the most sticks come first, among equals the cheapest per size. If ends nest, pricing is so expensive
// that a pattern of each bin pays.
func initialBins(p *rules.Problem) (bins []int, one bool) {
	for b := range p.Bins {
		bins = append(bins, b)
	}
	if len(p.Setbacks) > 0 {
		return bins, false
	}
	of := p.ClassOf()
	slices.SortStableFunc(bins, func(x, y int) int {
		a, b := &p.Classes[of[x]], &p.Classes[of[y]]
		return cmp.Or(cmp.Compare(b.Limit-b.Settled, a.Limit-a.Settled),
			cmp.Compare(float64(float64(a.Tiers[0].Price)*float64(p.Bins[y].Cap)), float64(float64(b.Tiers[0].Price)*float64(p.Bins[x].Cap))))
	})
	return bins, true
}

// addInitialAround gives the master a pattern of the item that stands for an offcut with each other item.
func (r *solver) addInitialAround(offcut, bin int) {
	p := r.p
	for i := range p.Items[:offcut] {
		for w := range p.Items[i].Orientations {
			f := rules.Pattern{Bin: bin, Uses: []rules.Use{{Item: i, Orient: w, N: 1}, {Item: offcut, Orient: 0, N: 1}}}
			if !r.mt.Spend(seedSteps) {
				return
			}
			if x, ok := p.Fill(&f); ok {
				r.m.AddColumn(rules.Column{Fill: &f, Cost: p.Costs(&f, &x)})
				break
			}
		}
	}
}

// affineOn reports whether a search over a list can compute the cost of every plan in the box: no charge is
// open, and the cost of each class is a constant plus a price per stick.
func (r *solver) affineOn(b bound.Box) bool {
	p := r.p
	for g := range p.Suppliers {
		if b.On[g] == bound.Open && p.Suppliers[g].Charge > 0 && r.sells(g, b) {
			return false
		}
	}
	for c := range p.Classes {
		lo, hi := r.m.Range(b, c)
		if _, _, ok := p.Classes[c].Affine(lo, hi); !ok {
			return false
		}
	}
	return true
}

// enumerateBox lists the columns of the box and searches the list. It reports whether that closed the box.
func (r *solver) enumerateBox(b bound.Box, most *listLimits) bool {
	return r.m.Duals.Scale != 0 && r.enumerateBoxBy(b, []master.Duals{r.m.Duals.Clone()}, r.cost, most)
}

// enumerateBoxBy is enumerateBox by several dual solutions, each of the box or an enclosing one. It looks for
// plans that cost less than below, which is at most the cost of the incumbent, and reports whether the search
// was complete.
func (r *solver) enumerateBoxBy(b bound.Box, by []master.Duals, below int64, most *listLimits) bool {
	r.proof, r.alone = nil, nil
	x := listing.Box{Families: r.m.Families, Bounds: b, Duals: by, Costs: r.Reachable(b), Most: most.Effort, Record: r.records && r.recordable()}
	plan, complete := x.Run(below, r.mt.Sub(most.work))
	if x.Record && complete {
		r.proof = r.proofOf(&x.Proof)
		r.alone = x.Proof.Alone
	}
	if plan != nil {
		r.tryIncumbent(plan)
	}
	return complete
}

// recordable reports whether the tree of a search over a list can be recorded: the price is the only
// criterion, and there is no threshold.
func (r *solver) recordable() bool {
	return r.objective == rules.Objective{Main: rules.Price} && r.threshold == 0
}

// proofOf states a proof as a search. If duals rule out every plan by themselves, it is a search over an empty list.
func (r *solver) proofOf(by *listing.Proof) *certificate.Search {
	if by.Alone == nil {
		return by.Search
	}
	nothing := &certificate.Vector{Items: make([]int64, len(r.p.Items)), Classes: make([]int64, len(r.p.Classes))}
	return &certificate.Search{Filters: []certificate.Vector{{Scale: by.Alone.Scale, Items: slices.Clone(by.Alone.Item)}}, Root: &certificate.Node{Vector: nothing}}
}

// round looks for a better plan among the columns of the master.
func (r *solver) round(work int64) {
	b := r.m.Box.Clone()
	// If costs are not affine or suppliers are open, follow the relaxation.
	for g := range r.p.Suppliers {
		if b.On[g] == bound.Open {
			b.On[g] = bound.Yes
			if !r.m.Charged(g) && r.p.Suppliers[g].Charge > 0 {
				b.On[g] = bound.No
			}
		}
	}
	n := r.m.Sticks()
	for c := range r.p.Classes {
		lo, hi := r.m.Range(b, c)
		if hi == 0 {
			b.Hi[c] = 0
		}
		if _, _, ok := r.p.Classes[c].Affine(lo, hi); !ok {
			up := min(hi, int64(math.Ceil(n[c]-1e-6)))
			lo, top := r.p.Classes[c].AffinePart(0, up, hi)
			b.Lo[c], b.Hi[c] = 0, top
			if _, _, ok := r.p.Classes[c].Affine(0, top); !ok {
				b.Lo[c] = lo
			}
		}
	}
	x := listing.Search{P: r.p, Objective: r.objective, Box: b, Columns: slices.Clone(r.m.Columns), Costs: r.Reachable(b), Branching: byColumns}
	if plan, _ := x.Run(r.cost, r.mt.Sub(work)); plan != nil {
		r.tryIncumbent(plan)
	}
}

// branch splits the box: on whether a supplier is used, on a fractional count, on a class whose cost the
// relaxation underestimates, else on an open count that affects the cost. The part closer to the relaxation
// comes first. If the relaxation has integer counts and their exact cost, branch returns the counts, too.
func (r *boxes) branch(b bound.Box) (kids []bound.Box, whole []int64) {
	if kids := r.branchOnSupplier(b); kids != nil {
		return kids, nil
	}
	n := r.m.Sticks()
	pick, at := r.Fractional(n), int64(0)
	if pick >= 0 {
		at = int64(n[pick])
	} else {
		pick, at = r.underrated(b, n)
	}
	if pick < 0 {
		for c := range n {
			whole = append(whole, int64(math.Round(n[c])))
		}
		pick, at = r.widest(b, n)
	}
	if pick < 0 {
		return nil, whole
	}
	x, y := tree.Halves(b, pick, at)
	if n[pick] > float64(at)+0.5 {
		x, y = y, x
	}
	return []bound.Box{x, y}, whole
}

// branchOnSupplier splits the box on whether a supplier is used; nil if none is open.
func (r *solver) branchOnSupplier(b bound.Box) []bound.Box {
	p := r.p
	for g := range p.Suppliers {
		if b.On[g] != bound.Open || p.Suppliers[g].Charge == 0 {
			continue
		}
		if !r.sells(g, b) {
			continue
		}
		x, y := b.Clone(), b.Clone()
		x.On[g], y.On[g] = bound.Yes, bound.No
		if !r.m.Charged(g) {
			x, y = y, x
		}
		return []bound.Box{x, y}
	}
	return nil
}

// sells reports whether a plan in the box can have sticks of a supplier.
func (r *solver) sells(supplier int, b bound.Box) bool {
	return slices.ContainsFunc(r.p.Suppliers[supplier].Classes, func(c int) bool { return b.Hi[c] > 0 })
}

// openCount reports whether the box leaves the count of a class open.
func (r *solver) openCount(b bound.Box, c int) bool {
	lo, hi := r.m.Range(b, c)
	return lo < hi
}

// underrated returns the class whose cost the relaxation underestimates most, and the count at which to
// split; -1 if there is none.
func (r *solver) underrated(b bound.Box, n []float64) (pick int, at int64) {
	pick = -1
	score := 0.0
	for c := range r.p.Classes {
		lo, hi := b.Lo[c], b.Hi[c]
		if !r.openCount(b, c) {
			continue
		}
		x := min(hi, max(lo, int64(math.Round(n[c]))))
		_, real := r.p.Classes[c].Extra(x)
		guess := r.m.Paid(c, n[c])
		if v := float64(real) - guess; v > score+1e-6 {
			pick, at, score = c, min(x, hi-1), v
			if x == hi || guess < float64(real) && x > lo {
				at = x - 1
			}
		}
	}
	return pick, at
}

// widest returns the class with the widest range of counts among those that affect the cost, and the count at
// which to split; -1 if there is none.
func (r *solver) widest(b bound.Box, n []float64) (pick int, at int64) {
	pick = -1
	wide := int64(0)
	for c := range r.p.Classes {
		lo, hi := b.Lo[c], b.Hi[c]
		if !r.openCount(b, c) {
			continue
		}
		_, low := r.p.Classes[c].Extra(lo)
		_, high := r.p.Classes[c].Extra(hi)
		if hi-lo > wide && (high > low || r.objective.Main != rules.Price) {
			pick, at, wide = c, min(hi-1, max(lo, int64(math.Round(n[c])))), hi-lo
		}
	}
	return pick, at
}

func (r *solver) result() search.Result {
	res := search.Result{Cost: r.cost, Bound: r.bound, Leaves: r.leaves}
	if r.plain != nil && len(r.leaves) > 1 && r.rootDuals.Scale > 0 {
		d := &r.rootDuals
		res.Root = &search.Leaf{Lo: r.m.Root.Lo, Hi: r.m.Root.Hi, Dual: d.Item, Scale: d.Scale}
		res.RootBound = r.m.BoundOf(d, r.m.Root)
	}
	switch {
	case r.plain != nil:
		res.LeafBound = r.shown
	case !r.searched:
		res.LeafBound = r.bound
	}
	if r.one != nil {
		res.Packed = r.one.noPacking
	}
	res.Conclude(r.mt, r.stage)
	if r.plan != nil {
		res.Patterns, res.Assemblies = r.p.Trim(r.plan)
		res.Bound = max(0, res.Bound)
	}
	return res
}
