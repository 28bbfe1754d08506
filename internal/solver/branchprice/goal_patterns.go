package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// patterns reduces the number of different patterns by replacing two patterns of a bin by their average.
func (l *goals) patterns() search.GoalResult {
	crit, _ := rules.Evaluate(l.p, l.plan)
	for l.mt.Spend(1000) && l.average(crit) {
	}
	n := l.p.CountPatterns(l.plan)
	l.most = n
	return search.GoalResult{Value: n, Bound: min(n, l.fewest), Proven: n <= l.fewest}
}

// unspliced returns the plan without needless splices, unless that worsens an earlier goal.
func (l *goals) unspliced(plan []rules.ColumnCount) []rules.ColumnCount {
	if joined := l.p.Unspliced(plan); !l.undoes(joined) {
		return joined
	}
	return plan
}

// undoes reports whether a plan has more patterns, or a shorter longest offcut, than earlier goals have reached.
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
