package branchprice

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
)

// residualObjective returns the objective of the residual problem: its limits are those that the fixed
// columns leave.
func (r *solver) residualObjective(fixed []rules.ColumnCount) rules.Objective {
	a := r.objective
	for _, f := range fixed {
		for k := range rules.Criteria {
			a.Limit[k] -= f.N * f.Column.Cost[k]
		}
	}
	if !a.Capped[rules.Price] && !a.Capped[rules.Sticks] && !a.Capped[rules.Salvage] {
		return a
	}
	used := make([]int64, len(r.p.Bins))
	for _, f := range fixed {
		if f.Column.Fill != nil {
			used[f.Column.Fill.Bin] += f.N
		}
	}
	n := r.p.Counts(used)
	cost, _ := r.p.Bought(n)
	a.Limit[rules.Price] -= cost
	for c := range n {
		a.Limit[rules.Sticks] -= r.p.Classes[c].Count * n[c]
		a.Limit[rules.Salvage] -= r.p.Classes[c].Idle * n[c]
	}
	return a
}

// fixedCost returns the cost of the fixed columns in the main criterion.
func (r *solver) fixedCost(fixed []rules.ColumnCount) int64 {
	v := int64(0)
	used := make([]int64, len(r.p.Bins))
	for _, f := range fixed {
		v += f.N * f.Column.Cost[r.objective.Main]
		if f.Column.Fill != nil {
			used[f.Column.Fill.Bin] += f.N
		}
	}
	n := r.p.Counts(used)
	switch r.objective.Main {
	case rules.Price:
		cost, ok := r.p.Bought(n)
		if !ok {
			return rules.NoCost
		}
		v += cost
	case rules.Sticks:
		for c := range n {
			v += r.p.Classes[c].Count * n[c]
		}
	case rules.Salvage:
		for c := range n {
			v += r.p.Classes[c].Idle * n[c]
		}
	}
	return v
}

// dive rounds the relaxation to a plan.
func (r *solver) dive() {
	defer r.m.WithoutExchanges(r.mt)()
	var d *heuristic.Dive
	if r.plain != nil {
		d = r.diveByLists()
		d.Backtracks = 1
	} else {
		d = &heuristic.Dive{
			Master: r.m, Meter: r.mt.Sub(diveWork), Random: &r.rng,
			Cost: func() int64 { return r.cost }, Bound: r.bound, Offer: r.tryIncumbent,
		}
		d.Finish = func() bool {
			r.complete(d.Columns(), finishWork, r.mt)
			return true
		}
	}
	here, num, shown := r.m.Duals.Clone(), r.m.Num, r.m.Bound
	d.Run()
	r.m.Duals, r.m.Num, r.m.Bound = here, num, shown
	r.m.LP.Place(r.mt)
}

// complete plans the residual problem of fixed columns, by one list.
func (r *solver) complete(fixed []rules.ColumnCount, listWork int64, mt *meter.Meter) {
	q, base := r.p.Residual(fixed), r.fixedCost(fixed)
	if q == nil || base >= r.cost {
		return
	}
	s := &solver{p: q, objective: r.residualObjective(fixed), mt: mt, cost: rules.NoCost, bound: master.NoBound}
	if r.cost < rules.NoCost {
		s.cost = r.cost - base
	}
	s.completeDive(r.m, fixed, smallList, listWork)
	if s.plan != nil {
		r.tryIncumbent(r.p.Joined(fixed, s.plan))
	}
}

// inherit takes over the columns of the whole problem's master that are valid in the residual problem of the
// fixed columns, and the basis as far as it consists of them.
func (r *solver) inherit(m *master.Master, fixed []rules.ColumnCount) {
	now := make([]int, len(m.P.Runs)) // the number of a run in the residual problem, -1 if it is settled
	for _, f := range fixed {
		if f.Column.Fill == nil {
			now[f.Column.Run] = -1
		}
	}
	n := 0
	for k := range now {
		if now[k] >= 0 {
			now[k] = n
			n++
		}
	}
	var basic []int
	for j, c := range m.Columns {
		ok := true
		if c.Fill == nil {
			c.Run = now[c.Run]
			ok = c.Run >= 0
		} else {
			ok = r.p.Proper(c.Fill)
		}
		if ok {
			k, _ := r.m.AddColumn(c)
			if m.LP.Basic(m.Col(j)) {
				basic = append(basic, k)
			}
		}
	}
	r.m.StartWith(basic, nil)
}

// completeDive solves a small residual problem by one list, and looks only for plans below the present cost.
// The columns are fixed in the problem of master m.
func (r *solver) completeDive(m *master.Master, fixed []rules.ColumnCount, limit int, work int64) {
	heuristic.Quick(r.p, r.mt, r.tryIncumbent)
	r.m = master.NewOf(r.p, r.objective)
	r.addInitialColumns()
	r.inherit(m, fixed)
	if st := r.m.Solve(r.cost, r.mt); st != master.Converged {
		return
	}
	if b := r.m.Box; !r.affineOn(b) {
		r.round(work)
	} else if list := listOf(limit, 1, listSteps, work, byColumns); !r.enumerateBox(b, &list) {
		// With a better incumbent, the list may be short enough.
		before := r.cost
		r.round(work / 2)
		if r.cost < before {
			r.enumerateBox(b, &list)
		}
	}
}

// neighborhoodSearch repeatedly plans a few sticks of the incumbent again, until the given number of
// consecutive tries have failed.
func (r *solver) neighborhoodSearch(tries int) {
	if r.plan == nil || r.m.Duals.Scale == 0 {
		return
	}
	if r.rootScale == 0 {
		r.rootValue, r.rootScale = slices.Clone(r.m.Duals.Item), r.m.Duals.Scale
	}
	s := heuristic.Neighborhoods{
		Problem: r.p, Dual: r.rootValue, Scale: r.rootScale, Random: &r.rng,
		Plan: func() []rules.ColumnCount { return r.plan },
		Cost: func() int64 { return r.cost },
		Solve: func(fixed []rules.ColumnCount) {
			if mt := r.mt.Sub(neighborWork); r.plain != nil {
				r.listRest(fixed, &r.rootDuals, mt)
			} else {
				r.complete(fixed, neighborFinish, mt)
			}
		},
		Done: r.done,
	}
	s.Search(tries)
}

// diveAtCounts dives for a plan with at most the given count of sticks per class, once for the same counts.
func (r *solver) diveAtCounts(counts []int64) {
	if slices.ContainsFunc(r.dived, func(n []int64) bool { return slices.Equal(n, counts) }) {
		return
	}
	r.dived = append(r.dived, counts)
	r.diveCounts(counts)
}

// diveCounts is diveAtCounts for counts that may have been tried: it dives from the present relaxation.
func (r *solver) diveCounts(counts []int64) {
	q := *r.p
	q.Classes = slices.Clone(q.Classes)
	for c := range q.Classes {
		cl := &q.Classes[c]
		cl.Limit = min(cl.Limit, cl.Settled+counts[c])
	}
	defer r.m.WithoutExchanges(r.mt)()
	s := &solver{p: &q, objective: r.objective, mt: r.mt.Sub(countsWork), m: r.m, cost: r.cost, bound: master.NoBound, rootDuals: r.rootDuals, patience: r.patience}
	if r.plain != nil {
		s.plain = &model.Problem{Items: r.plain.Items, Bins: slices.Clone(r.plain.Bins)}
		for b := range s.plain.Bins {
			s.plain.Bins[b].Limit = min(s.plain.Bins[b].Limit, counts[b])
		}
	}
	var basis lp.Basis
	r.m.LP.Save(&basis)
	whole := r.m.Box
	b := whole.Clone()
	for c, n := range counts {
		b.Hi[c] = min(b.Hi[c], n)
		b.Lo[c] = min(b.Lo[c], n)
	}
	r.m.SetBox(b)
	s.dive()
	r.m.SetBox(whole)
	r.m.LP.Restore(&basis)
	r.m.LP.Place(r.mt)
	if s.plan != nil {
		r.tryIncumbent(s.plan)
	}
}

// settleAssemblies fixes an assembly of each run, one after another, each time the one with the greatest
// value in the relaxation. Then it searches for the best sticks for all parts: a problem without runs, which
// lists and the tree solve in few steps.
func (r *solver) settleAssemblies() {
	d := &heuristic.Dive{
		Master: r.m, Meter: r.mt.Sub(diveWork), Random: &r.rng, Assemblies: true,
		Cost: func() int64 { return r.cost }, Bound: r.bound, Offer: r.tryIncumbent,
	}
	d.Finish = func() bool {
		r.cutParts(d.Columns())
		return true
	}
	d.Run()
	r.m.LP.Place(r.mt)
}

// cutParts searches for the best plan with the given assemblies, one of each run.
func (r *solver) cutParts(assemblies []rules.ColumnCount) {
	q, base := r.p.Residual(assemblies), r.fixedCost(assemblies)
	if q == nil || base >= r.cost {
		return
	}
	s := &solver{p: q, objective: r.residualObjective(assemblies), mt: r.mt.Sub(assembliesWork)}
	if r.cost < rules.NoCost {
		s.threshold = r.cost - base
	}
	for _, c := range r.m.Basics() {
		if c.Fill != nil && q.Proper(c.Fill) {
			s.startColumns = append(s.startColumns, c)
		}
	}
	if s.solve(nil); s.plan != nil {
		r.tryIncumbent(r.p.Joined(assemblies, s.plan))
	}
}
