package rules

import "slices"

// Trim removes surplus items from a plan, and returns its patterns and, for each run, its arcs.
// A pattern without some of its items is still allowed: see Problem.Exact.
func (p *Problem) Trim(plan []ColumnCount) ([]PatternCount, [][]int) {
	over, ways := p.surplus(plan)
	var out []PatternCount
	put := func(f Pattern, n int64) {
		if n > 0 && len(f.Uses) > 0 {
			out = append(out, PatternCount{Pattern: f, Count: n})
		}
	}
	// The least full patterns lose surplus items first.
	work := []PatternCount{}
	for _, q := range plan {
		if q.Column.Fill != nil {
			work = append(work, PatternCount{Pattern: Pattern{Bin: q.Column.Fill.Bin, Uses: slices.Clone(q.Column.Fill.Uses)}, Count: q.N})
		}
	}
	for len(work) > 0 {
		c := work[0]
		work = work[1:]
		// All of the count that can lose the same number.
		k := -1
		for i, u := range c.Uses {
			if over[u.Item] > 0 {
				k = i
				break
			}
		}
		if k < 0 {
			put(c.Pattern, c.Count)
			continue
		}
		i := c.Uses[k].Item
		take := min(over[i], c.Uses[k].N)
		times := min(c.Count, over[i]/take)
		less := Pattern{Bin: c.Bin, Uses: slices.Clone(c.Uses)}
		if less.Uses[k].N -= take; less.Uses[k].N == 0 {
			less.Uses = slices.Delete(less.Uses, k, k+1)
		}
		over[i] -= take * times
		if len(less.Uses) > 0 {
			work = append([]PatternCount{{Pattern: less, Count: times}}, work...)
		}
		if c.Count > times {
			work = append([]PatternCount{{Pattern: c.Pattern, Count: c.Count - times}}, work...)
		}
	}
	return out, ways
}

// surplus returns how many more of each item a plan produces than are wanted, by the problem and by
// the runs, and the assembly of each run.
func (p *Problem) surplus(plan []ColumnCount) (over []int64, assemblies [][]int) {
	over, assemblies = make([]int64, len(p.Items)), make([][]int, len(p.Runs))
	for i := range p.Items {
		over[i] = -p.Items[i].Demand
	}
	for _, q := range plan {
		if q.Column.Fill == nil {
			assemblies[q.Column.Run] = q.Column.Path
			for _, u := range p.Runs[q.Column.Run].Uses(q.Column.Path) {
				over[u.Item] -= q.N * u.N
			}
			continue
		}
		for _, u := range q.Column.Fill.Uses {
			over[u.Item] += q.N * u.N
		}
	}
	return over, assemblies
}

// Exactly reports whether a plan has no surplus items.
func (p *Problem) Exactly(plan []ColumnCount) bool {
	over, _ := p.surplus(plan)
	return !slices.ContainsFunc(over, func(n int64) bool { return n > 0 })
}

// Tidy removes surplus items from a plan if all patterns are still allowed without them.
func (p *Problem) Tidy(plan []ColumnCount) []ColumnCount {
	fills, ways := p.Trim(plan)
	var out []ColumnCount
	for r, w := range ways {
		c := p.Assembly(r, w)
		out = append(out, ColumnCount{&c, 1})
	}
next:
	for i := range fills {
		f := &fills[i]
		x, ok := p.Fill(&f.Pattern)
		if !ok {
			return plan
		}
		for k := len(ways); k < len(out); k++ {
			if g := out[k].Column.Fill; g.Bin == f.Bin && slices.Equal(g.Uses, f.Uses) {
				out[k].N += f.Count
				continue next
			}
		}
		out = append(out, ColumnCount{&Column{Fill: &f.Pattern, Cost: p.Costs(&f.Pattern, &x)}, f.Count})
	}
	return out
}
