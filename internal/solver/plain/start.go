package plain

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/solver/construct"
	"example.com/longpoint/internal/solver/model"
)

// completeStart makes a plan of the one from outside: what it lacks goes into what its sticks
// have left, the longest first, and then on sticks of its own.
func (r *solver) completeStart() {
	left := r.p.Demands()
	for _, c := range r.start {
		for _, u := range c.Uses {
			left[u.Item] -= c.Count * u.N
		}
	}
	cols := r.fillUp(slices.Clone(r.start), left)
	rest := residualOf(r.p, left, cols)
	if rest == nil {
		r.tryIncumbent(merged(cols))
		return
	}
	construct.Plans(&rest.Problem, r.mt, func(sub []model.PatternCount) {
		r.tryIncumbent(merged(slices.Concat(cols, rest.original(sub))))
	})
}

// fillUp puts items that are left to cut where columns have the capacity left for them.
func (r *solver) fillUp(cols []model.PatternCount, left []int64) []model.PatternCount {
	must := r.mt.First(startFillWork) // a start is worth it, whatever the limit
	lacks := slices.ContainsFunc(left, func(n int64) bool { return n > 0 })
	spent := int64(0)
	for k := 0; k < len(cols) && lacks; k++ {
		n := int64(len(left) + 4*len(cols[k].Uses))
		r.mt.Spend(n)
		if spent += n; spent > startFillWork || !must.Watch(n) {
			break
		}
		residual := r.p.Bins[cols[k].Bin].Cap - r.p.Size(cols[k].Uses)
		uses := slices.Clone(cols[k].Uses)
		n = cols[k].Count
		var more []model.Use
		for i, it := range r.p.Items {
			if fit := min(left[i], residual/it.Size); fit > 0 {
				more = append(more, model.Use{Item: i, N: fit})
				residual -= fit * it.Size
				n = min(n, left[i]/fit)
			}
		}
		if len(more) == 0 {
			continue
		}
		for _, u := range more {
			left[u.Item] -= n * u.N
			at, found := slices.BinarySearchFunc(uses, u.Item, func(v model.Use, i int) int { return cmp.Compare(v.Item, i) })
			if found {
				uses[at].N += u.N
			} else {
				uses = slices.Insert(uses, at, u)
			}
		}
		if cols[k].Count > n { // the others are looked at again
			cols = append(cols, model.PatternCount{Pattern: cols[k].Pattern, Count: cols[k].Count - n})
		}
		cols[k] = model.PatternCount{Pattern: model.Pattern{Bin: cols[k].Bin, Uses: uses}, Count: n}
	}
	return cols
}
