package branchprice

import (
	"math"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// roomiest returns an upper bound on the offcuts of plans within the limits, at least have, the offcut of the current plan.
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

// slack returns the total waste of a plan if there is one kind of stick and the number of sticks is known.
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

// longest maximizes the longest single offcut: by bisection, it looks for plans within the limits that leave a given
// length.
func (l *goals) longest() search.GoalResult {
	have := l.p.LongestLeft(l.plan)
	most := l.roomiest(have)
	var list *planList
	if have < most {
		if list = l.list(); list != nil {
			most = max(have, min(most, list.most()))
		}
	}
	bound := most // proven; most is only the upper end of the bisection
	var leaves []search.Leaf
	for first := true; have < most && l.mt.Left(); first = false {
		mid := have + (most-have+1)/2
		if first {
			mid = have + 1 // most plans cannot leave more
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

// leaving looks for a plan within the limits with an offcut of the length. It reports whether the answer is certain, with
// the leaves that show that there is no such plan.
func (l *goals) leaving(length int64, list *planList) (plan []rules.ColumnCount, by []search.Leaf, certain bool) {
	if list != nil {
		a := l.objective
		a.Main, a.Capped[rules.Price] = rules.Price, false // the cutoff does it
		if plan, certain := list.pick(a, length, a.Limit[rules.Price]+1, l.mt.Sub(pickWork)); plan != nil || certain {
			return plan, nil, certain
		}
	}
	return l.piece(length)
}

// piece is leaving by branch and price: the offcut is an item to cut.
func (l *goals) piece(length int64) (plan []rules.ColumnCount, by []search.Leaf, certain bool) {
	a := l.objective
	a.Main = rules.Price
	r := &solver{p: l.p.Asking(length), objective: a, mt: l.mt.Sub(offcutWork), target: a.Limit[rules.Price], startColumns: l.columns, startSwaps: l.swaps}
	r.threshold = a.Limit[rules.Price] + 1
	r.objective.Capped[rules.Price] = false // the threshold excludes more expensive plans without a row
	r.solve(nil)
	if r.plan != nil {
		return l.freeOffcut(r.plan, length), nil, false
	}
	return nil, r.leaves, r.bound > a.Limit[rules.Price]
}

// freeOffcut removes the item that stands for the offcut from a plan. It returns nil if the plan then has no such offcut
// or exceeds a limit.
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
			return nil // a stick bought only for its offcut
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
