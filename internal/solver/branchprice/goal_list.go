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

// list returns the list, nil where it is too long or not to be had.
func (l *goals) list() *planList {
	if l.takeRoot(); l.tried == len(l.known) || l.listed != nil && len(l.listed.columns) <= shortList {
		return l.listed
	}
	l.tried, l.listed = len(l.known), nil
	// Exact, so that patterns are listed that have room for more.
	q := *l.p
	q.Exact = true
	x := &planList{p: &q}
	f := master.NewFamiliesOf(&q, rules.Objective{Main: rules.Price})
	x.root = f.Root
	var filters []master.Filter
	for i := range l.known {
		w := &l.known[i]
		if g, closed, ok := w.f.FilterOf(&w.duals, f.Root, w.cost+1); ok && !closed {
			filters = append(filters, g)
		}
	}
	mt := l.mt.Sub(goalListWork + min(l.first/goalListShare, mostGoalList))
	columns, ok := f.List(filters, goalList, mt) // the last goal, which knows most, first
	if !ok {
		return nil
	}
	x.columns, l.listed = columns, x
	for j := range x.columns {
		v := int64(0)
		if f := x.columns[j].Fill; f != nil && !q.Items[f.Uses[0].Item].Alone {
			if size, ok := q.Fill(f); ok {
				v = size.Offcut
			}
		}
		x.offcuts = append(x.offcuts, v)
	}
	x.sorted = slices.Sorted(slices.Values(x.offcuts))
	return x
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
