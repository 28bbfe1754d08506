package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/rules"
)

// Reachable computes the costs below the incumbent's that plans in the box can have: sums of the costs of sticks by
// count, of charges, and of own costs of patterns and assemblies; nil if that is too much work or the criterion is not
// the price.
func (r *solver) Reachable(b bound.Box) *bound.ReachableCosts {
	if r.objective.Main != rules.Price || r.cost >= rules.NoCost {
		return nil
	}
	if r.plain != nil {
		return bound.Reachable(r.plain, b, r.cost, r.mt)
	}
	p := r.p
	var t bound.Terms
	total := int64(0)
	for c := range p.Classes {
		lo, hi := r.m.Range(b, c)
		_, first := p.Classes[c].Extra(lo)
		if total += hi - lo; total > listedCounts || first == rules.NoCost {
			return nil
		}
		t.Base += first
		if s := p.Classes[c].Stretches(lo, hi, r.cost); len(s) > 0 {
			t.OneOf = append(t.OneOf, s)
		}
		if hi > 0 {
			for _, bin := range p.Classes[c].Bins {
				t.AnyOf = append(t.AnyOf, p.Bins[bin].Own[rules.Price])
			}
		}
	}
	for g := range p.Suppliers {
		switch v := p.Suppliers[g].Charge; {
		case b.On[g] == bound.Yes:
			t.Base += v
		case b.On[g] == bound.Open && v > 0 && r.sells(g, b):
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
