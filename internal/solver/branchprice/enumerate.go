package branchprice

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/meter"
)

// enumerate returns every column that a plan better than cutoff can use in the box, by all of
// the duals: the bound and the column's own reduced cost must stay below (compare R.
// Baldacci, S. Coniglio, J.-F. Cordeau, F. Furini, INFORMS Journal on Computing 36
// (2024) 141-162). It gives up beyond limit columns.
func (m *master) enumerate(b box, by []duals, cutoff int64, limit int, mt *meter.Meter) ([]column, bool) {
	var filters []reducedCostFilter
	for k := range by {
		if by[k].scale == 0 {
			continue
		}
		g, closed := m.filterOf(&by[k], b, cutoff)
		if closed {
			return nil, true
		}
		filters = append(filters, g)
	}
	for k := range min(len(filters), mostLists) {
		// Each gives another list; the others shorten it.
		part := mt.Sub(int64(limit) * listSteps)
		if list, ok := m.enumerateBy(b, filters, k, limit, part); ok {
			return list, true
		}
	}
	return nil, false
}

// enumerateBy is enumerate by the columns of filter k that the others take, too, those that gain
// most by it first.
func (m *master) enumerateBy(b box, filters []reducedCostFilter, k, limit int, mt *meter.Meter) ([]column, bool) {
	p, s := m.p, filters[k].duals
	// Whether an item added to a pattern makes it no worse.
	plain := !p.Exact && !m.objective.capped[Salvage] && !m.objective.capped[Cuts] && m.objective.main != Salvage && m.objective.main != Cuts
	others := func(c *column) bool {
		for q := range filters {
			if q != k && !filters[q].accepts(p, c) {
				return false
			}
		}
		return true
	}
	type rated struct {
		c  column
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
		if !f.build(bins, need, s.value, s.weight, mt) {
			return nil, false
		}
		for i, bin := range bins {
			saw := f.enumerate(bin, need[i], mt, func(fill Pattern, x PatternSize, gain int64) bool {
				c := column{fill: &fill, cost: p.costs(&fill, &x)}
				if !others(&c) || plain && !p.maximal(&fill, &x) {
					return true
				}
				found = append(found, rated{c, max(0, s.best[bin]) - gain})
				return len(found) <= limit
			})
			if !saw {
				return nil, false
			}
		}
	}
	for r, x := range m.paths {
		cheapest := x.price(s.value, &s.weight)
		if !x.enumerate(filters[k].most[r], func(q path, cost int64) bool {
			if c := p.assembly(r, q); others(&c) {
				found = append(found, rated{c, cost - cheapest})
			}
			return len(found) <= limit && mt.Spend(50)
		}) {
			return nil, false
		}
	}
	slices.SortStableFunc(found, func(a, b rated) int { return cmp.Compare(a.rc, b.rc) })
	out := make([]column, len(found))
	for i := range found {
		out[i] = found[i].c
	}
	return out, true
}

// openingCost returns what the bound of duals gains where at least one stick of the class is used.
func (m *master) openingCost(s *duals, c int, hi int64) int64 {
	cl := &m.p.Classes[c]
	each := s.weight[Sticks]*cl.Count + s.weight[Salvage]*cl.Idle
	for _, b := range cl.Bins {
		each -= max(0, s.best[b])
	}
	zero, _ := least(cl, 0, hi, s.weight[Price], each)
	one, where := least(cl, 1, hi, s.weight[Price], each)
	if where < 0 {
		return 0
	}
	v, ok := one.Sub(zero).Int64()
	if !ok {
		return 0
	}
	return max(0, v)
}

// maximal reports whether no further item fits.
func (p *Problem) maximal(f *Pattern, x *PatternSize) bool {
	if p.Items[f.Uses[0].Item].Alone {
		return true
	}
	k := &p.Kinds[p.Bins[f.Bin].Kind]
	residual := p.Bins[f.Bin].Cap - x.Size
	if len(p.Setbacks) == 0 && k.Part[0] == 0 {
		j := 0
		for i := range p.Items {
			n := int64(0)
			if j < len(f.Uses) && f.Uses[j].Item == i {
				n = f.Uses[j].N
				j++
			}
			it := &p.Items[i]
			if n < it.Most && it.Orientations[0].Size <= residual && !it.Alone && (k.Barred == nil || !k.Barred[i]) && (k.Most == 0 || x.Pieces+it.Pieces <= k.Most) {
				return false
			}
		}
		return true
	}
	top := p.deepest()
	for i := range p.Items {
		it := &p.Items[i]
		if it.Alone || it.Offcut > 0 || k.Barred != nil && k.Barred[i] {
			continue
		}
		n := int64(0)
		for _, u := range f.Uses {
			if u.Item == i {
				n += u.N
			}
		}
		if n >= it.Most {
			continue
		}
		for w := range it.Orientations {
			if it.Orientations[w].Size-2*top > residual {
				continue
			}
			g := f.with(i, w, 1)
			if _, ok := p.Fill(&g); ok {
				return false
			}
		}
	}
	return true
}

// with returns the pattern with n more of an item.
func (f *Pattern) with(item, way int, n int64) Pattern {
	g := Pattern{f.Bin, make([]Use, 0, len(f.Uses)+1)}
	put := false
	for _, u := range f.Uses {
		if !put && (u.Item > item || u.Item == item && u.Orient >= way) {
			put = true
			if u.Item == item && u.Orient == way {
				u.N += n
			} else {
				g.Uses = append(g.Uses, Use{item, way, n})
			}
		}
		g.Uses = append(g.Uses, u)
	}
	if !put {
		g.Uses = append(g.Uses, Use{item, way, n})
	}
	return g
}
