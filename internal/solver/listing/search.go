package listing

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/setcover"
)

// Search looks for the best plan of listed columns in a box. There the cost of each class must be a constant plus a price per
// stick.
type Search struct {
	P         *rules.Problem
	Objective rules.Objective
	Box       bound.Box
	Columns   []rules.Column        // must outlive the search
	Some      []bool                // columns of which a plan needs at least one; nil: any plan will do
	Costs     *bound.ReachableCosts // that plans can have; nil: any
	Branching setcover.Branching
	Record    bool // see Tree

	list *setcover.Problem
	base [rules.Criteria]int64   // of every plan in the box
	each [][rules.Criteria]int64 // per class: of one stick
	run  int32                   // row of the first run
	cap  [rules.Criteria]int32   // rows of the criteria that have a limit
	node []int32                 // per run: its first node
}

// Run returns the best plan below the cost, nil if there is none, and reports whether that is certain.
func (l *Search) Run(cost int64, mt *meter.Meter) (plan []rules.ColumnCount, complete bool) {
	l.Box = l.Box.Clone()
	l.list = &setcover.Problem{Exact: l.P.Exact, Branching: l.Branching, Record: l.Record}
	if !l.prices() {
		return nil, false
	}
	l.rows()
	l.places()
	l.columns()
	if l.Some != nil {
		l.ask()
	}
	cutoff := l.Costs.Cutoff(cost)
	l.list.Accept = func(chosen []setcover.Chosen) (int64, bool) {
		var found []rules.ColumnCount
		for _, c := range chosen {
			found = append(found, rules.ColumnCount{Column: &l.Columns[int(c.Column)-l.list.Always], N: c.N})
		}
		found, value, ok := l.tidied(found)
		if ok && value < cutoff {
			plan, cutoff = found, l.Costs.Cutoff(value)
		}
		return cutoff, ok
	}
	complete = l.list.Search(cutoff, mt)
	return plan, complete
}

// tidied returns a plan without unnecessary patterns, and its value, or the plan as it is if that
// is better. It reports whether the plan is valid.
func (l *Search) tidied(plan []rules.ColumnCount) (best []rules.ColumnCount, value int64, ok bool) {
	crit, ok := rules.Evaluate(l.P, plan)
	if !ok || !l.Objective.Keeps(&crit) {
		return nil, 0, false
	}
	tidy := l.P.Tidy(plan)
	if now, ok := rules.Evaluate(l.P, tidy); ok && l.Objective.Keeps(&now) && now[l.Objective.Main] < crit[l.Objective.Main] {
		return tidy, now[l.Objective.Main], true
	}
	return plan, crit[l.Objective.Main], true
}

// prices computes the costs of the sticks in the box. It reports false if they are not a constant plus a price per stick.
func (l *Search) prices() bool {
	p, on := l.P, l.Box.On
	for g := range p.Suppliers {
		if on[g] == bound.Yes {
			l.base[rules.Price] += p.Suppliers[g].Charge
			continue
		}
		for _, c := range p.Suppliers[g].Classes {
			if on[g] == bound.No {
				l.Box.Hi[c] = 0
			} else if l.Box.Hi[c] > 0 && p.Suppliers[g].Charge > 0 {
				return false
			}
		}
	}
	l.each = make([][rules.Criteria]int64, len(p.Classes))
	for c := range p.Classes {
		l.Box.Lo[c] = min(l.Box.Lo[c], l.Box.Hi[c])
		base, each, ok := p.Classes[c].Affine(l.Box.Lo[c], l.Box.Hi[c])
		if !ok {
			return false
		}
		l.base[rules.Price] += base
		l.each[c] = [rules.Criteria]int64{rules.Price: each, rules.Sticks: p.Classes[c].Count, rules.Salvage: p.Classes[c].Idle}
	}
	l.list.Base = l.base[l.Objective.Main]
	return true
}

// rows adds the rows: items, bins, runs, and criteria with a limit. The row of a bin that is alone in its class counts
// the sticks.
func (l *Search) rows() {
	p, q := l.P, l.list
	n := len(p.Items)
	for i := range p.Items {
		q.Items = append(q.Items, model.Item{Size: max(1, p.Items[i].Orientations[0].Size), Demand: p.Items[i].Demand})
	}
	q.Rows = slices.Repeat([]setcover.Row{{Lo: -setcover.Free, Hi: 0}}, len(p.Bins))
	for c := range p.Classes {
		if bins := p.Classes[c].Bins; len(bins) == 1 {
			q.Rows[bins[0]] = setcover.Row{Lo: l.Box.Lo[c], Hi: l.Box.Hi[c]}
		}
	}
	l.run = int32(n + len(q.Rows))
	for r := range p.Runs {
		q.Rows = append(q.Rows, setcover.Row{Lo: 1, Hi: 1})
		l.node = append(l.node, int32(len(q.Runs)))
		q.Runs = append(q.Runs, slices.Repeat([]int{r}, p.Runs[r].Nodes)...)
	}
	for k := range rules.Criteria {
		if l.Objective.Capped[k] {
			l.cap[k] = int32(n + len(q.Rows))
			q.Rows = append(q.Rows, setcover.Row{Lo: -setcover.Free, Hi: l.Objective.Limit[k] - l.base[k], Loosen: 1e-7})
		}
	}
}

// places states how sticks are counted. A stick of several bins is a column of its own, linked to each of their rows.
func (l *Search) places() {
	n := int32(len(l.P.Items))
	for c := range l.P.Classes {
		bins := l.P.Classes[c].Bins
		place := setcover.Place{Column: -1, Cost: max(0, l.each[c][l.Objective.Main]), Bins: int64(len(bins))}
		if len(bins) == 1 {
			place.Row = n + int32(bins[0])
		} else {
			col := setcover.Column{Lo: l.Box.Lo[c], Hi: l.Box.Hi[c]}
			for _, b := range slices.Sorted(slices.Values(bins)) {
				col.Rows, col.Coef = append(col.Rows, n+int32(b)), append(col.Coef, -1)
			}
			l.charge(&col, l.each[c])
			place.Column = int32(len(l.list.Columns))
			l.list.Columns = append(l.list.Columns, col)
		}
		l.list.Places = append(l.list.Places, place)
	}
	l.list.Always = len(l.list.Columns)
}

// charge enters the costs of a column: its objective and its rows of limited criteria.
func (l *Search) charge(col *setcover.Column, cost [rules.Criteria]int64) {
	col.Cost = cost[l.Objective.Main]
	for k := range rules.Criteria {
		if l.Objective.Capped[k] && cost[k] != 0 {
			col.Rows, col.Coef = append(col.Rows, l.cap[k]), append(col.Coef, cost[k])
		}
	}
}

// columns adds the listed columns.
func (l *Search) columns() {
	p, n := l.P, int32(len(l.P.Items))
	classOf := p.ClassOf()
	// If no stick or pattern has a negative cost, no pattern is used more often than its items are wanted.
	covering := len(p.Runs) == 0 && l.Objective == rules.Objective{Main: rules.Price}
	for j := range l.Columns {
		covering = covering && l.Columns[j].Cost[rules.Price] >= 0
	}
	for j := range l.Columns {
		c := &l.Columns[j]
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
				size += u.N * l.list.Items[u.Item].Size
			}
			l.list.Cap = max(l.list.Cap, size)
			class := classOf[c.Fill.Bin]
			col.Hi = min(l.Box.Hi[class], l.enough(&col, covering))
			col.Rows, col.Coef = append(col.Rows, n+int32(c.Fill.Bin)), append(col.Coef, 1)
			if len(p.Classes[class].Bins) == 1 {
				for k := range cost {
					cost[k] += l.each[class][k]
				}
			}
		}
		l.charge(&col, cost)
		l.list.Columns = append(l.list.Columns, col)
	}
}

// ask adds a row that requires at least one of the marked columns.
func (l *Search) ask() {
	row := int32(len(l.P.Items) + len(l.list.Rows))
	l.list.Rows = append(l.list.Rows, setcover.Row{Lo: 1, Hi: setcover.Free})
	for j := range l.Columns {
		if col := &l.list.Columns[l.list.Always+j]; l.Some[j] {
			col.Rows, col.Coef = append(col.Rows, row), append(col.Coef, 1)
		}
	}
}

// enough returns an upper bound on the useful number of copies of a pattern.
func (l *Search) enough(col *setcover.Column, covering bool) int64 {
	most := int64(0)
	if l.P.Exact {
		most = 1 // the rows exclude more
	}
	for k, i := range col.Rows {
		need := l.P.Items[i].Most
		if covering {
			need = l.P.Items[i].Demand
		}
		most = max(most, (need+col.Coef[k]-1)/col.Coef[k])
	}
	return most
}
