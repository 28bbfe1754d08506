package branchprice

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// What a relaxation says of patterns, and a search among all that are left, leaves nothing behind that shows the bounds
// of goals. It is for brief solves, of which nobody asks that.

// witness is a relaxation of which a plan's cost is known: no plan that costs as much as that, or less, has patterns that
// gain too little by its duals.
type witness struct {
	f     *master.Families
	duals master.Duals
	cost  int64
}

// remember keeps what the relaxation of a criterion shows of plans that are as good in it.
func (l *goals) remember(r *solver, cost int64) {
	if l.brief && r.rootDuals.Scale > 0 {
		l.known = append(l.known, witness{r.m.Families, r.rootDuals, cost})
	}
}

// takeRoot makes witnesses of the duals of another master.
func (l *goals) takeRoot() {
	if len(l.root) == 0 {
		return
	}
	f := master.NewFamiliesOf(l.p, rules.Objective{Main: rules.Price})
	for _, d := range l.root {
		d.Weight = [rules.Criteria]int64{rules.Price: d.Scale}
		l.known = append(l.known, witness{f, d, l.objective.Limit[rules.Price]})
	}
	l.root = nil
}

// planList is all patterns, and assemblies of runs, that a plan within the first goal's limit may have, with what each
// leaves. Where they are few the goals after it are searched among them.
type planList struct {
	p       *rules.Problem
	root    bound.Box
	columns []rules.Column
	offcuts []int64
	sorted  []int64 // the same, ascending
}

// most returns the longest offcut.
func (x *planList) most() int64 { return x.upTo(math.MaxInt64) }

// upTo returns the longest offcut that is no longer than the length.
func (x *planList) upTo(length int64) int64 {
	if at, found := slices.BinarySearch(x.sorted, length); found {
		return length
	} else if at > 0 {
		return x.sorted[at-1]
	}
	return 0
}

// list returns the list, nil where it is too long or not to be had. What goals since have shown shortens it.
func (l *goals) list() *planList {
	l.takeRoot()
	if x := l.listed; l.tried == len(l.known) || x != nil && len(x.columns) <= shortList {
		return x
	}
	filters := l.filters(l.known[l.tried:])
	if l.tried = len(l.known); l.listed != nil {
		l.listed.shorten(filters)
		return l.listed
	}
	f := l.known[0].f
	mt := l.mt.Sub(goalListWork + min(l.first/goalListShare, mostGoalList))
	columns, ok := f.List(l.filters(l.known), goalList, mt) // the last goal, which knows most, first
	if !ok {
		return nil
	}
	q := *l.p
	q.Exact = true
	l.listed = &planList{p: &q, root: f.Root, columns: columns}
	l.listed.measure()
	return l.listed
}

// filters returns what relaxations show of the columns of a plan.
func (l *goals) filters(known []witness) (filters []master.Filter) {
	for i := range known {
		w := &known[i]
		if g, closed, ok := w.f.FilterOf(&w.duals, w.f.Root, w.cost+1); ok && !closed && !g.Wide() {
			filters = append(filters, g)
		}
	}
	return filters
}

// measure notes what each column leaves.
func (x *planList) measure() {
	x.offcuts = x.offcuts[:0]
	for j := range x.columns {
		v := int64(0)
		if f := x.columns[j].Fill; f != nil && !x.p.Items[f.Uses[0].Item].Alone {
			if size, ok := x.p.Fill(f); ok {
				v = size.Offcut
			}
		}
		x.offcuts = append(x.offcuts, v)
	}
	x.sorted = slices.Sorted(slices.Values(x.offcuts))
}

// shorten leaves out the columns that a filter does not accept.
func (x *planList) shorten(filters []master.Filter) {
	x.columns = slices.DeleteFunc(x.columns, func(c rules.Column) bool {
		return slices.ContainsFunc(filters, func(g master.Filter) bool { return !g.Accepts(x.p, &c) })
	})
	x.measure()
}

// pick looks for a plan from the list that comes to less than the value, and has an offcut of the length, 0 for any. It reports whether
// the answer is certain.
func (x *planList) pick(a rules.Objective, length, value int64, mt *meter.Meter) ([]rules.ColumnCount, bool) {
	var some []bool
	if length > 0 {
		for _, v := range x.offcuts {
			some = append(some, v >= length)
		}
	}
	return searchListWith(some, x.p, a, x.root, x.columns, value, nil, false, mt)
}
