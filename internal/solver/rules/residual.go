package rules

import "slices"

// Residual returns the problem that remains after the picks. It returns nil if they produce
// more of an item than an Exact problem allows.
func (p *Problem) Residual(fixed []ColumnCount) *Problem {
	q := *p
	q.Items = slices.Clone(p.Items)
	q.Classes = slices.Clone(p.Classes)
	q.Suppliers = slices.Clone(p.Suppliers)
	used := make([]int64, len(p.Bins))
	gone := make([]bool, len(p.Runs))
	for _, f := range fixed {
		if f.Column.Fill == nil {
			gone[f.Column.Run] = true
			uses := p.Runs[f.Column.Run].Uses(f.Column.Path)
			for _, u := range uses {
				q.Items[u.Item].Demand += f.N * u.N
			}
			continue
		}
		used[f.Column.Fill.Bin] += f.N
		for _, u := range f.Column.Fill.Uses {
			q.Items[u.Item].Demand -= f.N * u.N
			q.Items[u.Item].Most -= f.N * u.N
		}
	}
	q.Runs = nil
	for r := range p.Runs {
		if !gone[r] {
			q.Runs = append(q.Runs, p.Runs[r])
		}
	}
	if !q.leaveParts(len(p.Runs) > 0) {
		return nil
	}
	for c, n := range p.Counts(used) {
		q.Classes[c].Settled += n
		if q.Classes[c].Settled > q.Classes[c].Limit {
			return nil
		}
	}
	for g := range q.Suppliers {
		for _, c := range q.Suppliers[g].Classes {
			if q.Classes[c].Settled > 0 {
				q.Suppliers[g].Charge = 0
			}
		}
	}
	return &q
}

// leaveParts limits the items of a residual problem to those still useful. Parts that are already
// cut wait for a remaining run that takes them; parts that none needs are not cut. It reports false
// if an Exact problem has too many.
func (p *Problem) leaveParts(runs bool) bool {
	take := make([]int64, len(p.Items))
	for r := range p.Runs {
		for _, u := range p.Runs[r].Upper() {
			take[u.Item] += u.N
		}
	}
	for i := range p.Items {
		it := &p.Items[i]
		if it.Demand+take[i] < 0 && p.Exact {
			return false
		}
		it.Demand = max(-take[i], it.Demand)
		if it.Most = max(0, it.Demand, it.Most); runs {
			it.Most = it.Demand + take[i]
		}
	}
	return true
}

// Joined adds fixed to a plan of the residual problem, in the numbering of the whole problem:
// the residual one has no numbers for runs that fixed settles.
func (p *Problem) Joined(fixed, plan []ColumnCount) []ColumnCount {
	gone := make([]bool, len(p.Runs))
	for _, f := range fixed {
		if f.Column.Fill == nil {
			gone[f.Column.Run] = true
		}
	}
	var of []int
	for r := range p.Runs {
		if !gone[r] {
			of = append(of, r)
		}
	}
	out := slices.Clone(fixed)
	for _, q := range plan {
		if q.Column.Fill == nil {
			c := *q.Column
			c.Run = of[c.Run]
			q.Column = &c
		}
		out = append(out, q)
	}
	return out
}

// ManyAssemblies reports whether some run has many assemblies.
func (p *Problem) ManyAssemblies() bool {
	return slices.ContainsFunc(p.Runs, func(r Run) bool { return len(r.Arcs) > 4*r.Nodes })
}
