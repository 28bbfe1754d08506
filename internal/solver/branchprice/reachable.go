package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/bound"
)

// reachableCosts works out what plans in the box below the best plan's cost can cost: sums of what
// so many sticks of each class cost, of charges, and of what patterns and assemblies cost; nil
// where that is too much work or the criterion is another.
func (r *solver) reachableCosts(b box) *bound.ReachableCosts {
	if r.objective.main != Price || r.cost >= noCost {
		return nil
	}
	p := r.p
	var t bound.Terms
	total := int64(0)
	for c := range p.Classes {
		hi := b.hi[c]
		if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no {
			hi = 0
		}
		lo := min(b.lo[c], hi)
		_, first := p.Classes[c].buy(lo)
		if total += hi - lo; total > listedCounts || first == noCost {
			return nil
		}
		t.Base += first
		if s := p.Classes[c].stretches(lo, hi, r.cost); len(s) > 0 {
			t.OneOf = append(t.OneOf, s)
		}
		if hi > 0 {
			for _, bin := range p.Classes[c].Bins {
				t.AnyOf = append(t.AnyOf, p.Bins[bin].Own[Price])
			}
		}
	}
	for g := range p.Suppliers {
		switch v := p.Suppliers[g].Charge; {
		case b.on[g] == yes:
			t.Base += v
		case b.on[g] == open && v > 0:
			t.OneOf = append(t.OneOf, []bound.Stretch{{Step: v, Count: 1}})
		}
	}
	for k := range p.Runs {
		for _, a := range p.Runs[k].Arcs {
			t.AnyOf = append(t.AnyOf, a.Cost)
		}
	}
	slices.Sort(t.AnyOf)
	t.AnyOf = slices.Compact(t.AnyOf)
	if len(t.AnyOf) > 0 && t.AnyOf[0] < 0 {
		return nil
	}
	r.mt.Spend(total)
	return t.Reachable(r.cost, r.mt)
}

// stretches returns what more sticks than lo cost on top of that, from none to as many as hi or as
// may be had for so much, in stretches of even steps; none where they cost nothing.
func (c *StockClass) stretches(lo, hi, most int64) (out []bound.Stretch) {
	_, first := c.buy(lo)
	costs := []int64{0}
	for n := lo + 1; n <= hi; n++ {
		_, v := c.buy(n)
		if v -= first; v < noCost/2 && v != costs[len(costs)-1] {
			if v < 0 || v > most {
				break
			}
			costs = append(costs, v)
		}
	}
	for i := 0; i+1 < len(costs); {
		s := bound.Stretch{From: costs[i], Step: costs[i+1] - costs[i], Count: 1}
		for i++; i+1 < len(costs) && costs[i+1]-costs[i] == s.Step; i++ {
			s.Count++
		}
		out = append(out, s)
	}
	return out
}
