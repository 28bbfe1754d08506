package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/knapsack"
	"example.com/longpoint/internal/solver/model"
)

// mergedProblem is the problem at a node of the pair search (D. M. Ryan, B. A. Foster): some items are merged
// together into one, some pairs must stay apart (conflicts). Items are in non-increasing
// size; two may have the same size when they differ in what they must stay
// apart from.
type mergedProblem struct {
	p         *model.Problem
	parts     [][]mergedItem      // per item: what its copies are made of
	conflicts *knapsack.Conflicts // nil: none
}

// mergedItem is n copies of an item, each made of these items of the original
// problem.
type mergedItem struct {
	items []int
	n     int64
}

// unmerged is the problem with nothing merged.
func unmerged(p *model.Problem) *mergedProblem {
	k := &mergedProblem{p: p, parts: make([][]mergedItem, len(p.Items))}
	for i, it := range p.Items {
		k.parts[i] = []mergedItem{{[]int{i}, it.Demand}}
	}
	return k
}

// take removes one copy of item i and returns what it was made of.
func (k *mergedProblem) take(i int) []int {
	last := &k.parts[i][len(k.parts[i])-1]
	items := last.items
	if last.n--; last.n == 0 {
		k.parts[i] = k.parts[i][:len(k.parts[i])-1]
	}
	return items
}

func (k *mergedProblem) clone() *mergedProblem {
	c := &mergedProblem{
		p:     &model.Problem{Items: slices.Clone(k.p.Items), Bins: k.p.Bins},
		parts: make([][]mergedItem, len(k.parts)),
	}
	for i, bs := range k.parts {
		c.parts[i] = slices.Clone(bs)
	}
	if !k.conflicts.Empty() {
		c.conflicts = k.conflicts.Clone()
	}
	return c
}

// merge returns the merged problem with one copy of i and one of j made into one item, and
// the map of old items to new ones, -1 for those used up, and the new item.
func (k *mergedProblem) merge(i, j int) (c *mergedProblem, to []int, whole int) {
	c = k.clone()
	size := k.p.Items[i].Size + k.p.Items[j].Size
	made := slices.Concat(c.take(i), c.take(j))
	c.p.Items[i].Demand--
	c.p.Items[j].Demand--
	n := len(c.p.Items)
	// The new item stays apart from whatever its parts stay apart from. It may
	// join an item of its size only if that stays apart from the same.
	join := -1
	for q := range n {
		if c.p.Items[q].Size == size && c.p.Items[q].Demand > 0 && k.sameConflicts(q, i, j) {
			join = q
			break
		}
	}
	at := n
	if join < 0 {
		at = slices.IndexFunc(c.p.Items, func(it model.Item) bool { return it.Size <= size })
		if at < 0 {
			at = n
		}
	}
	next := &mergedProblem{p: &model.Problem{Bins: k.p.Bins}}
	to = make([]int, n)
	whole = -1
	add := func(it model.Item, b []mergedItem) int {
		next.p.Items = append(next.p.Items, it)
		next.parts = append(next.parts, b)
		return len(next.p.Items) - 1
	}
	for q := 0; q <= n; q++ {
		if q == at && join < 0 {
			whole = add(model.Item{Size: size, Demand: 1}, []mergedItem{{made, 1}})
		}
		if q == n {
			break
		}
		it := c.p.Items[q]
		if q == join {
			it.Demand++
			c.parts[q] = append(c.parts[q], mergedItem{made, 1})
		}
		if to[q] = -1; it.Demand > 0 {
			to[q] = add(it, c.parts[q])
		}
		if q == join {
			whole = to[q]
		}
	}
	next.inheritConflicts(k, to, i, j, whole)
	return next, to, whole
}

// inheritConflicts takes over the conflicts of the problem around, in which i and j are items by themselves.
func (c *mergedProblem) inheritConflicts(k *mergedProblem, to []int, i, j, whole int) {
	if k.conflicts.Empty() {
		return
	}
	c.conflicts = knapsack.NewConflicts(len(c.p.Items))
	for a := range to {
		if to[a] < 0 {
			continue
		}
		for b := a; b < len(to); b++ {
			if to[b] >= 0 && k.conflicts.Has(a, b) {
				c.conflicts.Add(to[a], to[b])
			}
		}
		if k.conflicts.Has(a, i) || k.conflicts.Has(a, j) {
			c.conflicts.Add(to[a], whole)
		}
	}
}

// sameConflicts reports whether item q stays apart from exactly what i and j
// together stay apart from.
func (k *mergedProblem) sameConflicts(q, i, j int) bool {
	if k.conflicts.Empty() {
		return true
	}
	for a := range k.p.Items {
		if k.conflicts.Has(q, a) != (k.conflicts.Has(i, a) || k.conflicts.Has(j, a)) {
			return false
		}
	}
	// Among themselves: copies of q, and the new item beside them.
	return k.conflicts.Has(q, q) == (k.conflicts.Has(i, i) || k.conflicts.Has(j, j) || k.conflicts.Has(i, j))
}

// separate returns the merged problem in which no pattern may hold both i and j.
func (k *mergedProblem) separate(i, j int) *mergedProblem {
	c := k.clone()
	if c.conflicts == nil {
		c.conflicts = knapsack.NewConflicts(len(c.p.Items))
	}
	c.conflicts.Add(i, j)
	return c
}

// unmerge turns a plan of the merged problem into one of the original problem.
func (k *mergedProblem) unmerge(cols []model.PatternCount) []model.PatternCount {
	copies := make([][]mergedItem, len(k.parts))
	for i, bs := range k.parts {
		copies[i] = slices.Clone(bs)
	}
	var out []model.PatternCount
	for _, c := range cols {
		for left := c.Count; left > 0; {
			// As many sticks alike as the merged items at the front allow.
			n := left
			for _, u := range c.Uses {
				if b := copies[u.Item][0]; b.n >= u.N {
					n = min(n, b.n/u.N)
				} else {
					n = 1
				}
			}
			var items []int
			for _, u := range c.Uses {
				for range u.N {
					b := &copies[u.Item][0]
					items = append(items, b.items...)
					if b.n >= n {
						b.n -= n
					}
					if b.n == 0 {
						copies[u.Item] = copies[u.Item][1:]
					}
				}
			}
			slices.Sort(items)
			var uses []model.Use
			for _, i := range items {
				if m := len(uses); m > 0 && uses[m-1].Item == i {
					uses[m-1].N++
				} else {
					uses = append(uses, model.Use{Item: i, N: 1})
				}
			}
			out = append(out, model.PatternCount{Pattern: model.Pattern{Bin: c.Bin, Uses: uses}, Count: n})
			left -= n
		}
	}
	return merged(out)
}
