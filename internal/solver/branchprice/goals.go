package branchprice

import (
	"context"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// criterionOf returns the criterion of which a goal wants the least, -1 where it is not that of a criterion.
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

// Solve finds the plan that is best by the first goal and proves it where it can;
// among those the best by the second, and so on.
func Solve(ctx context.Context, p *rules.Problem, o search.Options) search.Result {
	mt := meter.New(ctx, o.Work)
	r := &solver{p: p, mt: mt, objective: rules.Objective{Main: rules.Price}, startPlan: picks(p, o.Start), watch: newWatch(p, mt, o.Report)}
	r.solve(nil)
	r.plan = p.Unspliced(r.plan)
	res := r.result()
	if r.plan == nil {
		return res
	}
	res.Goals = []search.GoalResult{{Value: r.cost, Bound: max(0, res.Bound), Proven: res.Stop == search.Proven}}
	l := goals{p: p, mt: mt, plan: r.plan, objective: r.objective, sound: res.Stop == search.Proven, fewest: max(1, o.Patterns), columns: r.rootBasis}
	if !o.Brief {
		l.watch = r.watch
	}
	l.addBudget(rules.Price, r.cost)
	if o.Brief && !l.sound {
		return res
	}
	first := mt.Used()
	for _, g := range o.Goals[min(1, len(o.Goals)):] {
		// A lower goal is worth some waiting, not all of it.
		work := goalWork + goalShare*first
		if o.Brief {
			// Of each its own: what one goal spends in vain is not the next one's loss.
			work = briefWork + min(first/briefShare, mostBriefWork)
		}
		l.mt = mt.Sub(work)
		res.Goals = append(res.Goals, l.optimizeNext(g))
	}
	// A goal after an open first one may come upon a plan that is better by the first.
	crit, _ := rules.Evaluate(p, l.plan)
	res.Cost = crit[rules.Price]
	if res.Bound = min(res.Bound, res.Cost); res.Bound == res.Cost {
		res.Stop, res.Goals[0].Proven = search.Proven, true
	}
	res.Goals[0].Value, res.Goals[0].Bound = res.Cost, res.Bound
	res.Patterns, res.Assemblies = p.Trim(l.plan)
	res.Work = mt.Used()
	return res
}

type goals struct {
	p         *rules.Problem
	mt        *meter.Meter
	plan      []rules.ColumnCount
	objective rules.Objective
	sound     bool // every stage so far is proven

	offcut int64 // later goals keep an offcut this long, 0: any
	watch  *watch
	fewest int64 // no plan has fewer different patterns
	least  int64 // likewise where bins that are left idle count, too
	most   int64 // different patterns that later goals may use, 0: any number

	columns []rules.Column // that the relaxation of the first goal needs
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
		// A pattern that loses all its items to others has no offcut any more.
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

// optimizeBy improves one criterion within the limits so far.
func (l *goals) optimizeBy(k int) search.GoalResult {
	a := l.objective
	a.Main = k
	p, plan := l.p, l.plan
	if l.offcut > 0 {
		// The offcut that a goal before has reached is one of what has to be cut.
		if plan = l.p.FillOffcut(plan, l.offcut); plan == nil {
			return l.unchanged(k, master.NoBound)
		}
		p = l.p.Asking(l.offcut)
	}
	r := &solver{p: p, objective: a, mt: l.mt, startColumns: l.columns}
	if l.offcut == 0 && l.least == 0 && l.most == 0 {
		r.watch = l.watch // whatever it finds will be the plan
	}
	r.solve(plan)
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

// unchanged settles a criterion at what the plan reaches, of which the bound is known.
func (l *goals) unchanged(k int, bound int64) search.GoalResult {
	crit, _ := rules.Evaluate(l.p, l.plan)
	l.addBudget(k, crit[k])
	if k != rules.Salvage {
		bound = max(bound, 0)
	}
	return search.GoalResult{Value: crit[k], Bound: min(bound, crit[k]), Proven: bound >= crit[k]}
}

// splices makes as few splices as possible.
func (l *goals) splices() search.GoalResult {
	if !l.p.Spliced() {
		return search.GoalResult{Proven: true}
	}
	return l.optimizeBy(rules.Splices)
}

// longest makes the longest single offcut longer: it asks for a plan within the limits that
// leaves one of such a length, by bisection.
func (l *goals) longest() search.GoalResult {
	have := l.p.LongestLeft(l.plan)
	most := max(have, l.p.Roomiest())
	bound := most // shown, where most is where the search is
	var leaves []search.Leaf
	for have < most && l.mt.Left() {
		mid := have + (most-have+1)/2
		plan, by := l.piece(mid)
		certain := by != nil
		if plan != nil && l.undoes(plan) {
			plan, certain = nil, false
		}
		switch {
		case plan != nil:
			l.plan = l.unspliced(plan)
			have = max(mid, l.p.LongestLeft(l.plan))
			l.watch.better(l.plan)
		case certain:
			most, bound, leaves = mid-1, mid-1, by
		default:
			most = mid - 1
		}
	}
	bound = max(have, bound)
	if l.p.Stretched() {
		l.least = have
	} else {
		l.offcut = have
	}
	return search.GoalResult{Value: have, Bound: bound, Proven: have == bound, Leaves: leaves}
}

// piece looks for a plan within the limits with an offcut of the length, and returns what shows that
// there is none, nil where that is not certain.
func (l *goals) piece(length int64) ([]rules.ColumnCount, []search.Leaf) {
	a := l.objective
	a.Main = rules.Price
	r := &solver{p: l.p.Asking(length), objective: a, mt: l.mt.Sub(offcutWork), target: a.Limit[rules.Price], startColumns: l.columns}
	r.threshold = a.Limit[rules.Price] + 1
	r.objective.Capped[rules.Price] = false // no plan counts that is dearer: a row would only say so again
	r.solve(nil)
	if r.plan != nil {
		return l.freeOffcut(r.plan, length), nil
	}
	if r.bound <= a.Limit[rules.Price] {
		return nil, nil
	}
	return nil, append([]search.Leaf{}, r.leaves...)
}

// freeOffcut takes the piece that asking wants out of a plan again; nil where the plan
// without it has no such offcut or leaves the limits.
func (l *goals) freeOffcut(with []rules.ColumnCount, length int64) []rules.ColumnCount {
	n := len(l.p.Items)
	var plan []rules.ColumnCount
	for _, p := range with {
		if p.Column.Fill == nil {
			plan = append(plan, p)
			continue
		}
		f := rules.Pattern{Bin: p.Column.Fill.Bin}
		for _, u := range p.Column.Fill.Uses {
			if u.Item != n {
				f.Uses = append(f.Uses, u)
			}
		}
		if len(f.Uses) == 0 {
			return nil // a stick bought for nothing but its offcut
		}
		x, ok := l.p.Fill(&f)
		if !ok {
			return nil
		}
		plan = append(plan, rules.ColumnCount{Column: &rules.Column{Fill: &f, Cost: l.p.Costs(&f, &x)}, N: p.N})
	}
	crit, ok := rules.Evaluate(l.p, plan)
	if !ok || l.p.Offcut(plan) < length {
		return nil
	}
	for k := range rules.Criteria {
		if l.objective.Capped[k] && crit[k] > l.objective.Limit[k] {
			return nil
		}
	}
	return plan
}

// patterns makes fewer different patterns where patterns of one bin can be replaced
// by their average.
func (l *goals) patterns() search.GoalResult {
	crit, _ := rules.Evaluate(l.p, l.plan)
	for l.mt.Spend(1000) && l.average(crit) {
	}
	n := l.p.CountPatterns(l.plan)
	l.most = n
	return search.GoalResult{Value: n, Bound: min(n, l.fewest), Proven: n <= l.fewest}
}

// unspliced returns the plan without splices that are of no use, unless that undoes a goal before.
func (l *goals) unspliced(plan []rules.ColumnCount) []rules.ColumnCount {
	if joined := l.p.Unspliced(plan); !l.undoes(joined) {
		return joined
	}
	return plan
}

// undoes reports whether a plan has more patterns, or less left of its best stick, than
// goals before have come to.
func (l *goals) undoes(plan []rules.ColumnCount) bool {
	return l.most > 0 && l.p.CountPatterns(plan) > l.most || l.least > 0 && l.p.LongestLeft(plan) < l.least
}

func (l *goals) average(crit [rules.Criteria]int64) bool {
	for i := range l.plan {
		for j := range i {
			a, b := l.plan[i], l.plan[j]
			if a.Column.Fill == nil || b.Column.Fill == nil || a.Column.Fill.Bin != b.Column.Fill.Bin {
				continue
			}
			n := a.N + b.N
			f := rules.Pattern{Bin: a.Column.Fill.Bin}
			even := true
			for _, u := range a.Column.Fill.Uses {
				f = f.With(u.Item, u.Orient, u.N*a.N)
			}
			for _, u := range b.Column.Fill.Uses {
				f = f.With(u.Item, u.Orient, u.N*b.N)
			}
			for k := range f.Uses {
				even = even && f.Uses[k].N%n == 0
				f.Uses[k].N /= n
			}
			if !even || slices.ContainsFunc(f.Uses, func(u rules.Use) bool { return u.N == 0 }) {
				continue
			}
			x, ok := l.p.Fill(&f)
			if !ok {
				continue
			}
			plan := append([]rules.ColumnCount{{Column: &rules.Column{Fill: &f, Cost: l.p.Costs(&f, &x)}, N: n}}, l.plan[:j]...)
			plan = append(plan, l.plan[j+1:i]...)
			plan = append(plan, l.plan[i+1:]...)
			now, ok := rules.Evaluate(l.p, plan)
			ok = ok && (l.offcut == 0 || l.p.Offcut(plan) >= l.offcut) && (l.least == 0 || l.p.LongestLeft(plan) >= l.least)
			for k := range rules.Criteria {
				ok = ok && (!l.objective.Capped[k] || now[k] <= crit[k])
			}
			if ok {
				l.plan = plan
				l.watch.better(plan)
				return true
			}
		}
	}
	return false
}
