package branchprice

import (
	"math"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// roomiest returns what no offcut of a plan within the limits is longer than, or what the plan at hand has, if that is more.
func (l *goals) roomiest(have int64) int64 {
	most := min(l.p.Roomiest(), l.slack())
	if l.takeRoot(); most <= have {
		return have
	}
	mt := l.mt.Sub(roomiestWork + l.first/roomiestShare)
	for i := range l.known {
		w := &l.known[i]
		if v, ok := w.f.Roomiest(&w.duals, w.cost, mt); ok {
			most = min(most, v)
		}
	}
	return max(have, most)
}

// slack returns what all sticks of a plan leave together, where there is one kind of stick of which it is known how many it takes.
func (l *goals) slack() int64 {
	p := l.p
	if !l.brief || !l.sound || len(p.Bins) > 1 || len(p.Runs) > 0 || len(p.Setbacks) > 0 || p.Classes[0].Tiers[0].Price == 0 || !l.fewestSticks() {
		return math.MaxInt64
	}
	crit, _ := rules.Evaluate(p, l.plan)
	left := crit[rules.Sticks] * p.Bins[0].Cap // in range: sticks of the least cost are half full on average
	for i := range p.Items {
		left -= p.Items[i].Orientations[0].Size * p.Items[i].Demand
	}
	return max(0, left-p.Kinds[0].Kerf)
}

// longest makes the longest single offcut longer: it asks for a plan within the limits that
// leaves one of such a length, by bisection.
func (l *goals) longest() search.GoalResult {
	have := l.p.LongestLeft(l.plan)
	most := l.roomiest(have)
	var list *planList
	if have < most {
		if list = l.list(); list != nil {
			most = max(have, min(most, list.most()))
		}
	}
	bound := most // shown, where most is where the search is
	var leaves []search.Leaf
	for first := true; have < most && l.mt.Left(); first = false {
		mid := have + (most-have+1)/2
		if first {
			mid = have + 1 // most plans have nothing longer to give
		}
		plan, by, certain := l.leaving(mid, list)
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
		case !first:
			most = mid - 1
		}
		if list != nil {
			most = max(have, min(most, list.upTo(most)))
			bound = min(bound, max(have, list.upTo(bound)))
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

// leaving looks for a plan within the limits with an offcut of the length, and reports
// whether the answer is certain, with what shows that there is none.
func (l *goals) leaving(length int64, list *planList) (plan []rules.ColumnCount, by []search.Leaf, certain bool) {
	if list != nil {
		a := l.objective
		a.Main, a.Capped[rules.Price] = rules.Price, false // the cost says so
		if plan, certain := list.pick(a, length, a.Limit[rules.Price]+1, l.mt.Sub(pickWork)); plan != nil || certain {
			return plan, nil, certain
		}
	}
	return l.piece(length)
}

// piece is leaving by a search of its own.
func (l *goals) piece(length int64) (plan []rules.ColumnCount, by []search.Leaf, certain bool) {
	a := l.objective
	a.Main = rules.Price
	r := &solver{p: l.p.Asking(length), objective: a, mt: l.mt.Sub(offcutWork), target: a.Limit[rules.Price], startColumns: l.columns}
	r.threshold = a.Limit[rules.Price] + 1
	r.objective.Capped[rules.Price] = false // no plan counts that is dearer: a row would only say so again
	r.solve(nil)
	if r.plan != nil {
		return l.freeOffcut(r.plan, length), nil, false
	}
	return nil, r.leaves, r.bound > a.Limit[rules.Price]
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
