package branchprice

import (
	"context"
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// criterionOf returns the criterion that a goal minimizes, -1 if there is none.
func criterionOf(g search.Goal) int {
	switch g {
	case search.LeastPrice:
		return rules.Price
	case search.FewestSticks:
		return rules.Sticks
	case search.MostSalvage:
		return rules.Salvage
	case search.FewestCuts:
		return rules.Cuts
	case search.FewestSplices:
		return rules.Splices
	}
	return -1
}

// Solve optimizes the goals in lexicographic order and proves their bounds as far as it can.
func Solve(ctx context.Context, p *rules.Problem, o search.Options) search.Result {
	mt := meter.New(ctx, o.Work)
	if p.Parting != nil {
		p.Parting.Meter = mt
	}
	w := search.NewWatch(mt, o.Report)
	r := &solver{p: p, mt: mt, objective: rules.Objective{Main: rules.Price}, startPlan: picks(p, o.Start), watch: watchPrice(p, w), records: true}
	r.plain = p.Plain()
	r.solve(nil)
	if r.plan = p.Unspliced(r.plan); r.plan != nil {
		crit, _ := rules.Evaluate(p, r.plan) // less than the cost if there was no work left to join the parts when it was found
		r.cost = crit[rules.Price]
	}
	if r.plain != nil {
		if r.one != nil {
			r.one.certify(ctx, o.Work)
		} else {
			r.certify()
		}
		// The columns of a master without rules have no costs by criteria other than the price.
		r.plan = p.FromPatterns(rules.ToPatterns(r.plan))
		for k, c := range r.rootBasis {
			r.rootBasis[k] = *p.FromPatterns([]rules.PatternCount{{Pattern: *c.Fill, Count: 1}})[0].Column
		}
	}
	res := r.result()
	if r.plan != nil {
		l := goals{p: p, plan: r.plan, columns: r.rootBasis, swaps: r.rootSwaps, brief: o.Brief}
		switch {
		case r.plain == nil:
			l.remember(r, r.cost)
		case !l.brief:
		case r.one != nil:
			l.root = r.one.known()
		case r.rootDuals.Scale > 0:
			l.root = []master.Duals{r.rootDuals}
		}
		l.pursue(mt, w, &res, o)
	}
	return res
}

// pursue optimizes the goals after the first.
func (l *goals) pursue(mt *meter.Meter, w *search.Watch, res *search.Result, o search.Options) {
	p := l.p
	proven := res.Stop == search.Proven
	res.Goals = []search.GoalResult{{Value: res.Cost, Bound: max(0, res.Bound), Proven: proven}}
	l.objective, l.sound, l.fewest = rules.Objective{Main: rules.Price}, proven, max(1, o.Patterns)
	if !o.Brief {
		l.watch = watchPrice(p, w)
	}
	l.addBudget(rules.Price, res.Cost)
	if o.Brief && !l.sound {
		return
	}
	l.first = mt.Used()
	for _, g := range o.Goals[min(1, len(o.Goals)):] {
		// A lower goal is worth part of the time that the first took.
		work := goalWork + goalShare*l.first
		if o.Brief {
			// Each goal has its own budget, so none uses up that of the next.
			work = briefWork[g] + min(l.first/briefShare, mostBriefWork)
			if g == search.LongestOffcut && len(p.Classes) == 1 {
				work -= briefWork[g] - briefOfOne
			}
		}
		l.mt = mt.Sub(work)
		res.Goals = append(res.Goals, l.optimizeNext(g))
	}
	// If the first goal is open, a later one may find a plan that is better by it.
	crit, _ := rules.Evaluate(p, l.plan)
	res.Cost = crit[rules.Price]
	if res.Bound = min(res.Bound, res.Cost); res.Bound == res.Cost {
		res.Stop, res.Goals[0].Proven = search.Proven, true
	}
	res.Goals[0].Value, res.Goals[0].Bound = res.Cost, res.Bound
	res.Patterns, res.Assemblies = p.Trim(l.plan)
	res.Work, res.Tally = mt.Used(), *mt.Tally()
}

type goals struct {
	p         *rules.Problem
	mt        *meter.Meter
	plan      []rules.ColumnCount
	objective rules.Objective
	sound     bool // all goals so far are proven

	offcut int64 // later goals keep an offcut this long, 0: any
	watch  *watch
	fewest int64 // lower bound on the number of different patterns
	least  int64 // likewise, if bins that stay unused count, too
	most   int64 // the most different patterns that later goals may use, 0: any number

	columns []rules.Column // of the bases of earlier relaxations
	swaps   []int          // the exchanges of the first basis
	root    []master.Duals // optimal duals of the first relaxation, if another master solved it
	known   []witness      // see list
	first   int64          // steps of the first goal
	brief   bool           // no certificates for the bounds of goals are wanted
	listed  *planList      // see list
	tried   int            // number of witnesses at the last attempt to make a list
}

func (l *goals) addBudget(k int, v int64) {
	l.objective.Capped[k] = true
	l.objective.Limit[k] = v
}

func (l *goals) optimizeNext(g search.Goal) search.GoalResult {
	var v search.GoalResult
	l.watch.beginGoal(l, g)
	switch g {
	case search.MostSalvage:
		// Without excess pieces: a pattern that loses all of its pieces has no offcut.
		q := *l.p
		q.Exact = true
		l.p = &q
		v = l.optimizeBy(rules.Salvage)
		v.Value, v.Bound = -v.Value, -v.Bound
	case search.FewestSplices:
		v = l.splices()
	case search.LongestOffcut:
		v = l.longest()
	case search.FewestPatterns:
		v = l.patterns()
	default:
		v = l.optimizeBy(criterionOf(g))
	}
	v.Proven = v.Proven && l.sound
	l.sound = v.Proven
	return v
}

// optimizeBy minimizes one criterion within the limits of earlier goals.
func (l *goals) optimizeBy(k int) search.GoalResult {
	a := l.objective
	a.Main = k
	if k == rules.Sticks && l.brief && l.fewestSticks() {
		return l.unchanged(k, math.MaxInt64)
	}
	if v, ok := l.pick(k); ok {
		return v
	}
	p, plan := l.p, l.plan
	if l.offcut > 0 {
		// The offcut that an earlier goal reached becomes an item to cut.
		if plan = l.p.FillOffcut(plan, l.offcut); plan == nil {
			return l.unchanged(k, master.NoBound)
		}
		p = l.p.Asking(l.offcut)
	}
	r := &solver{p: p, objective: a, mt: l.mt, startColumns: l.columns, startSwaps: l.swaps}
	if l.listed != nil && l.offcut == 0 {
		r.listed = l.listed.columns
	}
	if l.offcut == 0 && l.least == 0 && l.most == 0 {
		r.watch = l.watch // its incumbents become the plan
	}
	r.solve(plan)
	l.columns = append(l.columns, r.rootBasis...)
	if l.offcut == 0 && r.plan != nil {
		l.remember(r, r.cost)
	}
	found := r.plan
	if found != nil && l.offcut > 0 {
		found = l.freeOffcut(found, l.offcut)
	}
	found = l.unspliced(found)
	if found != nil && !l.undoes(found) {
		l.plan = found
		crit, _ := rules.Evaluate(l.p, found)
		l.watch.found(found, crit)
	}
	if r.plan == nil {
		return l.unchanged(k, master.NoBound)
	}
	v := l.unchanged(k, r.bound)
	v.Leaves = r.leaves
	return v
}

// fewestSticks reports whether no plan of the same cost can have fewer sticks, by the price of
// the most expensive stick: with one kind of stick, for example.
func (l *goals) fewestSticks() bool {
	p := l.p
	if len(p.Runs) > 0 || len(p.Suppliers) > 0 {
		return false
	}
	dearest := int64(0)
	for c := range p.Classes {
		cl := &p.Classes[c]
		if cl.Limit > 0 && (cl.Bundle > 1 || cl.Minimum > 1 || len(cl.Tiers) > 1 || len(cl.Bins) > 1 || p.Bins[cl.Bins[0]].Own[rules.Price] != 0) {
			return false
		}
		dearest = max(dearest, cl.Tiers[0].Price)
	}
	crit, _ := rules.Evaluate(p, l.plan)
	bought := crit[rules.Sticks]
	for i := range p.Items {
		if p.Items[i].Alone {
			bought += p.Items[i].Demand // a spare is paid for and counts as no stick
		}
	}
	return dearest > 0 && (crit[rules.Price]+dearest-1)/dearest == bought
}

// pick minimizes one criterion over the list; false if there is no list, it is too long, or the search does not end.
func (l *goals) pick(k int) (v search.GoalResult, ok bool) {
	list := l.list()
	if list == nil || len(list.columns) > shortList || l.least > 0 || l.most > 0 {
		return v, false // first the relaxation, whose duals shorten the list
	}
	a := l.objective
	a.Main = k
	crit, _ := rules.Evaluate(l.p, l.plan)
	plan, complete := list.pick(a, l.offcut, crit[k], l.mt.Sub(pickWork))
	if plan != nil {
		l.plan = l.unspliced(l.p.Tidy(plan))
		crit, _ = rules.Evaluate(l.p, l.plan)
		l.watch.found(l.plan, crit)
	}
	if !complete {
		return v, false
	}
	return l.unchanged(k, crit[k]), true
}

// unchanged limits a criterion to the value of the plan and returns that value with the bound.
func (l *goals) unchanged(k int, bound int64) search.GoalResult {
	crit, _ := rules.Evaluate(l.p, l.plan)
	l.addBudget(k, crit[k])
	if k != rules.Salvage {
		bound = max(bound, 0)
	}
	return search.GoalResult{Value: crit[k], Bound: min(bound, crit[k]), Proven: bound >= crit[k]}
}

// splices minimizes the number of splices.
func (l *goals) splices() search.GoalResult {
	if !l.p.Spliced() {
		return search.GoalResult{Proven: true}
	}
	return l.optimizeBy(rules.Splices)
}
