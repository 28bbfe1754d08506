package branchprice

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// Filters by duals and searches over lists leave no certificate for the bounds of goals. They serve brief solves, whose
// callers ask for none.

// witness is the duals of a relaxation and the cost of a plan in it: a plan that costs no more uses only patterns whose
// reduced cost is small enough.
type witness struct {
	f     *master.Families
	duals master.Duals
	cost  int64
}

// remember keeps the root duals of a criterion as a witness for plans that reach the same cost in it.
func (l *goals) remember(r *solver, cost int64) {
	if l.brief && r.rootDuals.Scale > 0 {
		l.known = append(l.known, witness{r.m.Families, r.rootDuals, cost})
	}
}

// takeRoot makes witnesses of the duals that another master found.
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

// planList is all patterns and assemblies that a plan within the limit of the first goal can use, with the offcut of
// each. If they are few, the later goals are searched among them.
type planList struct {
	p       *rules.Problem
	root    bound.Box
	columns []rules.Column
	offcuts []int64
	sorted  []int64 // the same, ascending
}

// most returns the longest offcut.
func (x *planList) most() int64 { return x.upTo(math.MaxInt64) }

// upTo returns the longest offcut up to the length.
func (x *planList) upTo(length int64) int64 {
	if at, found := slices.BinarySearch(x.sorted, length); found {
		return length
	} else if at > 0 {
		return x.sorted[at-1]
	}
	return 0
}

// list returns the list, nil if it is too long or takes too much work. Witnesses of later goals shorten it.
func (l *goals) list() *planList {
	if l.p.ManyAssemblies() {
		return nil // it has hundreds of thousands of patterns
	}
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
	columns, ok := f.List(l.filters(l.known), goalList, mt) // the latest witness first, since it excludes most
	if !ok {
		return nil
	}
	q := *l.p
	q.Exact = true
	l.listed = &planList{p: &q, root: f.Root, columns: columns}
	l.listed.measure()
	return l.listed
}

// filters returns the filters of witnesses, without those that exclude next to nothing.
func (l *goals) filters(known []witness) (filters []master.Filter) {
	for i := range known {
		w := &known[i]
		if g, closed, ok := w.f.FilterOf(&w.duals, w.f.Root, w.cost+1); ok && !closed && !g.Wide() {
			filters = append(filters, g)
		}
	}
	return filters
}

// measure records the offcut of each column.
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

// shorten removes the columns that a filter does not accept.
func (x *planList) shorten(filters []master.Filter) {
	x.columns = slices.DeleteFunc(x.columns, func(c rules.Column) bool {
		return slices.ContainsFunc(filters, func(g master.Filter) bool { return !g.Accepts(x.p, &c) })
	})
	x.measure()
}

// pick searches the list for a plan whose main criterion is below the value, with an offcut of at least the length (0:
// any). It reports whether the answer is certain.
func (x *planList) pick(a rules.Objective, length, value int64, mt *meter.Meter) ([]rules.ColumnCount, bool) {
	l := listing.Search{P: x.p, Objective: a, Box: x.root, Columns: x.columns, Branching: byColumns}
	if length > 0 {
		for _, v := range x.offcuts {
			l.Some = append(l.Some, v >= length)
		}
	}
	return l.Run(value, mt)
}
