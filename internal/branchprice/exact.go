package branchprice

import "slices"

// exact takes out of a plan what is more than wanted, and returns its fillings and,
// for each run, its arcs. A filling from which items are taken is still one: see
// Problem.Exact.
func (p *Problem) exact(plan []pick) ([]Column, [][]int) {
	over := make([]int64, len(p.Items))
	for i := range p.Items {
		over[i] = -p.Items[i].Demand
	}
	ways := make([][]int, len(p.Runs))
	for _, q := range plan {
		if q.col.fill == nil {
			ways[q.col.run] = q.col.path
			uses := p.Runs[q.col.run].uses(q.col.path)
			for _, u := range uses {
				over[u.Item] -= q.n * u.N
			}
			continue
		}
		for _, u := range q.col.fill.Uses {
			over[u.Item] += q.n * u.N
		}
	}
	var out []Column
	put := func(f Filling, n int64) {
		if n > 0 && len(f.Uses) > 0 {
			out = append(out, Column{f, n})
		}
	}
	// The fillings that are least full first lose what is too much.
	work := []Column{}
	for _, q := range plan {
		if q.col.fill != nil {
			work = append(work, Column{Filling{q.col.fill.Bin, slices.Clone(q.col.fill.Uses)}, q.n})
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
			put(c.Filling, c.Count)
			continue
		}
		i := c.Uses[k].Item
		take := min(over[i], c.Uses[k].N)
		times := min(c.Count, over[i]/take)
		less := Filling{c.Bin, slices.Clone(c.Uses)}
		if less.Uses[k].N -= take; less.Uses[k].N == 0 {
			less.Uses = slices.Delete(less.Uses, k, k+1)
		}
		over[i] -= take * times
		if len(less.Uses) > 0 {
			work = append([]Column{{less, times}}, work...)
		}
		if c.Count > times {
			work = append([]Column{{c.Filling, c.Count - times}}, work...)
		}
	}
	return out, ways
}

// tidy restates a plan without what is more than wanted, as far as that leaves
// every filling one.
func (p *Problem) tidy(plan []pick) []pick {
	fills, ways := p.exact(plan)
	var out []pick
	for r, w := range ways {
		c := p.way(r, w)
		out = append(out, pick{&c, 1})
	}
next:
	for i := range fills {
		f := &fills[i]
		x, ok := p.Fill(&f.Filling)
		if !ok {
			return plan
		}
		for k := len(ways); k < len(out); k++ {
			if g := out[k].col.fill; g.Bin == f.Bin && slices.Equal(g.Uses, f.Uses) {
				out[k].n += f.Count
				continue next
			}
		}
		out = append(out, pick{&column{fill: &f.Filling, cost: p.costs(&f.Filling, &x)}, f.Count})
	}
	return out
}
