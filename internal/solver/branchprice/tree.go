package branchprice

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
)

// Stop is why a run ended.
type Stop uint8

const (
	Proven Stop = iota + 1
	WorkLimit
	Interrupted
	Stuck
	Ended // Options.Report returned false
)

// Leaf is one part of the space of counts with what shows its bound: the duals of
// the items; see master.numerator for how.
type Leaf struct {
	Lo, Hi []int64 // per class
	Used   []int8  // per supplier: 1 yes, -1 no, 0 either
	Dual   []int64 // per item
	Scale  int64
}

// Result is what a run found.
type Result struct {
	Patterns   []PatternCount // demand met exactly; nil when no plan was found
	Assemblies [][]int        // per run: its arcs
	Cost       int64
	Bound      int64
	// Exhausted says that Bound rests on a search, not on Leaves alone.
	Exhausted  bool
	Leaves     []Leaf
	LeafBound  int64
	Infeasible bool
	Stop       Stop
	Work       int64
}

// solver is the search for the best plan by one criterion.
type solver struct {
	p            *Problem
	objective    objective
	mt           *meter.Meter
	m            *master
	plan         []columnCount
	cost         int64
	bound        int64
	criteria     [criteria]int64 // of the plan
	leaves       []Leaf
	searched     bool
	rng          uint64
	rootValue    []int64 // duals at the root, for improve
	rootScale    int64
	threshold    int64 // only plans below it count; 0: any
	target       int64 // a plan this good ends the run, where start is set
	exactOnly    bool  // no quick plans, no dives: for tests
	stuck        bool
	dived        [][]int64     // counts that within has tried
	startPlan    []columnCount // a plan from outside, or a part of one
	startColumns []column      // of relaxations before, to begin this one with
	rootBasis    []column      // of the relaxation at the root
	watch        *watch        // told of better plans and bounds; nil for none, and in runs within runs
}

type node struct {
	box   box
	bound int64
	seq   int
	shows duals // what shows the bound, or as much of it as is known

	inherited []duals // of boxes around this one, that of its parent last
	point     *point  // nil for a box

	start *lp.Basis // of the box that it was cut from
}

// tryIncumbent takes a plan if it is one, keeps the limits and is better than the best.
func (r *solver) tryIncumbent(plan []columnCount) {
	if _, ok := evaluate(r.p, plan); !ok {
		return
	}
	plan = r.p.tidy(plan)
	crit, ok := evaluate(r.p, plan)
	if !ok {
		return
	}
	for k := range criteria {
		if r.objective.capped[k] && crit[k] > r.objective.limit[k] {
			return
		}
	}
	if crit[r.objective.main] < r.cost {
		r.plan, r.cost, r.criteria = plan, crit[r.objective.main], crit
		r.watch.found(plan, crit)
	}
}

// limits of the lists: columns, and steps of the search over them.
var lists = [...]struct {
	limit int
	work  int64
}{{4_000, 20_000_000}, {15_000, 150_000_000}, {60_000, 1_500_000_000}}

// roundWork bounds the search for a plan among the columns of the root.
const roundWork = 2_000_000

// mostAgain is how often a point that no list closes is taken up again after all else.
const mostAgain = 10

// diveShare is which part of a tree's work may go into the search for better plans.
const diveShare = 3

// mostNear is how many boxes around a box are remembered.
const mostNear = 12

func (r *solver) solve(seed []columnCount) {
	r.cost = noCost
	if r.threshold > 0 {
		r.cost = r.threshold
	}
	r.bound = -offset
	r.completeStart()
	if seed != nil {
		r.tryIncumbent(seed)
	} else if !r.exactOnly {
		constructPlans(r.p, r.mt, r.tryIncumbent)
	}
	r.m = newMaster(r.p, r.objective)
	r.watch.enter("root")
	r.m.material()
	if r.objective.main != Salvage { // which may be below zero
		r.bound = max(r.bound, min(r.m.bound, r.cost))
	}
	r.addInitialColumns()
	queue := []node{{box: r.m.root, bound: -offset, shows: r.m.duals()}}
	seq := 0
	closed := int64(noCost) // the least that closed parts show
	first := true
	visits, turns := 0, 0
	begun, tries := int64(0), int64(0) // work before the tree, and in it for better plans
	crowd := int64(noCost)             // a gap at which there were too many columns for a list
	var later []node                   // points that no list has closed so far
	try := func(n node) {
		switch done := r.searchPoint(n.point); {
		case done:
			// Whatever is better than the best plan before is now the best plan.
			r.searched = r.searched || n.bound < r.cost
			closed = min(closed, max(n.bound, r.cost))
		case n.point.tries%len(lists) > 0:
			seq++
			n.seq = seq
			queue = append(queue, n)
			return
		case n.point.tries < (1+mostAgain)*len(lists):
			later = append(later, n)
			return
		default:
			closed = min(closed, n.bound)
			r.stuck = true
		}
		r.leaves = append(r.leaves, n.leaf())
	}
	for len(queue) > 0 || len(later) > 0 {
		if !slices.ContainsFunc(queue, func(n node) bool { return n.bound < r.cost }) {
			// With what the other boxes have brought, the points may close.
			queue, later = append(queue, later...), nil
		}
		// The least bound first, then the oldest.
		at := 0
		for i := range queue {
			if cmp.Or(cmp.Compare(queue[i].bound, queue[at].bound), cmp.Compare(queue[i].seq, queue[at].seq)) < 0 {
				at = i
			}
		}
		least := min(queue[at].bound, closed, r.cost)
		for i := range later {
			least = min(least, later[i].bound)
		}
		r.bound = max(r.bound, least)
		r.watch.bounded(r.bound)
		if queue[at].bound >= r.cost || !r.mt.Left() || r.threshold > 0 && r.plan != nil && r.cost <= r.target {
			break
		}
		n := queue[at]
		queue = slices.Delete(queue, at, at+1)
		if n.point != nil {
			r.watch.enter("tree")
			try(n)
			continue
		}
		r.m.setBox(n.box)
		if n.start != nil {
			r.m.lp.Restore(n.start)
		}
		costs := r.reachableCosts(n.box)
		st := r.m.solve(costs.Cutoff(r.cost), r.mt)
		if st == infeasible {
			r.closeLeaf(n.box, noCost)
			continue
		}
		if st == stopped && r.m.scale == 0 {
			queue = append(queue, n)
			r.stuck = r.mt.Left()
			break
		}
		if first {
			r.rootBasis = r.m.basics()
		}
		n.bound = max(n.bound, r.m.bound)
		basis := new(lp.Basis)
		r.m.lp.Save(basis)
		// No plan costs anything between two sums of prices.
		if up := costs.RoundUp(n.bound); up > n.bound {
			n.bound, r.searched = up, true
		}
		if n.bound >= r.cost {
			r.closeLeaf(n.box, n.bound)
			closed = min(closed, n.bound)
			continue
		}
		if first {
			first = false
			r.bound = max(r.bound, min(n.bound, r.cost))
			r.watch.bounded(r.bound)
			if r.exactOnly {
				// The tree alone.
			} else if !r.affineOn(n.box) || !r.enumerateBox(n.box, 1_000, 5_000_000) {
				misses := 0
				r.watch.enter("dive")
				r.dive(r.m, 0, &misses)
				r.watch.enter("improve")
				r.round(roundWork)
				if r.objective.main == Price && r.threshold == 0 && r.p.manyAssemblies() {
					r.settleAssemblies()
				}
			} else if r.cost < noCost {
				r.searched = r.searched || n.bound < r.cost
				r.closeLeaf(n.box, n.bound)
				closed = min(closed, max(n.bound, r.cost))
				continue
			}
			if n.bound >= r.cost {
				r.closeLeaf(n.box, n.bound)
				closed = min(closed, n.bound)
				continue
			}
		}
		if st == converged && r.fixCounts(&n.box, costs.Cutoff(r.cost)) {
			costs = r.reachableCosts(n.box)
			if up := costs.RoundUp(n.bound); up > n.bound {
				n.bound, r.searched = up, true
			}
			if n.bound >= r.cost {
				r.closeLeaf(n.box, n.bound)
				closed = min(closed, n.bound)
				continue
			}
		}
		done := false
		if begun == 0 {
			begun = r.mt.Used()
		}
		r.watch.enter("tree")
		kids, whole := r.branch(n.box)
		if whole != nil && (r.objective.main == Price || !r.exactOnly) {
			if r.objective.main == Price {
				here := r.m.duals()
				near := append(n.inherited[:len(n.inherited):len(n.inherited)], here)
				near = near[max(0, len(near)-mostNear):]
				pt, around := r.splitOff(n.box, whole, near)
				for _, b := range around {
					bound := max(n.bound, r.m.boundOf(&here, b))
					if up := r.reachableCosts(b).RoundUp(bound); up > bound {
						bound, r.searched = up, true
					}
					seq++
					queue = append(queue, node{box: b, bound: bound, seq: seq, shows: here, inherited: near, start: basis})
				}
				try(node{box: pt.box, bound: n.bound, shows: here, point: pt})
				continue
			}
			r.diveAtCounts(whole)
			if n.bound >= r.cost {
				r.closeLeaf(n.box, n.bound)
				closed = min(closed, n.bound)
				continue
			}
		}
		gap := costs.Cutoff(r.cost) - n.bound
		if r.affineOn(n.box) && (len(kids) == 0 || gap < crowd-crowd/4) {
			for _, l := range lists {
				if done = r.enumerateBox(n.box, l.limit, l.work); done || !r.mt.Left() {
					break
				}
				if len(kids) > 0 {
					crowd = gap
					break
				}
			}
		}
		if done {
			// Whatever is better than the best plan before is now the best plan.
			r.closeLeaf(n.box, n.bound)
			r.searched = r.searched || n.bound < r.cost
			closed = min(closed, max(n.bound, r.cost))
			continue
		}
		// Each box makes the relaxation another place to dive from.
		if visits++; !r.exactOnly && (visits == 2 || visits%3 == 0 && tries <= (r.mt.Used()-begun)/diveShare) {
			before := r.mt.Used()
			if visits > 2 {
				misses := 2
				r.dive(r.m, 0, &misses)
			}
			if turns++; turns%2 == 1 {
				r.neighborhoodSearch(10)
			}
			tries += r.mt.Used() - before
		}
		if len(kids) == 0 {
			r.closeLeaf(n.box, n.bound)
			closed = min(closed, n.bound)
			r.stuck = true
			continue
		}
		here := r.m.duals()
		near := append(n.inherited[:len(n.inherited):len(n.inherited)], here)
		near = near[max(0, len(near)-mostNear):]
		for _, b := range kids {
			seq++
			queue = append(queue, node{box: b, bound: n.bound, seq: seq, shows: here, inherited: near, start: basis})
		}
	}
	queue = append(queue, later...)
	if len(queue) == 0 {
		r.bound = max(r.bound, min(closed, r.cost))
	} else {
		least := closed
		for i := range queue {
			least = min(least, queue[i].bound)
			r.leaves = append(r.leaves, queue[i].leaf())
		}
		r.bound = max(r.bound, min(least, r.cost))
	}
}

// seedSteps is what a column of seed counts, so that the clock is looked at now and then.
const seedSteps = 30

// addInitialColumns gives the master the columns of the best plan, and for each item a pattern
// with it alone.
func (r *solver) addInitialColumns() {
	p := r.p
	for _, q := range slices.Concat(r.plan, r.startPlan) {
		r.m.add(*q.column)
	}
	for _, c := range r.startColumns {
		r.m.add(c)
	}
	for i := range p.Items {
		if p.Items[i].Most <= 0 {
			continue // it is all there already
		}
		for b := range p.Bins {
			f := Pattern{b, []Use{{i, 0, 1}}}
			for w := range p.Items[i].Orientations {
				f.Uses[0].Orient = w
				if _, ok := p.Fill(&f); ok {
					break
				}
			}
			if !r.mt.Spend(seedSteps) {
				return // what is missing is no loss to who has no time for duals
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
			r.m.addFill(Pattern{b, slices.Clone(f.Uses)}, &x)
		}
	}
	for k, x := range r.m.paths {
		if x.price(make([]int64, len(p.Items)), &[criteria]int64{Price: 1}) >= noCost {
			continue
		}
		got := 0
		x.enumerate(x.toEnd[0], func(q path, _ int64) bool {
			r.m.addPath(k, q)
			got++
			return got < 3
		})
	}
}

// addInitialAround gives the master, for an item that stands for an offcut, its patterns with one
// other item.
func (r *solver) addInitialAround(offcut, bin int) {
	p := r.p
	for i := range p.Items[:offcut] {
		for w := range p.Items[i].Orientations {
			f := Pattern{bin, []Use{{i, w, 1}, {offcut, 0, 1}}}
			if !r.mt.Spend(seedSteps) {
				return
			}
			if x, ok := p.Fill(&f); ok {
				r.m.addFill(f, &x)
				break
			}
		}
	}
}

// closeLeaf keeps what shows the bound of a closed part.
func (r *solver) closeLeaf(b box, bound int64) {
	r.leaves = append(r.leaves, Leaf{b.lo, b.hi, used(b), slices.Clone(r.m.bestDual), r.m.scale})
}

// leaf returns what shows the bound of a part.
func (n *node) leaf() Leaf {
	return Leaf{n.box.lo, n.box.hi, used(n.box), n.shows.value, n.shows.scale}
}

func used(b box) []int8 {
	u := make([]int8, len(b.on))
	for g, s := range b.on {
		switch s {
		case yes:
			u[g] = 1
		case no:
			u[g] = -1
		}
	}
	return u
}

// affineOn reports whether the search over a list can tell the cost of every plan in
// the box.
func (r *solver) affineOn(b box) bool {
	p := r.p
	for g := range p.Suppliers {
		if b.on[g] == open && p.Suppliers[g].Charge > 0 {
			for _, c := range p.Suppliers[g].Classes {
				if b.hi[c] > 0 {
					return false
				}
			}
		}
	}
	for c := range p.Classes {
		hi := b.hi[c]
		if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no {
			hi = 0
		}
		if _, _, ok := p.Classes[c].affine(min(b.lo[c], hi), hi); !ok {
			return false
		}
	}
	return true
}

// enumerateBox lists the columns of the box and searches them; it reports whether that
// closed the box.
func (r *solver) enumerateBox(b box, limit int, work int64) bool {
	return r.m.scale != 0 && r.enumerateBoxBy(b, []duals{r.m.duals()}, limit, work)
}

// enumerateBoxBy is finish by several sets of duals, each of the box or one around it.
func (r *solver) enumerateBoxBy(b box, by []duals, limit int, work int64) bool {
	mt := r.mt.Sub(work)
	costs := r.reachableCosts(b)
	list, ok := r.m.enumerate(b, by, costs.Cutoff(r.cost), limit, mt)
	if !ok {
		return false
	}
	plan, complete := searchList(r.p, r.objective, b, list, r.cost, costs, mt)
	if plan != nil {
		r.tryIncumbent(plan)
	}
	return complete
}

// round looks for a good plan among the columns that the relaxation has made.
func (r *solver) round(work int64) {
	b := r.m.box.clone()
	// Where costs are not straight or suppliers are open, guess by what the
	// relaxation uses.
	for g := range r.p.Suppliers {
		if b.on[g] == open {
			b.on[g] = yes
			if r.m.lp.Value(int(r.m.charge[g])) < 1e-9 && r.p.Suppliers[g].Charge > 0 {
				b.on[g] = no
			}
		}
	}
	n := r.sticks()
	for c := range r.p.Classes {
		hi := b.hi[c]
		if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no {
			hi, b.hi[c] = 0, 0
		}
		if _, _, ok := r.p.Classes[c].affine(min(b.lo[c], hi), hi); !ok {
			up := min(hi, int64(math.Ceil(n[c]-1e-6)))
			lo, top := r.p.Classes[c].affinePart(0, up, hi)
			b.lo[c], b.hi[c] = 0, top
			if _, _, ok := r.p.Classes[c].affine(0, top); !ok {
				b.lo[c] = lo
			}
		}
	}
	if plan, _ := searchList(r.p, r.objective, b, slices.Clone(r.m.cols), r.cost, r.reachableCosts(b), r.mt.Sub(work)); plan != nil {
		r.tryIncumbent(plan)
	}
}

// sticks returns how often the relaxation uses each class.
func (r *solver) sticks() []float64 {
	n := make([]float64, len(r.p.Classes))
	for c := range r.p.Classes {
		n[c] = float64(min(r.m.box.lo[c], r.m.box.hi[c]))
		for _, j := range r.m.segments[c] {
			n[c] += r.m.lp.Value(int(j))
		}
	}
	return n
}

// branch splits the box: by whether a supplier is used, by a count that is not whole,
// by a cost that the relaxation underrates, else by any count that is open and has to
// do with the cost. What the relaxation is nearer to comes first. Where the relaxation
// has whole counts and rates them right, branch returns them.
func (r *solver) branch(b box) (kids []box, whole []int64) {
	p := r.p
	for g := range p.Suppliers {
		if b.on[g] != open || p.Suppliers[g].Charge == 0 {
			continue
		}
		any := false
		for _, c := range p.Suppliers[g].Classes {
			any = any || b.hi[c] > 0
		}
		if any {
			x, y := b.clone(), b.clone()
			x.on[g], y.on[g] = yes, no
			if r.m.lp.Value(int(r.m.charge[g])) < 1e-9 {
				x, y = y, x
			}
			return []box{x, y}, nil
		}
	}
	n := r.sticks()
	pick, at, score := -1, int64(0), 0.0
	for c := range p.Classes {
		lo, hi := b.lo[c], b.hi[c]
		if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no || lo >= hi {
			continue
		}
		f := n[c] - math.Floor(n[c])
		if f = min(f, 1-f); f > 1e-5 {
			if v := f * float64(1+p.Classes[c].Tiers[0].Price); v > score {
				pick, at, score = c, int64(math.Floor(n[c])), v
			}
		}
	}
	if pick < 0 {
		for c := range p.Classes {
			lo, hi := b.lo[c], b.hi[c]
			if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no || lo >= hi {
				continue
			}
			x := min(hi, max(lo, int64(math.Round(n[c]))))
			_, real := p.Classes[c].buy(x)
			guess := float64(r.m.baseOf[c])
			for _, j := range r.m.segments[c] {
				guess += float64(r.m.lp.Value(int(j)) * r.slope(c, int(j)))
			}
			if v := float64(real) - guess; v > score+1e-6 {
				pick, at, score = c, min(x, hi-1), v
				if x == hi || guess < float64(real) && x > lo {
					at = x - 1
				}
			}
		}
	}
	if pick < 0 {
		for c := range n {
			whole = append(whole, int64(math.Round(n[c])))
		}
		wide := int64(0)
		for c := range p.Classes {
			lo, hi := b.lo[c], b.hi[c]
			if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no || lo >= hi {
				continue
			}
			_, low := p.Classes[c].buy(lo)
			_, high := p.Classes[c].buy(hi)
			if hi-lo > wide && (high > low || r.objective.main != Price) {
				x := min(hi-1, max(lo, int64(math.Round(n[c]))))
				pick, at, wide = c, x, hi-lo
			}
		}
	}
	if pick < 0 {
		return nil, whole
	}
	x, y := b.clone(), b.clone()
	x.hi[pick], y.lo[pick] = at, at+1
	if n[pick] > float64(at)+0.5 {
		x, y = y, x
	}
	return []box{x, y}, whole
}

// fixCounts takes off a box what the present duals show to hold no plan below the cutoff: counts
// of a class that are too many, or too few. It reports whether there was any.
func (r *solver) fixCounts(b *box, cutoff int64) bool {
	here := r.m.duals()
	if here.scale == 0 || r.cost >= noCost {
		return false
	}
	in := b.clone()
	shrunk := false
	for c := range r.p.Classes {
		if g := r.m.supplierOf[c]; g >= 0 && in.on[g] == no || in.lo[c] >= in.hi[c] {
			continue
		}
		lo, hi := in.lo[c], in.hi[c]
		rules := func(from, to int64) bool {
			in.lo[c], in.hi[c] = from, to
			out := r.m.boundOf(&here, in) >= cutoff
			in.lo[c], in.hi[c] = lo, hi
			return out
		}
		out := func(from, to int64) {
			part := in.clone()
			part.lo[c], part.hi[c] = from, to
			r.closeLeaf(part, cutoff)
			r.searched = r.searched || cutoff < r.cost
			shrunk = true
		}
		if n := hi - lo - furthest(hi-lo, func(d int64) bool { return rules(hi-d+1, hi) }); n < hi-lo {
			out(lo+n+1, hi)
			hi = lo + n
			in.hi[c] = hi
		}
		if n := furthest(hi-lo, func(d int64) bool { return rules(lo, lo+d-1) }); n > 0 {
			out(lo, lo+n-1)
			in.lo[c] = lo + n
		}
	}
	if shrunk {
		*b = in
	}
	return shrunk
}

// slope returns the price of one stick in a purchase column.
func (r *solver) slope(c, j int) float64 {
	segs := convexEnvelope(&r.p.Classes[c], min(r.m.box.lo[c], r.m.box.hi[c]), r.m.box.hi[c])
	for i, s := range r.m.segments[c] {
		if int(s) == j && i < len(segs) {
			return segs[i].slope
		}
	}
	return 0
}

func (r *solver) result() Result {
	res := Result{Cost: r.cost, Bound: r.bound, Leaves: r.leaves, Exhausted: r.searched, Work: r.mt.Used()}
	switch {
	case r.bound >= r.cost:
		res.Stop, res.Bound = Proven, r.cost
	case r.mt.Ended():
		res.Stop = Ended
	case r.mt.Gone():
		res.Stop = Interrupted
	case !r.mt.Left():
		res.Stop = WorkLimit
	default:
		res.Stop = Stuck
	}
	if r.plan == nil {
		res.Cost = 0
		res.Infeasible = res.Stop == Proven
		return res
	}
	res.Patterns, res.Assemblies = r.p.exact(r.plan)
	res.Bound = max(0, res.Bound)
	return res
}
