package engine

import (
	"slices"

	"example.com/longpoint/internal/knapsack"
	"example.com/longpoint/internal/model"
)

// knot is the problem at a node of the pair search: some items are tied
// together into one, some pairs must stay apart. Items are in non-increasing
// size; two may have the same size when they differ in what they must stay
// apart from.
type knot struct {
	p     *model.Problem
	tied  [][]bundle      // per item: what its copies are made of
	apart *knapsack.Pairs // nil: none
}

// bundle is n copies of an item, each made of these items of the original
// problem.
type bundle struct {
	items []int
	n     int64
}

// loose is the knot with nothing tied.
func loose(p *model.Problem) *knot {
	k := &knot{p: p, tied: make([][]bundle, len(p.Items))}
	for i, it := range p.Items {
		k.tied[i] = []bundle{{[]int{i}, it.Demand}}
	}
	return k
}

// take removes one copy of item i and returns what it was made of.
func (k *knot) take(i int) []int {
	last := &k.tied[i][len(k.tied[i])-1]
	items := last.items
	if last.n--; last.n == 0 {
		k.tied[i] = k.tied[i][:len(k.tied[i])-1]
	}
	return items
}

func (k *knot) clone() *knot {
	c := &knot{
		p:    &model.Problem{Items: slices.Clone(k.p.Items), Bins: k.p.Bins},
		tied: make([][]bundle, len(k.tied)),
	}
	for i, bs := range k.tied {
		c.tied[i] = slices.Clone(bs)
	}
	if !k.apart.Empty() {
		c.apart = k.apart.Clone()
	}
	return c
}

// tie returns the knot with one copy of i and one of j made into one item, and
// the map of old items to new ones, -1 for those used up, and the new item.
func (k *knot) tie(i, j int) (c *knot, to []int, whole int) {
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
		if c.p.Items[q].Size == size && c.p.Items[q].Demand > 0 && k.sameApart(q, i, j) {
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
	next := &knot{p: &model.Problem{Bins: k.p.Bins}}
	to = make([]int, n)
	whole = -1
	add := func(it model.Item, b []bundle) int {
		next.p.Items = append(next.p.Items, it)
		next.tied = append(next.tied, b)
		return len(next.p.Items) - 1
	}
	for q := 0; q <= n; q++ {
		if q == at && join < 0 {
			whole = add(model.Item{Size: size, Demand: 1}, []bundle{{made, 1}})
		}
		if q == n {
			break
		}
		it := c.p.Items[q]
		if q == join {
			it.Demand++
			c.tied[q] = append(c.tied[q], bundle{made, 1})
		}
		if to[q] = -1; it.Demand > 0 {
			to[q] = add(it, c.tied[q])
		}
		if q == join {
			whole = to[q]
		}
	}
	if !k.apart.Empty() {
		next.apart = knapsack.NewPairs(len(next.p.Items))
		for a := range n {
			if to[a] < 0 {
				continue
			}
			for b := a; b < n; b++ {
				if to[b] >= 0 && k.apart.Has(a, b) {
					next.apart.Add(to[a], to[b])
				}
			}
			if k.apart.Has(a, i) || k.apart.Has(a, j) {
				next.apart.Add(to[a], whole)
			}
		}
	}
	return next, to, whole
}

// sameApart reports whether item q stays apart from exactly what i and j
// together stay apart from.
func (k *knot) sameApart(q, i, j int) bool {
	if k.apart.Empty() {
		return true
	}
	for a := range k.p.Items {
		if k.apart.Has(q, a) != (k.apart.Has(i, a) || k.apart.Has(j, a)) {
			return false
		}
	}
	// Among themselves: copies of q, and the new item beside them.
	return k.apart.Has(q, q) == (k.apart.Has(i, i) || k.apart.Has(j, j) || k.apart.Has(i, j))
}

// part returns the knot in which no pattern may hold both i and j.
func (k *knot) part(i, j int) *knot {
	c := k.clone()
	if c.apart == nil {
		c.apart = knapsack.NewPairs(len(c.p.Items))
	}
	c.apart.Add(i, j)
	return c
}

// untie turns a plan of the knot into one of the original problem.
func (k *knot) untie(cols []model.Column) []model.Column {
	tied := make([][]bundle, len(k.tied))
	for i, bs := range k.tied {
		tied[i] = slices.Clone(bs)
	}
	var out []model.Column
	for _, c := range cols {
		for left := c.Count; left > 0; {
			// As many sticks alike as the bundles at the front allow.
			n := left
			for _, u := range c.Uses {
				if b := tied[u.Item][0]; b.n >= u.N {
					n = min(n, b.n/u.N)
				} else {
					n = 1
				}
			}
			var items []int
			for _, u := range c.Uses {
				for range u.N {
					b := &tied[u.Item][0]
					items = append(items, b.items...)
					if b.n >= n {
						b.n -= n
					}
					if b.n == 0 {
						tied[u.Item] = tied[u.Item][1:]
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
			out = append(out, model.Column{Pattern: model.Pattern{Bin: c.Bin, Uses: uses}, Count: n})
			left -= n
		}
	}
	return merged(out)
}
