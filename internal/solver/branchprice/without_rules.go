package branchprice

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
)

// The relaxation of a problem without rules keeps its dual inequalities from this number of items on, if there are on
// average this many pieces of each.
const (
	keepInequalityItems  = 300
	keepInequalityCopies = 3
)

// huge reports whether solving the relaxation without dual inequalities would take longer than everything else. If nearly
// every piece is an item of its own, dives cannot use the places that dual inequalities fill.
func huge(p *model.Problem) bool {
	return len(p.Bins) > 1 && len(p.Items) >= keepInequalityItems && p.Pieces() >= int64(keepInequalityCopies*len(p.Items))
}

// diveByLists returns a dive for a problem without rules, whose last pieces are planned by lists.
func (r *solver) diveByLists() *heuristic.Dive {
	d := &heuristic.Dive{
		Master: r.m, Meter: r.mt, Random: &r.rng, Dearest: true,
		Cost: func() int64 { return r.cost }, Bound: r.bound, Offer: r.tryIncumbent,
	}
	d.Finish = func() bool { return r.finish(d) }
	if r.m.HasInequalities() {
		d.HandOver = func() { r.handOver(d) }
	}
	return d
}

// finish plans the last pieces of a dive without rules, by the duals of its relaxation. It reports whether it is certain
// that no plan for them beats the incumbent, or the plan found.
func (r *solver) finish(d *heuristic.Dive) (certain bool) {
	by := &r.rootDuals
	if d.Optimal {
		by = new(master.Duals)
		by.Item, by.Scale = r.m.ScaledDuals()
	}
	return r.listRest(d.Columns(), by, r.mt.Sub(finishWork))
}

// listRest plans what fixed columns leave of a problem without rules, by lists. It is certain as in finish.
func (r *solver) listRest(fixed []rules.ColumnCount, by *master.Duals, mt *meter.Meter) (certain bool) {
	rest := residual.Of(r.plain, rules.ToPatterns(fixed))
	if rest == nil {
		return false
	}
	plan, certain := rest.Cheapest(by, r.cost-rest.Spent, mt)
	if plan != nil {
		r.tryIncumbent(r.p.FromPatterns(rest.Joined(plan)))
	}
	return certain
}

// handOver plans the residual problem of a dive in a search of its own.
func (r *solver) handOver(d *heuristic.Dive) {
	rest := residual.Of(r.plain, rules.ToPatterns(d.Columns()))
	if rest == nil || rest.Spent >= r.cost {
		return
	}
	work := min(handOverWork*d.Pieces, mostHandOverWork) * max(r.patience, 1)
	s := &solver{p: rules.Of(&rest.Problem), plain: &rest.Problem, objective: r.objective, mt: r.mt.Sub(work), rng: r.rng}
	if r.cost < rules.NoCost {
		s.threshold = r.cost - rest.Spent
	}
	s.startColumns = r.hints(d, rest)
	if s.solve(nil); s.plan != nil {
		r.tryIncumbent(r.p.FromPatterns(rest.Joined(rules.ToPatterns(s.plan))))
	}
}

// hints returns the patterns that the relaxation uses, reduced to the residual demand.
func (r *solver) hints(d *heuristic.Dive, rest *residual.Problem) (out []rules.Column) {
	at := make([]int, len(r.p.Items))
	for k, i := range rest.Item {
		at[i] = k
	}
	for _, j := range d.InUse {
		pat := rules.Pattern{Bin: r.m.Columns[j].Fill.Bin}
		for _, u := range r.m.Columns[j].Fill.Uses {
			if n := min(u.N, d.Left[u.Item]); n > 0 {
				pat.Uses = append(pat.Uses, rules.Use{Item: at[u.Item], N: n})
			}
		}
		if len(pat.Uses) > 0 {
			out = append(out, rules.Column{Fill: &pat})
		}
	}
	return out
}
