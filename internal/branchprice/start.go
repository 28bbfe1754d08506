package branchprice

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
)

// quick makes plans that never look back: ways along the runs by length alone, then
// one filling after another, the largest items first, each bin by one of a few
// preferences. Every plan goes to offer.
func quick(p *Problem, mt *meter.Meter, offer func([]pick)) {
	var picks []pick
	left := make([]int64, len(p.Items))
	for i := range p.Items {
		left[i] = p.Items[i].Demand
	}
	size := make([]int64, len(p.Items))
	for i := range p.Items {
		for _, w := range p.Items[i].Ways {
			if size[i] == 0 || w.Size < size[i] {
				size[i] = w.Size
			}
		}
	}
	// Per unit of capacity the price of the cheapest class.
	rate := math.Inf(1)
	for c := range p.Classes {
		for _, b := range p.Classes[c].Bins {
			if p.Bins[b].Cap > 0 {
				rate = min(rate, float64(p.Classes[c].Tiers[0].Price)/float64(p.Bins[b].Cap))
			}
		}
	}
	weight := int64(1)
	if rate > 0 && rate < 1 {
		weight = int64(min(1/rate, 1<<20))
	}
	for r := range p.Runs {
		x := newRunner(&p.Runs[r])
		v := x.price(size, weight)
		if v >= noCost {
			return
		}
		x.walk(v, func(q path, _ int64) bool {
			c := column{run: r, path: q}
			var uses []Use
			uses, c.cost[Price] = p.Runs[r].uses(q)
			picks = append(picks, pick{&c, 1})
			for _, u := range uses {
				left[u.Item] += u.N
			}
			return false
		})
	}
	classOf := p.classOf()
	price := func(b int) float64 { return float64(p.Classes[classOf[b]].Tiers[0].Price + p.Bins[b].Own[Price]) }
	prefer := []func(a, b int) int{
		func(a, b int) int {
			return cmp.Compare(price(a)/float64(p.Bins[a].Cap+1), price(b)/float64(p.Bins[b].Cap+1))
		},
		func(a, b int) int { return cmp.Compare(p.Bins[b].Cap, p.Bins[a].Cap) },
		func(a, b int) int { return cmp.Compare(price(a), price(b)) },
		func(a, b int) int { return cmp.Compare(p.Bins[a].Cap, p.Bins[b].Cap) },
	}
	order := make([]int, len(p.Items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(size[b], size[a]) })
	for _, less := range prefer {
		bins := make([]int, len(p.Bins))
		for b := range bins {
			bins[b] = b
		}
		slices.SortStableFunc(bins, func(a, b int) int { return cmp.Or(less(a, b), cmp.Compare(a, b)) })
		for _, tight := range [...]bool{false, true} {
			if plan, ok := pack(p, classOf, bins, order, slices.Clone(left), tight, mt); ok {
				offer(append(slices.Clone(picks), plan...))
			}
		}
	}
}

// pack fills bins, tried in the given order, until nothing is left. With tight it
// takes, of the bins that come, the one that is filled best.
func pack(p *Problem, classOf, bins, order []int, left []int64, tight bool, mt *meter.Meter) ([]pick, bool) {
	var plan []pick
	used := make([]int64, len(p.Bins))
	for _, first := range order {
		for left[first] > 0 {
			if !mt.Spend(int64(20 * len(p.Items))) {
				return nil, false
			}
			var best Filling
			var bestX Filled
			score := math.Inf(1)
			for _, b := range bins {
				c := &p.Classes[classOf[b]]
				room := c.Limit - c.Used - used[b]
				if room <= 0 {
					continue
				}
				if n := p.counts(used); n[classOf[b]] >= c.Limit-c.Used && used[b] >= n[classOf[b]] {
					continue
				}
				f, x, ok := p.greedy(b, first, order, left)
				if !ok {
					continue
				}
				if !tight {
					best, bestX, score = f, x, 0
					break
				}
				v := float64(c.Tiers[0].Price+p.Bins[b].Own[Price]) / float64(max(1, x.Size))
				if v < score {
					best, bestX, score = f, x, v
				}
			}
			if score == math.Inf(1) {
				return nil, false
			}
			n := p.Classes[classOf[best.Bin]].Limit - p.Classes[classOf[best.Bin]].Used - used[best.Bin]
			have := map[int]int64{}
			for _, u := range best.Uses {
				have[u.Item] += u.N
			}
			for _, u := range best.Uses {
				n = min(n, left[u.Item]/have[u.Item])
			}
			for i, k := range have {
				left[i] -= n * k
			}
			used[best.Bin] += n
			plan = append(plan, pick{&column{fill: &best, cost: p.costs(&best, &bestX)}, n})
		}
	}
	return plan, true
}

// greedy fills a bin with the first item and then whatever fits, in order.
func (p *Problem) greedy(b, first int, order []int, left []int64) (Filling, Filled, bool) {
	f := Filling{Bin: b}
	var x Filled
	ok := false
	put := func(i int) bool {
		for w := range p.Items[i].Ways {
			if p.Items[i].Ways[w].Size-2*p.deepest() > p.Bins[b].Cap-x.Size {
				continue
			}
			g := f.with(i, w, 1)
			if y, fits := p.Fill(&g); fits {
				f, x = g, y
				return true
			}
		}
		if p.Items[i].Alone {
			g := Filling{b, []Use{{i, 0, 1}}}
			if y, fits := p.Fill(&g); fits && len(f.Uses) == 0 {
				f, x = g, y
				return true
			}
		}
		return false
	}
	if ok = put(first); !ok && !p.Items[first].Alone {
		// By itself it is not to be held; with another it may be.
	pairs:
		for _, i := range order {
			if i == first && left[i] < 2 || left[i] < 1 || p.Items[i].Alone {
				continue
			}
			for w := range p.Items[i].Ways {
				for v := range p.Items[first].Ways {
					one := Filling{b, []Use{{first, v, 1}}}
					g := one.with(i, w, 1)
					if y, fits := p.Fill(&g); fits {
						f, x, ok = g, y, true
						break pairs
					}
				}
			}
		}
	}
	if !ok || p.Items[first].Alone {
		return f, x, ok
	}
	for _, i := range order {
		if p.Items[i].Alone {
			continue
		}
		n := left[i]
		for _, u := range f.Uses {
			if u.Item == i {
				n -= u.N
			}
		}
		for ; n > 0 && put(i); n-- {
		}
	}
	return f, x, true
}

// deepest returns the greatest setback.
func (p *Problem) deepest() int64 {
	top := int64(0)
	for _, s := range p.Setbacks {
		top = max(top, s)
	}
	return top
}
