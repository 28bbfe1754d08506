package master

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
)

// Filter says what a column must gain by some duals to be part of a plan that costs less
// than some cutoff.
type Filter struct {
	*Duals
	need []int64 // per place
}

// FilterOf returns the filter that duals give in a box, or that they rule out such plans by
// themselves.
func (m *Master) FilterOf(d *Duals, b bound.Box, cutoff int64) (g Filter, closed bool) {
	left := m.Numerator(d, b)
	left.AddMul(d.Scale, -(cutoff - 1))
	r, ok := left.Int64()
	if !ok || r < -(1<<60) {
		r = -(1 << 60) // no plan is known: every column may be in one
	}
	gap := -r
	if gap < 0 {
		return g, true
	}
	g = Filter{d, make([]int64, len(d.Best))}
	for i, best := range d.Best {
		if i >= len(m.P.Bins) {
			g.need[i] = best - gap
			continue
		}
		c := m.classOf[i]
		_, hi := m.Range(b, c)
		if hi == 0 {
			g.need[i] = pricing.Closed
			continue
		}
		g.need[i] = max(0, best) - gap
		if b.Lo[c] == 0 {
			g.need[i] += m.Opening(d, c, hi)
		}
	}
	return g, false
}

// Accepts reports whether a column gains enough.
func (g *Filter) Accepts(p *rules.Problem, c *rules.Column) bool {
	gain, place := int64(0), 0
	for k, w := range g.Weight {
		gain -= w * c.Cost[k]
	}
	if c.Fill == nil {
		place = len(p.Bins) + c.Run
		for _, u := range p.Runs[c.Run].Uses(c.Path) {
			gain -= u.N * g.Item[u.Item]
		}
	} else {
		place = c.Fill.Bin
		for _, u := range c.Fill.Uses {
			gain += u.N * g.Item[u.Item]
		}
	}
	return gain >= g.need[place]
}

// Enumerate returns every column that a plan better than cutoff can use in the box, by all of
// the duals: the bound and the column's own reduced cost must stay below (compare R.
// Baldacci, S. Coniglio, J.-F. Cordeau, F. Furini, INFORMS Journal on Computing 36
// (2024) 141-162). It looks for them by the first of the duals, and by others where that takes more than
// so many steps or leads to more columns than the limit; it gives up after so many tries, and then puts those duals first
// that led to most.
func (m *Master) Enumerate(b bound.Box, by []Duals, cutoff int64, limit, tries int, steps int64, mt *meter.Meter) ([]rules.Column, bool) {
	var filters []Filter
	for k := range by {
		g, closed := m.FilterOf(&by[k], b, cutoff)
		if closed {
			return nil, true
		}
		filters = append(filters, g)
	}
	tries = min(len(by), tries)
	for k := range tries {
		// Each gives another list; the others shorten it.
		list, found, ok := m.enumerateBy(filters, k, limit, mt.Sub(steps))
		if ok {
			return list, true
		}
		by[k].Found = found
	}
	slices.SortStableFunc(by[:tries], func(x, y Duals) int { return cmp.Compare(y.Found, x.Found) })
	return nil, false
}

// enumerateBy returns the columns of filter k that the others take, too, those that gain most by it
// first, or else how many it came to.
func (m *Master) enumerateBy(filters []Filter, k, limit int, mt *meter.Meter) (list []rules.Column, n int, ok bool) {
	p, g := m.P, &filters[k]
	// Whether an item added to a pattern makes it no worse.
	a := &m.Objective
	plain := !p.Exact && !a.Capped[rules.Salvage] && !a.Capped[rules.Cuts] && a.Main != rules.Salvage && a.Main != rules.Cuts
	type rated struct {
		c  rules.Column
		rc int64
	}
	var found []rated
	prices := pricing.Prices{Item: g.Item, Weight: g.Weight, Need: g.need, Limit: m.prices.Limit}
	best := make([]int64, len(g.Best))
	for _, o := range m.oracles {
		if !o.Build(&prices, best, nil, mt) {
			return nil, len(found), false
		}
		for _, place := range o.Places() {
			if g.need[place] == pricing.Closed {
				continue
			}
			top := g.Best[place]
			if place < len(p.Bins) {
				top = max(0, top)
			}
			if !o.Enumerate(place, g.need[place], mt, func(c rules.Column, gain int64) bool {
				for q := range filters {
					if q != k && !filters[q].Accepts(p, &c) {
						return true
					}
				}
				if c.Fill != nil && plain {
					if x, ok := p.Fill(c.Fill); ok && !p.Maximal(c.Fill, &x) {
						return true
					}
				}
				found = append(found, rated{c, top - gain})
				return len(found) <= limit
			}) {
				return nil, len(found), false
			}
		}
	}
	slices.SortStableFunc(found, func(a, b rated) int { return cmp.Compare(a.rc, b.rc) })
	out := make([]rules.Column, len(found))
	for i := range found {
		out[i] = found[i].c
	}
	return out, len(out), true
}
