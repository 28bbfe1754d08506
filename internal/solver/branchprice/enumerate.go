package branchprice

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// enumerate returns every column that a plan better than cutoff can use in the box, by all of
// the duals: the bound and the column's own reduced cost must stay below (compare R.
// Baldacci, S. Coniglio, J.-F. Cordeau, F. Furini, INFORMS Journal on Computing 36
// (2024) 141-162). It gives up beyond so many columns, and then puts those duals first that led to most
// of them.
func (m *master) enumerate(b box, by []duals, cutoff int64, most *listLimits, mt *meter.Meter) ([]rules.Column, bool) {
	var filters []reducedCostFilter
	for k := range by {
		g, closed := m.filterOf(&by[k], b, cutoff)
		if closed {
			return nil, true
		}
		filters = append(filters, g)
	}
	tries := min(len(by), most.tries)
	for k := range tries {
		// Each gives another list; the others shorten it.
		list, found, ok := m.enumerateBy(b, filters, k, most.columns, mt.Sub(int64(most.columns)*most.each))
		if ok {
			return list, true
		}
		by[k].found = found
	}
	slices.SortStableFunc(by[:tries], func(x, y duals) int { return cmp.Compare(y.found, x.found) })
	return nil, false
}

// enumerateBy returns the columns of filter k that the others take, too, those that gain most by it
// first, or else how many it came to.
func (m *master) enumerateBy(b box, filters []reducedCostFilter, k, limit int, mt *meter.Meter) (list []rules.Column, n int, ok bool) {
	p, s := m.p, filters[k].duals
	// Whether an item added to a pattern makes it no worse.
	plain := !p.Exact && !m.objective.Capped[rules.Salvage] && !m.objective.Capped[rules.Cuts] && m.objective.Main != rules.Salvage && m.objective.Main != rules.Cuts
	others := func(c *rules.Column) bool {
		for q := range filters {
			if q != k && !filters[q].accepts(p, c) {
				return false
			}
		}
		return true
	}
	type rated struct {
		c  rules.Column
		rc int64
	}
	var found []rated
	for kind, f := range m.knapsacks {
		var bins []int
		var need []int64
		for _, i := range m.binsOf[kind] {
			c := m.classOf[i]
			hi := b.hi[c]
			if g := m.supplierOf[c]; hi == 0 || g >= 0 && b.on[g] == no {
				continue
			}
			bins, need = append(bins, i), append(need, filters[k].need[i])
		}
		if len(bins) == 0 {
			continue
		}
		if !f.Build(bins, need, s.value, s.weight, mt) {
			return nil, len(found), false
		}
		for i, bin := range bins {
			saw := f.Enumerate(bin, need[i], mt, func(fill rules.Pattern, x rules.PatternSize, gain int64) bool {
				c := rules.Column{Fill: &fill, Cost: p.Costs(&fill, &x)}
				if !others(&c) || plain && !p.Maximal(&fill, &x) {
					return true
				}
				found = append(found, rated{c, max(0, s.best[bin]) - gain})
				return len(found) <= limit
			})
			if !saw {
				return nil, len(found), false
			}
		}
	}
	for r, x := range m.paths {
		cheapest := x.Price(s.value, &s.weight)
		if !x.Enumerate(filters[k].most[r], func(q rules.Path, cost int64) bool {
			if c := p.Assembly(r, q); others(&c) {
				found = append(found, rated{c, cost - cheapest})
			}
			return len(found) <= limit && mt.Spend(50)
		}) {
			return nil, len(found), false
		}
	}
	slices.SortStableFunc(found, func(a, b rated) int { return cmp.Compare(a.rc, b.rc) })
	out := make([]rules.Column, len(found))
	for i := range found {
		out[i] = found[i].c
	}
	return out, len(out), true
}

// openingCost returns what the bound of duals gains where at least one stick of the class is used.
func (m *master) openingCost(s *duals, c int, hi int64) int64 {
	cl := &m.p.Classes[c]
	each := s.weight[rules.Sticks]*cl.Count + s.weight[rules.Salvage]*cl.Idle
	for _, b := range cl.Bins {
		each -= max(0, s.best[b])
	}
	zero, _ := least(cl, 0, hi, s.weight[rules.Price], each)
	one, where := least(cl, 1, hi, s.weight[rules.Price], each)
	if where < 0 {
		return 0
	}
	v, ok := one.Sub(zero).Int64()
	if !ok {
		return 0
	}
	return max(0, v)
}
