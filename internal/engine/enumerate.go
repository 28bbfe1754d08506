package engine

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/cover"
	"example.com/longpoint/internal/dual"
	"example.com/longpoint/internal/knapsack"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/model"
)

// state is what a bound of a box rests on.
type state struct {
	box   dual.Box
	value []int64
	best  []int64 // per bin: no pattern is worth more
	scale int64
}

func rootState(m *colgen.Master) state {
	return state{m.Box.Clone(), slices.Clone(m.Value), slices.Clone(m.Best), m.Scale}
}

// gauge says what a pattern must be worth to be part of a plan that costs less
// than some cutoff.
type gauge struct {
	value []int64 // of items, > 0
	need  []int64 // of bins
	scale int64   // of both
}

// gaugeOf returns the gauge that a bound gives, or that the bound itself rules
// out such plans.
//
// A pattern of value V in bin b can be part of a plan below cutoff only if the
// Lagrangian bound plus its own reduced cost stays below: compare R. Baldacci,
// S. Coniglio, J.-F. Cordeau, F. Furini, A numerically exact algorithm for the
// bin-packing problem, INFORMS Journal on Computing 36 (2024) 141-162.
func gaugeOf(p *model.Problem, s state, cutoff int64) (g gauge, closed, ok bool) {
	if s.scale == 0 || cutoff >= noPlan {
		return g, false, false
	}
	// Items without worth must be part of patterns too.
	g.value = slices.Clone(s.value)
	for i := range g.value {
		g.value[i] = max(g.value[i], 1)
	}
	// The bound by the state's own prices, loosened by what was added.
	best := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		if s.box.Hi[b] == 0 {
			continue
		}
		best[b] = s.best[b]
		for i, it := range p.Items {
			if s.value[i] == 0 {
				best[b] += min(it.Demand, bin.Cap/it.Size)
			}
		}
	}
	num := dual.Numerator(p, s.box, g.value, best, s.scale)
	if num.CeilDiv(s.scale) >= cutoff {
		return g, true, true
	}
	if _, ok := num.Int64(); !ok {
		return g, false, false
	}
	// Of a few hundred sticks the cost at the finest scale leaves 63 bits.
	num.AddMul(s.scale, -(cutoff - 1))
	lack, ok := num.Int64()
	if !ok || lack == math.MinInt64 {
		return g, false, false
	}
	room := -lack
	g.scale, g.need = s.scale, make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		g.need[b] = best[b]
		if s.box.Lo[b] == 0 {
			g.need[b] = max(g.need[b], bin.Cost*s.scale) // the bound does not count this bin yet
		}
		g.need[b] = max(g.need[b]-room, 0)
	}
	return g, false, true
}

// takes reports whether a pattern is worth enough.
func (g *gauge) takes(bin int, uses []model.Use) bool {
	v := int64(0)
	for _, u := range uses {
		v += u.N * g.value[u.Item]
	}
	return v >= g.need[bin]
}

// list lists the patterns that a better plan in the box could use and searches
// them. It reports whether the box is closed: whatever is better than the best
// plan before is now the best plan. It gives up beyond limit patterns or work
// steps.
func (r *run) list(s []state, limit int, cuts bool, work int64) bool {
	plan, ok := enumerated(r.p, nil, s, r.cost, limit, cuts, r.mt.Sub(work))
	if plan != nil {
		r.offer(plan)
	}
	return ok
}

// enumerated searches the box for a plan below cutoff by listing every maximal
// pattern that it could use by all of the states, which share a box, and reports
// whether the search was complete.
func enumerated(p *model.Problem, apart *knapsack.Pairs, states []state, cutoff int64, limit int, cuts bool, mt *meter.Meter) ([]model.Column, bool) {
	var gauges []gauge
	for _, s := range states {
		g, closed, ok := gaugeOf(p, s, cutoff)
		if closed {
			return nil, true
		}
		if ok {
			gauges = append(gauges, g)
		}
	}
	if pats, ok := listed(p, apart, states[0].box, gauges, limit, mt); ok {
		return cover.Solve(p, states[0].box, pats, cutoff, cuts, mt)
	}
	return nil, false
}

// A walk by one gauge may meet so many patterns: at first, and at the end for each of those
// that a list may have.
const (
	firstVisits = 1_000
	mostVisits  = 20
)

// listed lists the maximal patterns that all gauges take. It reports false when there are
// more than limit.
//
// They are the same whichever gauge they are looked for by; but by one a walk may be a
// hundred times as long as by another, so each is tried with few visits first.
func listed(p *model.Problem, apart *knapsack.Pairs, box dual.Box, gauges []gauge, limit int, mt *meter.Meter) ([]model.Pattern, bool) {
	most := mostVisits * limit
	visits := min(firstVisits, most)
	if len(gauges) == 1 {
		visits = most
	}
	for {
		for k := range gauges {
			pats, end := listedBy(p, apart, box, gauges, k, limit, visits, mt)
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

// end is how a walk over patterns ended.
type end uint8

const (
	listedAll end = iota
	crowded       // more than the list may have
	gaveUp        // no visits or no work left
)

// listedBy is listed by gauge k, the most valuable by it first, in so many visits at most.
func listedBy(p *model.Problem, apart *knapsack.Pairs, box dual.Box, gauges []gauge, k, limit, visits int, mt *meter.Meter) ([]model.Pattern, end) {
	g := &gauges[k]
	var targets []knapsack.Target
	for b, bin := range p.Bins {
		if box.Hi[b] > 0 {
			targets = append(targets, knapsack.Target{Cap: bin.Cap, Need: g.need[b]})
		}
	}
	var t knapsack.Table
	if !t.BuildFor(targets, p.Items, p.Demands(), g.value, colgen.MaxSteps, mt) {
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
		complete := t.Walk(bin.Cap, g.need[b], apart, mt, func(uses []model.Use, v int64) bool {
			if visited++; visited > visits {
				return false
			}
			for q := range gauges {
				if q != k && !gauges[q].takes(b, uses) {
					return true
				}
			}
			pat := slices.Clone(uses)
			slices.Reverse(pat)
			if maximal(p, apart, pat, bin.Cap) {
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
func maximal(p *model.Problem, apart *knapsack.Pairs, uses []model.Use, cap int64) bool {
	room := cap - p.Size(uses)
	k := len(uses) - 1
	for i := len(p.Items) - 1; i >= 0 && p.Items[i].Size <= room; i-- {
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
		if apart.Room(uses, i, 1) > 0 {
			return false
		}
	}
	return true
}
