package plain

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/knapsack"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/setcover"
)

// boxDuals is what a bound of a box rests on.
type boxDuals struct {
	box   bound.Box
	dual  []int64
	best  []int64 // per bin: no pattern has a greater dual value
	scale int64
}

func dualsOf(m *master.Master) boxDuals {
	return boxDuals{m.Box.Clone(), slices.Clone(m.Duals.Item), slices.Clone(m.Duals.Best), m.Duals.Scale}
}

// reducedCostFilter says what dual value a pattern must have to be part of a plan that costs less
// than some cutoff.
type reducedCostFilter struct {
	dual  []int64 // of items, > 0
	need  []int64 // of bins
	scale int64   // of both
}

// filterOf returns the filter that a bound gives, or that the bound itself rules
// out such plans.
//
// A pattern of value V in bin b can be part of a plan below cutoff only if the
// Lagrangian bound plus its own reduced cost stays below: compare R. Baldacci,
// S. Coniglio, J.-F. Cordeau, F. Furini, A numerically exact algorithm for the
// bin-packing problem, INFORMS Journal on Computing 36 (2024) 141-162.
func filterOf(p *model.Problem, s boxDuals, cutoff int64) (g reducedCostFilter, closed, ok bool) {
	if s.scale == 0 || cutoff >= search.NoPlan {
		return g, false, false
	}
	// Items of dual value zero must be part of patterns too.
	g.dual = slices.Clone(s.dual)
	for i := range g.dual {
		g.dual[i] = max(g.dual[i], 1)
	}
	// The bound by the duals themselves, loosened by what was added.
	best := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		if s.box.Hi[b] == 0 {
			continue
		}
		best[b] = s.best[b]
		for i, it := range p.Items {
			if s.dual[i] == 0 {
				best[b] += min(it.Demand, bin.Cap/it.Size)
			}
		}
	}
	num := bound.Numerator(p, s.box, g.dual, best, s.scale)
	if num.CeilDiv(s.scale) >= cutoff {
		return g, true, true
	}
	if _, ok := num.Int64(); !ok {
		return g, false, false
	}
	// Of a few hundred sticks the cost at the finest scale leaves 63 bits.
	num.AddMul(s.scale, -(cutoff - 1))
	short, ok := num.Int64()
	if !ok || short == math.MinInt64 {
		return g, false, false
	}
	gap := -short
	g.scale, g.need = s.scale, make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		g.need[b] = best[b]
		if s.box.Lo[b] == 0 {
			g.need[b] = max(g.need[b], bin.Cost*s.scale) // the bound does not count this bin yet
		}
		g.need[b] = max(g.need[b]-gap, 0)
	}
	return g, false, true
}

// accepts reports whether a pattern has dual value enough.
func (g *reducedCostFilter) accepts(bin int, uses []model.Use) bool {
	v := int64(0)
	for _, u := range uses {
		v += u.N * g.dual[u.Item]
	}
	return v >= g.need[bin]
}

// enumerateBox lists the patterns that a better plan in the box could use and searches
// them. It reports whether the box is closed: whatever is better than the best
// plan before is now the best plan. It gives up beyond limit patterns or work
// steps.
func (r *solver) enumerateBox(s []boxDuals, limit int, cuts bool, work int64) bool {
	plan, ok := searchEnumerated(r.p, nil, s, r.cost, limit, cuts, r.mt.Sub(work))
	if plan != nil {
		r.tryIncumbent(plan)
	}
	return ok
}

// searchEnumerated searches the box for a plan below cutoff by listing every maximal
// pattern that it could use by all of the duals, which share a box, and reports
// whether the search was complete.
func searchEnumerated(p *model.Problem, conflicts *knapsack.Conflicts, states []boxDuals, cutoff int64, limit int, cuts bool, mt *meter.Meter) ([]model.PatternCount, bool) {
	var filters []reducedCostFilter
	for _, s := range states {
		g, closed, ok := filterOf(p, s, cutoff)
		if closed {
			return nil, true
		}
		if ok {
			filters = append(filters, g)
		}
	}
	if pats, ok := enumerate(p, conflicts, states[0].box, filters, limit, mt); ok {
		return setcover.Solve(p, states[0].box, pats, cutoff, cuts, mt)
	}
	return nil, false
}

// enumerate lists the maximal patterns that all filters accept. It reports false when there are
// more than limit.
//
// They are the same whichever filter they are looked for by; but by one an enumeration may be a
// hundred times as long as by another, so each is tried with few visits first.
func enumerate(p *model.Problem, conflicts *knapsack.Conflicts, box bound.Box, filters []reducedCostFilter, limit int, mt *meter.Meter) ([]model.Pattern, bool) {
	most := mostVisits * limit
	visits := min(firstVisits, most)
	if len(filters) == 1 {
		visits = most
	}
	for {
		for k := range filters {
			pats, end := enumerateBy(p, conflicts, box, filters, k, limit, visits, mt)
			if end != gaveUp {
				return pats, end == listedAll
			}
		}
		if visits == most || !mt.Left() {
			return nil, false
		}
		visits = min(8*visits, most)
	}
}

// end is how an enumeration of patterns ended.
type end uint8

const (
	listedAll end = iota
	crowded       // more than the list may have
	gaveUp        // no visits or no work left
)

// enumerateBy is enumerate by filter k, the most valuable by it first, in so many visits at most.
func enumerateBy(p *model.Problem, conflicts *knapsack.Conflicts, box bound.Box, filters []reducedCostFilter, k, limit, visits int, mt *meter.Meter) ([]model.Pattern, end) {
	g := &filters[k]
	var targets []knapsack.Target
	for b, bin := range p.Bins {
		if box.Hi[b] > 0 {
			targets = append(targets, knapsack.Target{Cap: bin.Cap, Need: g.need[b]})
		}
	}
	var t knapsack.Table
	if !t.BuildFor(targets, p.Items, p.Demands(), g.dual, pricing.MaxLabels, mt) {
		return nil, gaveUp
	}
	type rated struct {
		model.Pattern
		rc int64
	}
	var found []rated
	visited := 0
	for b, bin := range p.Bins {
		if box.Hi[b] == 0 {
			continue
		}
		cost := bin.Cost * g.scale
		complete := t.Enumerate(bin.Cap, g.need[b], conflicts, mt, func(uses []model.Use, v int64) bool {
			if visited++; visited > visits {
				return false
			}
			for q := range filters {
				if q != k && !filters[q].accepts(b, uses) {
					return true
				}
			}
			pat := slices.Clone(uses)
			slices.Reverse(pat)
			if maximal(p, conflicts, pat, bin.Cap) {
				found = append(found, rated{model.Pattern{Bin: b, Uses: pat}, cost - v})
			}
			return len(found) <= limit
		})
		if len(found) > limit {
			return nil, crowded
		}
		if !complete {
			return nil, gaveUp
		}
	}
	slices.SortStableFunc(found, func(a, b rated) int { return cmp.Compare(a.rc, b.rc) })
	pats := make([]model.Pattern, len(found))
	for i := range found {
		pats[i] = found[i].Pattern
	}
	return pats, listedAll
}

// maximal reports whether no further item fits.
func maximal(p *model.Problem, conflicts *knapsack.Conflicts, uses []model.Use, cap int64) bool {
	residual := cap - p.Size(uses)
	k := len(uses) - 1
	for i := len(p.Items) - 1; i >= 0 && p.Items[i].Size <= residual; i-- {
		n := int64(0)
		for k >= 0 && uses[k].Item > i {
			k--
		}
		if k >= 0 && uses[k].Item == i {
			n = uses[k].N
		}
		if n >= p.Items[i].Demand {
			continue
		}
		if conflicts.MostOf(uses, i, 1) > 0 {
			return false
		}
	}
	return true
}
