// Package construct builds plans quickly, without looking back: first fit
// decreasing in the form that repeats each pattern as often as the demand
// allows, so that large demands cost no more than small ones.
package construct

import (
	"math/bits"

	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/model"
)

// Cost returns the total cost of the columns.
func Cost(p *model.Problem, cols []model.Column) int64 {
	var c int64
	for _, col := range cols {
		c += p.Bins[col.Bin].Cost * col.Count
	}
	return c
}

// Plans calls yield with one plan after another, each feasible and exact in
// demand, as the rules of thumb here give them.
func Plans(p *model.Problem, yield func(cols []model.Column)) {
	for _, rule := range []rule{cheapest, tightest} {
		if cols := greedy(p, rule); cols != nil {
			yield(cols)
		}
	}
	// Prefer one length above all others, wherever it will do.
	for b := range p.Bins {
		if cols := greedy(p, func(p *model.Problem, cand []candidate) int {
			for k := range cand {
				if cand[k].bin == b {
					return k
				}
			}
			return cheapest(p, cand)
		}); cols != nil {
			yield(cols)
		}
	}
}

type candidate struct {
	bin  int
	uses []model.Use
	used int64
}

type rule func(*model.Problem, []candidate) int

// cheapest picks the candidate of the least cost per size cut; rack sticks,
// which cost nothing, by the least waste.
func cheapest(p *model.Problem, cand []candidate) int {
	best := 0
	for k := 1; k < len(cand); k++ {
		a, b := &cand[k], &cand[best]
		ca, cb := p.Bins[a.bin].Cost, p.Bins[b.bin].Cost
		if s := cmpRatio(ca, a.used, cb, b.used); s < 0 ||
			s == 0 && cmpRatio(p.Bins[a.bin].Cap, a.used, p.Bins[b.bin].Cap, b.used) < 0 {
			best = k
		}
	}
	return best
}

// tightest picks the candidate that wastes the least of its stick.
func tightest(p *model.Problem, cand []candidate) int {
	best := 0
	for k := 1; k < len(cand); k++ {
		a, b := &cand[k], &cand[best]
		if cmpRatio(p.Bins[a.bin].Cap, a.used, p.Bins[b.bin].Cap, b.used) < 0 {
			best = k
		}
	}
	return best
}

// cmpRatio compares a/b with c/d for non-negative a, c and positive b, d.
func cmpRatio(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(d))
	h2, l2 := bits.Mul64(uint64(c), uint64(b))
	switch {
	case h1 != h2:
		if h1 < h2 {
			return -1
		}
		return 1
	case l1 < l2:
		return -1
	case l1 > l2:
		return 1
	}
	return 0
}

// greedy opens one stick after another for the longest item left, filled
// longest first, of the length that the rule picks among those that the item
// fits. It returns nil when the supply runs out.
func greedy(p *model.Problem, pick rule) []model.Column {
	left := make([]int64, len(p.Items))
	for i, it := range p.Items {
		left[i] = it.Demand
	}
	supply := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		supply[b] = bin.Limit
	}
	var cols []model.Column
	var cand []candidate
	for i := range p.Items {
		for left[i] > 0 {
			cand = cand[:0]
			for b, bin := range p.Bins {
				if supply[b] == 0 || bin.Cap < p.Items[i].Size {
					continue
				}
				uses := colgen.Fill(p, left, bin.Cap, nil)
				cand = append(cand, candidate{b, uses, p.Size(uses)})
			}
			if len(cand) == 0 {
				return nil
			}
			c := cand[pick(p, cand)]
			n := supply[c.bin]
			for _, u := range c.uses {
				n = min(n, left[u.Item]/u.N)
			}
			for _, u := range c.uses {
				left[u.Item] -= n * u.N
			}
			supply[c.bin] -= n
			cols = append(cols, model.Column{Pattern: model.Pattern{Bin: c.bin, Uses: c.uses}, Count: n})
		}
	}
	return Downsize(p, cols)
}

// Downsize moves each stick's pieces to the cheapest length that holds them
// and is still to be had, the roomiest use first served.
func Downsize(p *model.Problem, cols []model.Column) []model.Column {
	supply := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		supply[b] = bin.Limit
	}
	for _, c := range cols {
		supply[c.Bin] -= c.Count
	}
	for k := 0; k < len(cols); k++ {
		c := &cols[k]
		used := p.Size(c.Uses)
		best := c.Bin
		for b, bin := range p.Bins {
			if supply[b] > 0 && bin.Cap >= used &&
				(bin.Cost < p.Bins[best].Cost || bin.Cost == p.Bins[best].Cost && bin.Cap < p.Bins[best].Cap) {
				best = b
			}
		}
		if best == c.Bin {
			continue
		}
		n := min(c.Count, supply[best])
		supply[best] -= n
		supply[c.Bin] += n
		if n == c.Count {
			c.Bin = best
			continue
		}
		c.Count -= n
		cols = append(cols, model.Column{Pattern: model.Pattern{Bin: best, Uses: c.Uses}, Count: n})
	}
	return cols
}

// Exact takes from columns that cover the demand what is too much of it, the
// smallest sticks' worth first, so that each item is cut exactly as often as it
// is wanted. It reports false when the columns do not cover the demand or break
// a limit. Columns that end up empty are dropped.
func Exact(p *model.Problem, cols []model.Column) ([]model.Column, bool) {
	over := make([]int64, len(p.Items))
	for i, it := range p.Items {
		over[i] = -it.Demand
	}
	used := make([]int64, len(p.Bins))
	out := make([]model.Column, 0, len(cols))
	for _, c := range cols {
		if c.Count == 0 {
			continue
		}
		used[c.Bin] += c.Count
		for _, u := range c.Uses {
			over[u.Item] += u.N * c.Count
		}
		c.Uses = append([]model.Use(nil), c.Uses...)
		out = append(out, c)
	}
	for b, n := range used {
		if n > p.Bins[b].Limit {
			return nil, false
		}
	}
	for i := range over {
		if over[i] < 0 {
			return nil, false
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
				// n of the sticks give one piece less.
				rest := model.Column{Pattern: model.Pattern{Bin: c.Bin, Uses: append([]model.Use(nil), c.Uses...)}, Count: c.Count - n}
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
