package branchprice

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/setcover"
)

// covering is a list of patterns as nothing but a problem of covering: each pattern of a bin costs
// the same, and any of them may lose items. The search of package setcover has cuts, which the one
// for columns of any family lacks.
type covering struct {
	model model.Problem
	box   bound.Box
	pats  []model.Pattern
	of    []int32 // pattern -> column of the list
	base  int64   // of every plan in the box, on top
}

// coveringOf states the list so; false if it is more than that: with runs, with patterns that cost
// more than others of their bin, with limits on other criteria, with sticks that give several
// bins or whose cost is not a constant and a price each. That patterns may have to keep what they
// hold (Problem.Exact) is left aside.
func coveringOf(p *Problem, a objective, b box, list []column) (*covering, bool) {
	if len(p.Runs) > 0 || a.main != Price || a.capped != [criteria]bool{} {
		return nil, false
	}
	c := &covering{}
	hi := slices.Clone(b.hi)
	for g := range p.Suppliers {
		for _, k := range p.Suppliers[g].Classes {
			if b.on[g] == no {
				hi[k] = 0
			} else if b.on[g] == open && hi[k] > 0 && p.Suppliers[g].Charge > 0 {
				return nil, false
			}
		}
		if b.on[g] == yes {
			c.base += p.Suppliers[g].Charge
		}
	}
	c.model.Bins = make([]model.Bin, len(p.Bins))
	c.box = bound.Box{Lo: make([]int64, len(p.Bins)), Hi: make([]int64, len(p.Bins))}
	for k := range p.Classes {
		base, each, ok := p.Classes[k].affine(min(b.lo[k], hi[k]), hi[k])
		lo, bins := min(b.lo[k], hi[k]), p.Classes[k].Bins
		switch {
		case !ok || each < 0:
			return nil, false
		case len(bins) != 1 && lo < hi[k]:
			return nil, false
		case len(bins) != 1:
			lo = 0 // so many are bought, whichever of their bins are used
		}
		c.base += base
		for _, bin := range bins {
			c.model.Bins[bin] = model.Bin{Cost: each, Limit: hi[k]}
			c.box.Lo[bin], c.box.Hi[bin] = lo, hi[k]
		}
	}
	item := make([]int, len(p.Items))
	for i := range p.Items {
		item[i] = -1
		if it := &p.Items[i]; it.Demand > 0 {
			item[i] = len(c.model.Items)
			c.model.Items = append(c.model.Items, model.Item{Size: max(1, it.Orientations[0].Size), Demand: it.Demand})
		}
	}
	own := make([]int64, len(p.Bins))
	seen := make([]bool, len(p.Bins))
	for j := range list {
		f := list[j].fill
		if f == nil || seen[f.Bin] && own[f.Bin] != list[j].cost[Price] || list[j].cost[Price] < 0 {
			return nil, false
		}
		seen[f.Bin], own[f.Bin] = true, list[j].cost[Price]
		var uses []model.Use
		for _, u := range f.Uses {
			i := item[u.Item]
			if i < 0 {
				continue
			}
			if n := len(uses); n > 0 && uses[n-1].Item == i {
				uses[n-1].N += u.N
			} else {
				uses = append(uses, model.Use{Item: i, N: u.N})
			}
		}
		if len(uses) > 0 {
			c.pats, c.of = append(c.pats, model.Pattern{Bin: f.Bin, Uses: uses}), append(c.of, int32(j))
			// No rule of the kind and no end that nests makes a pattern larger than its bin here.
			c.model.Bins[f.Bin].Cap = max(c.model.Bins[f.Bin].Cap, c.model.Size(uses))
		}
	}
	for bin := range own {
		c.model.Bins[bin].Cost += own[bin]
	}
	return c, true
}

// solve returns the cheapest plan below cutoff that the list covers, nil when there is none, and
// whether that is certain.
func (c *covering) solve(list []column, cutoff int64, mt *meter.Meter) (plan []columnCount, complete bool) {
	cols, complete := setcover.Solve(&c.model, c.box, c.pats, cutoff-c.base, true, mt)
	for _, col := range cols {
		// What is too much was taken off: some column of the list holds all that is left.
		k := slices.IndexFunc(c.pats, func(q model.Pattern) bool { return q.Bin == col.Bin && within(col.Uses, q.Uses) })
		if k < 0 {
			return nil, false
		}
		plan = append(plan, columnCount{&list[c.of[k]], col.Count})
	}
	return plan, complete
}

// within reports whether b has as many of each item as a.
func within(a, b []model.Use) bool {
	for _, u := range a {
		if !slices.ContainsFunc(b, func(v model.Use) bool { return v.Item == u.Item && v.N >= u.N }) {
			return false
		}
	}
	return true
}
