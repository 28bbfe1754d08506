package branchprice

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/meter"
)

// listed returns every column that a plan better than cutoff can use in the
// master's box, by the bound of its last solve: the bound and the column's own
// reduced cost must stay below (compare R. Baldacci, S. Coniglio, J.-F. Cordeau, F.
// Furini, INFORMS Journal on Computing 36 (2024) 141-162). It gives up beyond limit
// columns.
func (m *master) listed(cutoff int64, limit int, mt *meter.Meter) ([]column, bool) {
	if m.scale == 0 {
		return nil, false
	}
	p := m.p
	left := m.num
	left.AddMul(m.scale, -(cutoff - 1 + offset))
	r, ok := left.Int64()
	if !ok || r < -(1<<60) {
		r = -(1 << 60) // no plan is known: every column may be in one
	}
	room := -r
	if room < 0 {
		return nil, true
	}
	// Whether an item added to a filling makes it no worse.
	plain := !p.Exact && !m.aim.capped[Worth] && !m.aim.capped[Cuts] && m.aim.main != Worth && m.aim.main != Cuts
	type rated struct {
		c  column
		rc int64
	}
	var found []rated
	full := false
	for k, f := range m.fillers {
		var bins []int
		var need []int64
		for _, b := range m.binsOf[k] {
			c := m.classOf[b]
			hi := m.box.hi[c]
			if g := m.seller[c]; hi == 0 || g >= 0 && m.box.on[g] == no {
				continue
			}
			n := max(0, m.best[b]) - room
			if m.box.lo[c] == 0 {
				n += m.opening(c)
			}
			bins, need = append(bins, b), append(need, n)
		}
		if len(bins) == 0 {
			continue
		}
		if !f.build(bins, need, m.value, m.weight, mt) {
			return nil, false
		}
		for i, b := range bins {
			saw := f.walk(b, need[i], mt, func(fill Filling, x Filled, gain int64) bool {
				if plain && !p.maximal(&fill, &x) {
					return true
				}
				found = append(found, rated{column{fill: &fill, cost: p.costs(&fill, &x)}, max(0, m.best[b]) - gain})
				full = len(found) > limit
				return !full
			})
			if !saw {
				return nil, false
			}
		}
	}
	for r, x := range m.runners {
		cheapest := x.price(m.value, &m.weight)
		if !x.walk(cheapest+room, func(q path, cost int64) bool {
			found = append(found, rated{p.way(r, q), cost - cheapest})
			full = len(found) > limit
			return !full && mt.Spend(50)
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

// opening returns what the bound gains where at least one stick of the class is used.
func (m *master) opening(c int) int64 {
	cl := &m.p.Classes[c]
	each := m.weight[Sticks]*cl.Count + m.weight[Worth]*cl.Idle
	for _, b := range cl.Bins {
		each -= max(0, m.best[b])
	}
	zero, _ := least(cl, 0, m.box.hi[c], m.weight[Price], each)
	one, where := least(cl, 1, m.box.hi[c], m.weight[Price], each)
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
func (p *Problem) maximal(f *Filling, x *Filled) bool {
	if p.Items[f.Uses[0].Item].Alone {
		return true
	}
	k := &p.Kinds[p.Bins[f.Bin].Kind]
	room := p.Bins[f.Bin].Cap - x.Size
	if len(p.Setbacks) == 0 && k.Part[0] == 0 {
		j := 0
		for i := range p.Items {
			n := int64(0)
			if j < len(f.Uses) && f.Uses[j].Item == i {
				n = f.Uses[j].N
				j++
			}
			it := &p.Items[i]
			if n < it.Most && it.Ways[0].Size <= room && !it.Alone && (k.Bars == nil || !k.Bars[i]) && (k.Most == 0 || x.Pieces+it.Pieces <= k.Most) {
				return false
			}
		}
		return true
	}
	top := p.deepest()
	for i := range p.Items {
		it := &p.Items[i]
		if it.Alone || it.Offcut > 0 || k.Bars != nil && k.Bars[i] {
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
		for w := range it.Ways {
			if it.Ways[w].Size-2*top > room {
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

// with returns the filling with n more of an item.
func (f *Filling) with(item, way int, n int64) Filling {
	g := Filling{f.Bin, make([]Use, 0, len(f.Uses)+1)}
	put := false
	for _, u := range f.Uses {
		if !put && (u.Item > item || u.Item == item && u.Way >= way) {
			put = true
			if u.Item == item && u.Way == way {
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
