package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/model"
)

// residualProblem is a problem over some of the items of another.
type residualProblem struct {
	model.Problem
	item []int // of the part -> of the whole
}

// residualOf is the problem of cutting what is left with the sticks that cols do not
// use. It returns nil when there is nothing left or no stick.
func residualOf(p *model.Problem, left []int64, cols []model.PatternCount) *residualProblem {
	var q residualProblem
	pieces := int64(0)
	for i, n := range left {
		if n > 0 {
			q.Items = append(q.Items, model.Item{Size: p.Items[i].Size, Demand: n})
			q.item = append(q.item, i)
			pieces += n
		}
	}
	if pieces == 0 {
		return nil
	}
	q.Bins = slices.Clone(p.Bins)
	for _, c := range cols {
		q.Bins[c.Bin].Limit -= c.Count
	}
	for b := range q.Bins {
		q.Bins[b].Limit = min(q.Bins[b].Limit, pieces)
	}
	return &q
}

// original restates a plan of the part in terms of the whole.
func (q *residualProblem) original(cols []model.PatternCount) []model.PatternCount {
	out := make([]model.PatternCount, len(cols))
	for k, c := range cols {
		uses := make([]model.Use, len(c.Uses))
		for t, u := range c.Uses {
			uses[t] = model.Use{Item: q.item[u.Item], N: u.N}
		}
		out[k] = model.PatternCount{Pattern: model.Pattern{Bin: c.Bin, Uses: uses}, Count: c.Count}
	}
	return out
}

// neighborhoodSearch takes a few sticks of the best plan at a time, those that the duals
// call dear rather than others, and plans their pieces anew. It gives up after
// so many tries in a row without success.
func (r *solver) neighborhoodSearch(tries int) {
	if r.plan == nil {
		return
	}
	for fails := 0; fails < tries && !r.done(); {
		if r.tryNeighborhood() {
			fails = 0
		} else {
			fails++
		}
	}
}

// tryNeighborhood tries one set of sticks and reports whether that made a better plan.
func (r *solver) tryNeighborhood() bool {
	root := &r.root
	// Sticks one by one, with what each costs above the dual value of its pieces.
	type stick struct {
		col  int
		dear float64
	}
	var sticks []stick
	total := 0.0
	for k, c := range r.plan {
		dear := float64(float64(r.p.Bins[c.Bin].Cost) * float64(root.scale))
		for _, u := range c.Uses {
			dear -= float64(float64(root.dual[u.Item]) * float64(u.N))
		}
		dear = max(dear, 0) + float64(0.02*float64(root.scale)*float64(1+r.p.Bins[c.Bin].Cost))
		for range min(c.Count, 12) {
			sticks = append(sticks, stick{k, dear})
			total += dear
		}
	}
	want := 16 + r.rng.Int(16) // pieces
	left := make([]int64, len(r.p.Items))
	cols := make([]model.PatternCount, len(r.plan))
	copy(cols, r.plan)
	pieces, freed := int64(0), int64(0)
	for pieces < int64(want) && len(sticks) > 0 {
		at := total * float64(r.rng.Int(1<<20)) / (1 << 20)
		k := 0
		for k < len(sticks)-1 && at >= sticks[k].dear {
			at -= sticks[k].dear
			k++
		}
		s := sticks[k]
		total -= s.dear
		sticks = slices.Delete(sticks, k, k+1)
		cols[s.col].Count--
		freed += r.p.Bins[cols[s.col].Bin].Cost
		for _, u := range cols[s.col].Uses {
			left[u.Item] += u.N
			pieces += u.N
		}
	}
	cols = slices.DeleteFunc(cols, func(c model.PatternCount) bool { return c.Count == 0 })
	rest := residualOf(r.p, left, cols)
	if rest == nil {
		return false
	}
	sub, _ := rest.solve(root, freed, r.mt.Sub(neighborWork))
	if sub == nil {
		return false
	}
	r.tryIncumbent(merged(append(cols, sub...)))
	return true
}

// merged joins columns of the same pattern.
func merged(cols []model.PatternCount) []model.PatternCount {
	var out []model.PatternCount
next:
	for _, c := range cols {
		for k := range out {
			if out[k].Bin == c.Bin && slices.Equal(out[k].Uses, c.Uses) {
				out[k].Count += c.Count
				continue next
			}
		}
		out = append(out, c)
	}
	return out
}
