package branchprice

import "slices"

// exact takes out of a plan what is more than wanted, and returns its patterns and,
// for each run, its arcs. A pattern from which items are taken is still one: see
// Problem.Exact.
func (p *Problem) exact(plan []columnCount) ([]PatternCount, [][]int) {
	over := make([]int64, len(p.Items))
	for i := range p.Items {
		over[i] = -p.Items[i].Demand
	}
	ways := make([][]int, len(p.Runs))
	for _, q := range plan {
		if q.column.fill == nil {
			ways[q.column.run] = q.column.path
			uses := p.Runs[q.column.run].uses(q.column.path)
			for _, u := range uses {
				over[u.Item] -= q.n * u.N
			}
			continue
		}
		for _, u := range q.column.fill.Uses {
			over[u.Item] += q.n * u.N
		}
	}
	var out []PatternCount
	put := func(f Pattern, n int64) {
		if n > 0 && len(f.Uses) > 0 {
			out = append(out, PatternCount{f, n})
		}
	}
	// The patterns that are least full first lose what is too much.
	work := []PatternCount{}
	for _, q := range plan {
		if q.column.fill != nil {
			work = append(work, PatternCount{Pattern{q.column.fill.Bin, slices.Clone(q.column.fill.Uses)}, q.n})
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
		less := Pattern{c.Bin, slices.Clone(c.Uses)}
		if less.Uses[k].N -= take; less.Uses[k].N == 0 {
			less.Uses = slices.Delete(less.Uses, k, k+1)
		}
		over[i] -= take * times
		if len(less.Uses) > 0 {
			work = append([]PatternCount{{less, times}}, work...)
		}
		if c.Count > times {
			work = append([]PatternCount{{c.Pattern, c.Count - times}}, work...)
		}
	}
	return out, ways
}

// tidy restates a plan without what is more than wanted, as far as that leaves
// every pattern one.
func (p *Problem) tidy(plan []columnCount) []columnCount {
	fills, ways := p.exact(plan)
	var out []columnCount
	for r, w := range ways {
		c := p.assembly(r, w)
		out = append(out, columnCount{&c, 1})
	}
next:
	for i := range fills {
		f := &fills[i]
		x, ok := p.Fill(&f.Pattern)
		if !ok {
			return plan
		}
		for k := len(ways); k < len(out); k++ {
			if g := out[k].column.fill; g.Bin == f.Bin && slices.Equal(g.Uses, f.Uses) {
				out[k].n += f.Count
				continue next
			}
		}
		out = append(out, columnCount{&column{fill: &f.Pattern, cost: p.costs(&f.Pattern, &x)}, f.Count})
	}
	return out
}
