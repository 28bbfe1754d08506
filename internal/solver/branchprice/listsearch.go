package branchprice

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/setcover"
)

// newListing states a search for a plan in a box from the listed columns, which must outlive the search. In the box the
// cost of each class must be a constant plus a price per stick. pairs is as in listLimits.
func newListing(p *rules.Problem, a rules.Objective, bx bound.Box, list []rules.Column, pairs bool) *listing {
	return &listing{p: p, objective: a, box: bx.Clone(), list: list, q: &setcover.Problem{Exact: p.Exact, Cuts: pairs, ColumnsFirst: !pairs, PairsFirst: pairs}}
}

// search returns the best plan below the cost, nil if there is none, and reports whether that is certain. costs holds the
// costs that plans can have, nil for any.
func (l *listing) search(cost int64, costs *bound.ReachableCosts, mt *meter.Meter) (plan []rules.ColumnCount, complete bool) {
	p, a, list := l.p, &l.objective, l.list
	if !l.prices() {
		return nil, false
	}
	l.rows()
	l.places()
	l.columns()
	if l.some != nil {
		l.ask(l.some)
	}
	cutoff := costs.Cutoff(cost)
	l.q.Accept = func(chosen []setcover.Chosen) (int64, bool) {
		var found []rules.ColumnCount
		for _, c := range chosen {
			found = append(found, rules.ColumnCount{Column: &list[int(c.Column)-l.q.Always], N: c.N})
		}
		crit, ok := rules.Evaluate(p, found)
		for k := range rules.Criteria {
			ok = ok && (!a.Capped[k] || crit[k] <= a.Limit[k])
		}
		if ok && crit[a.Main] < cutoff {
			plan, cutoff = found, costs.Cutoff(crit[a.Main])
		}
		return cutoff, ok
	}
	complete = l.q.Search(cutoff, mt)
	return plan, complete
}

// listing states a list of columns as a problem of package setcover.
type listing struct {
	p         *rules.Problem
	objective rules.Objective
	box       bound.Box
	list      []rules.Column
	some      []bool // columns of which a plan needs at least one, nil for any plan
	q         *setcover.Problem

	base [rules.Criteria]int64   // of every plan in the box
	each [][rules.Criteria]int64 // per class: of one stick
	run  int32                   // row of the first run
	cap  [rules.Criteria]int32   // rows of the criteria that have a limit
	node []int32                 // per run: its first node
}

// prices computes the costs of the sticks in the box. It reports false if they are not a constant plus a price per stick.
func (l *listing) prices() bool {
	p, on := l.p, l.box.On
	for g := range p.Suppliers {
		if on[g] == bound.Yes {
			l.base[rules.Price] += p.Suppliers[g].Charge
			continue
		}
		for _, c := range p.Suppliers[g].Classes {
			if on[g] == bound.No {
				l.box.Hi[c] = 0
			} else if l.box.Hi[c] > 0 && p.Suppliers[g].Charge > 0 {
				return false
			}
		}
	}
	l.each = make([][rules.Criteria]int64, len(p.Classes))
	for c := range p.Classes {
		l.box.Lo[c] = min(l.box.Lo[c], l.box.Hi[c])
		base, each, ok := p.Classes[c].Affine(l.box.Lo[c], l.box.Hi[c])
		if !ok {
			return false
		}
		l.base[rules.Price] += base
		l.each[c] = [rules.Criteria]int64{rules.Price: each, rules.Sticks: p.Classes[c].Count, rules.Salvage: p.Classes[c].Idle}
	}
	l.q.Base = l.base[l.objective.Main]
	return true
}

// rows adds the rows: items, bins, runs, and criteria with a limit. The row of a bin that is alone in its class counts
// the sticks.
func (l *listing) rows() {
	p, q := l.p, l.q
	n := len(p.Items)
	for i := range p.Items {
		q.Items = append(q.Items, model.Item{Size: max(1, p.Items[i].Orientations[0].Size), Demand: p.Items[i].Demand})
	}
	q.Rows = slices.Repeat([]setcover.Row{{Lo: -setcover.Free, Hi: 0}}, len(p.Bins))
	for c := range p.Classes {
		if bins := p.Classes[c].Bins; len(bins) == 1 {
			q.Rows[bins[0]] = setcover.Row{Lo: l.box.Lo[c], Hi: l.box.Hi[c]}
		}
	}
	l.run = int32(n + len(q.Rows))
	for r := range p.Runs {
		q.Rows = append(q.Rows, setcover.Row{Lo: 1, Hi: 1})
		l.node = append(l.node, int32(len(q.Runs)))
		q.Runs = append(q.Runs, slices.Repeat([]int{r}, p.Runs[r].Nodes)...)
	}
	for k := range rules.Criteria {
		if l.objective.Capped[k] {
			l.cap[k] = int32(n + len(q.Rows))
			q.Rows = append(q.Rows, setcover.Row{Lo: -setcover.Free, Hi: l.objective.Limit[k] - l.base[k], Loosen: 1e-7})
		}
	}
}

// places states how sticks are counted. A stick of several bins is a column of its own, linked to each of their rows.
func (l *listing) places() {
	n := int32(len(l.p.Items))
	for c := range l.p.Classes {
		bins := l.p.Classes[c].Bins
		place := setcover.Place{Column: -1, Cost: max(0, l.each[c][l.objective.Main]), Bins: int64(len(bins))}
		if len(bins) == 1 {
			place.Row = n + int32(bins[0])
		} else {
			col := setcover.Column{Lo: l.box.Lo[c], Hi: l.box.Hi[c]}
			for _, b := range slices.Sorted(slices.Values(bins)) {
				col.Rows, col.Coef = append(col.Rows, n+int32(b)), append(col.Coef, -1)
			}
			l.charge(&col, l.each[c])
			place.Column = int32(len(l.q.Columns))
			l.q.Columns = append(l.q.Columns, col)
		}
		l.q.Places = append(l.q.Places, place)
	}
	l.q.Always = len(l.q.Columns)
}

// charge enters the costs of a column: its objective and its rows of limited criteria.
func (l *listing) charge(col *setcover.Column, cost [rules.Criteria]int64) {
	col.Cost = cost[l.objective.Main]
	for k := range rules.Criteria {
		if l.objective.Capped[k] && cost[k] != 0 {
			col.Rows, col.Coef = append(col.Rows, l.cap[k]), append(col.Coef, cost[k])
		}
	}
}

// columns adds the listed columns.
func (l *listing) columns() {
	p, n := l.p, int32(len(l.p.Items))
	classOf := p.ClassOf()
	// If no stick or pattern has a negative cost, no pattern is used more often than its items are wanted.
	covering := len(p.Runs) == 0 && l.objective == rules.Objective{Main: rules.Price}
	for j := range l.list {
		covering = covering && l.list[j].Cost[rules.Price] >= 0
	}
	for j := range l.list {
		c := &l.list[j]
		col := setcover.Column{Hi: 1}
		cost := c.Cost
		if c.Fill == nil {
			for _, u := range p.Runs[c.Run].Uses(c.Path) {
				col.Rows, col.Coef = append(col.Rows, int32(u.Item)), append(col.Coef, -u.N)
			}
			col.Rows, col.Coef = append(col.Rows, l.run+int32(c.Run)), append(col.Coef, 1)
			for _, a := range c.Path {
				col.Passes = append(col.Passes, l.node[c.Run]+int32(p.Runs[c.Run].Arcs[a].To))
			}
		} else {
			size := int64(0)
			for _, u := range c.Fill.Uses {
				if k := len(col.Rows) - 1; k >= 0 && col.Rows[k] == int32(u.Item) {
					col.Coef[k] += u.N
				} else {
					col.Rows, col.Coef = append(col.Rows, int32(u.Item)), append(col.Coef, u.N)
				}
				size += u.N * l.q.Items[u.Item].Size
			}
			l.q.Cap = max(l.q.Cap, size)
			class := classOf[c.Fill.Bin]
			col.Hi = min(l.box.Hi[class], l.enough(&col, covering))
			col.Rows, col.Coef = append(col.Rows, n+int32(c.Fill.Bin)), append(col.Coef, 1)
			if len(p.Classes[class].Bins) == 1 {
				for k := range cost {
					cost[k] += l.each[class][k]
				}
			}
		}
		l.charge(&col, cost)
		l.q.Columns = append(l.q.Columns, col)
	}
}

// ask adds a row that requires at least one of the marked columns.
func (l *listing) ask(some []bool) {
	row := int32(len(l.p.Items) + len(l.q.Rows))
	l.q.Rows = append(l.q.Rows, setcover.Row{Lo: 1, Hi: setcover.Free})
	for j := range l.list {
		if col := &l.q.Columns[l.q.Always+j]; some[j] {
			col.Rows, col.Coef = append(col.Rows, row), append(col.Coef, 1)
		}
	}
}

// enough returns an upper bound on the useful number of copies of a pattern.
func (l *listing) enough(col *setcover.Column, covering bool) int64 {
	most := int64(0)
	if l.p.Exact {
		most = 1 // the rows exclude more
	}
	for k, i := range col.Rows {
		need := l.p.Items[i].Most
		if covering {
			need = l.p.Items[i].Demand
		}
		most = max(most, (need+col.Coef[k]-1)/col.Coef[k])
	}
	return most
}
