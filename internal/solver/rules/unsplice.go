package rules

import "slices"

// Spliced reports whether some run can have splices.
func (p *Problem) Spliced() bool {
	for r := range p.Runs {
		if slices.ContainsFunc(p.Runs[r].Arcs, func(a Arc) bool { return a.Splices > 0 }) {
			return true
		}
	}
	return false
}

// Unspliced merges consecutive parts of a run that are cut from one bin, if an arc replaces
// both: one part fits in the place of two, and no criterion gets worse. Without it, splices
// that cost nothing could be anywhere.
func (p *Problem) Unspliced(plan []ColumnCount) []ColumnCount {
	own := false // plan is a copy
	for k := 0; k < len(plan); k++ {
		for plan[k].Column.Fill == nil {
			to, ok := p.unspliceOnce(plan, k)
			if !ok {
				break
			}
			if !own {
				plan, own = slices.Clone(plan), true
			}
			path, fill := to.path, to.fill
			plan[k].Column = &path
			if plan[to.at].N--; plan[to.at].N == 0 {
				plan[to.at] = ColumnCount{Column: &fill, N: 1}
			} else {
				plan = append(plan, ColumnCount{Column: &fill, N: 1})
			}
		}
	}
	return plan
}

// unspliced is a pattern and an assembly of a plan after two parts are merged.
type unspliced struct {
	at         int // index of the pattern in the plan
	path, fill Column
}

// unspliceOnce looks for two parts to merge in the assembly plan[k].
func (p *Problem) unspliceOnce(plan []ColumnCount, k int) (to unspliced, ok bool) {
	c := plan[k].Column
	run := &p.Runs[c.Run]
	for i := range len(c.Path) - 1 {
		x, y := &run.Arcs[c.Path[i]], &run.Arcs[c.Path[i+1]]
		z := run.both(x, y)
		if z < 0 {
			continue
		}
		for at, q := range plan {
			if q.Column.Fill == nil {
				continue
			}
			if fill, ok := p.withOne(q.Column, x.Item, y.Item, run.Arcs[z].Item); ok {
				path := slices.Concat(c.Path[:i], Path{z}, c.Path[i+2:])
				return unspliced{at, p.Assembly(c.Run, path), fill}, true
			}
		}
	}
	return to, false
}

// both returns the arc that replaces two consecutive ones at no higher cost, or -1.
func (r *Run) both(x, y *Arc) int {
	first, _ := slices.BinarySearchFunc(r.Arcs, x.From, func(a Arc, from int) int { return a.From - from })
	for a := first; a < len(r.Arcs) && r.Arcs[a].From == x.From; a++ {
		z := &r.Arcs[a]
		if z.To == y.To && x.N == 1 && y.N == 1 && z.N == 1 && z.Cost <= x.Cost+y.Cost && z.Splices <= x.Splices+y.Splices {
			return a
		}
	}
	return -1
}

// withOne returns a pattern with one z instead of one x and one y, unless that is not allowed
// or some criterion gets worse.
func (p *Problem) withOne(c *Column, x, y, z int) (Column, bool) {
	f := Pattern{Bin: c.Fill.Bin, Uses: slices.Clone(c.Fill.Uses)}
	for _, item := range [...]int{x, y} {
		k := slices.IndexFunc(f.Uses, func(u Use) bool { return u.Item == item })
		if k < 0 {
			return Column{}, false
		}
		if f.Uses[k].N--; f.Uses[k].N == 0 {
			f.Uses = slices.Delete(f.Uses, k, k+1)
		}
	}
	for w := range p.Items[z].Orientations {
		g := f.With(z, w, 1)
		size, ok := p.Fill(&g)
		if !ok {
			continue
		}
		out := Column{Fill: &g, Cost: p.Costs(&g, &size)}
		for k := range Criteria {
			ok = ok && out.Cost[k] <= c.Cost[k]
		}
		if ok {
			return out, true
		}
	}
	return Column{}, false
}
