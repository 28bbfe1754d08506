package model

// Cost returns the total cost of a plan.
func Cost(p *Problem, cols []PatternCount) int64 {
	var c int64
	for _, col := range cols {
		c += p.Bins[col.Bin].Cost * col.Count
	}
	return c
}

// Exact removes surplus from columns that cover the demand, first from the smallest sticks, so
// that each item is cut exactly in its demand. It reports false if the columns do not cover the
// demand or exceed a limit. Empty columns are dropped.
func Exact(p *Problem, cols []PatternCount) ([]PatternCount, bool) {
	over, ok := surplus(p, cols)
	if !ok {
		return nil, false
	}
	out := make([]PatternCount, 0, len(cols))
	for _, c := range cols {
		if c.Count > 0 {
			c.Uses = append([]Use(nil), c.Uses...)
			out = append(out, c)
		}
	}
	for k := 0; k < len(out); k++ {
		for t := 0; t < len(out[k].Uses); t++ {
			c := &out[k]
			u := &c.Uses[t]
			if over[u.Item] == 0 {
				continue
			}
			if cut := min(u.N, over[u.Item]/c.Count); cut > 0 {
				u.N -= cut
				over[u.Item] -= cut * c.Count
			}
			if n := over[u.Item]; n > 0 && u.N > 0 && n < c.Count {
				// n of the sticks yield one piece less.
				rest := PatternCount{Pattern: Pattern{Bin: c.Bin, Uses: append([]Use(nil), c.Uses...)}, Count: c.Count - n}
				u.N--
				c.Count = n
				over[u.Item] = 0
				out = append(out, rest)
			}
		}
	}
	kept := out[:0]
	for _, c := range out {
		uses := c.Uses[:0]
		for _, u := range c.Uses {
			if u.N > 0 {
				uses = append(uses, u)
			}
		}
		if c.Uses = uses; len(uses) > 0 {
			kept = append(kept, c)
		}
	}
	return kept, true
}

// surplus returns how many more of each item a plan produces than are wanted. It reports false if
// it produces too few of one or uses too many of a bin.
func surplus(p *Problem, cols []PatternCount) (over []int64, ok bool) {
	over, used := make([]int64, len(p.Items)), make([]int64, len(p.Bins))
	for _, c := range cols {
		used[c.Bin] += c.Count
		for _, u := range c.Uses {
			over[u.Item] += u.N * c.Count
		}
	}
	for b, n := range used {
		if n > p.Bins[b].Limit {
			return nil, false
		}
	}
	for i, it := range p.Items {
		if over[i] -= it.Demand; over[i] < 0 {
			return nil, false
		}
	}
	return over, true
}
