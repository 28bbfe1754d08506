package branchprice

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// constructPlans makes plans that never look back: assemblies of the runs by length alone, then
// one pattern after another, the largest items first, each bin by one of a few
// preferences. Every plan goes to offer.
func constructPlans(p *rules.Problem, mt *meter.Meter, offer func([]rules.ColumnCount)) {
	c := constructor{p: p, must: mt.First(firstSteps), weight: 1}
	c.setSizes()
	// Should the first choice of assemblies not fit the sticks, others may: the lots of a
	// group, say.
	for turn := range 6 {
		wanted, chosen, ok := c.assemblies(turn)
		if !ok {
			return
		}
		found := false
		packs(p, c.size, wanted, mt, func(plan []rules.ColumnCount) {
			found = true
			offer(append(slices.Clone(chosen), plan...))
		})
		if found || len(p.Runs) == 0 {
			return
		}
	}
}

// constructor chooses assemblies by length alone.
type constructor struct {
	p           *rules.Problem
	must        *meter.Meter
	size, short []int64 // of items; short makes long ones dear
	weight      int64   // of money against length
}

func (c *constructor) setSizes() {
	p := c.p
	c.size = make([]int64, len(p.Items))
	for i := range p.Items {
		for _, w := range p.Items[i].Orientations {
			if c.size[i] == 0 || w.Size < c.size[i] {
				c.size[i] = w.Size
			}
		}
	}
	// Per unit of capacity the price of the cheapest class.
	rate := math.Inf(1)
	for k := range p.Classes {
		for _, b := range p.Classes[k].Bins {
			if p.Bins[b].Cap > 0 {
				rate = min(rate, float64(p.Classes[k].Tiers[0].Price)/float64(p.Bins[b].Cap))
			}
		}
	}
	if rate > 0 && rate < 1 {
		c.weight = int64(min(1/rate, 1<<20))
	}
	top := int64(1)
	for b := range p.Bins {
		top = max(top, p.Bins[b].Cap)
	}
	c.short = make([]int64, len(c.size))
	for i, v := range c.size {
		c.short[i] = v + int64(float64(v)/float64(top)*float64(v))
	}
}

// assemblies returns an assembly for each run, other ones each turn, and what is wanted of the items then; false
// where a run has none, or time is up.
func (c *constructor) assemblies(turn int) (wanted []int64, chosen []rules.ColumnCount, ok bool) {
	p := c.p
	for i := range p.Items {
		wanted = append(wanted, p.Items[i].Demand)
	}
	for r := range p.Runs {
		if !c.must.Watch(int64(8 * (p.Runs[r].Nodes + len(p.Runs[r].Arcs)))) {
			return nil, nil, false
		}
		x := pricing.NewPaths(p, r)
		worth := c.size
		if turn > 0 && turn < 3 {
			worth = c.short // long sticks may be rare
		}
		v := x.Price(worth, &[rules.Criteria]int64{rules.Price: c.weight})
		if v >= rules.NoCost {
			return nil, nil, false
		}
		skip, limit := turn/2, v
		if skip > 0 {
			limit = v + v/4
		}
		var best rules.Path
		x.Walk(limit, func(q rules.Path, _ int64) bool {
			best = q
			skip--
			return skip >= 0
		})
		col := p.Assembly(r, best)
		chosen = append(chosen, rules.ColumnCount{Column: &col, N: 1})
		for _, u := range p.Runs[r].Uses(best) {
			wanted[u.Item] += u.N
		}
	}
	return wanted, chosen, true
}

// packs packs what is wanted by a few preferences of bins, the first of them
// whatever limit the meter has.
func packs(p *rules.Problem, size, left []int64, mt *meter.Meter, offer func([]rules.ColumnCount)) {
	classOf := p.ClassOf()
	price := func(b int) float64 { return float64(p.Classes[classOf[b]].Tiers[0].Price + p.Bins[b].Own[rules.Price]) }
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
	slices.SortStableFunc(order, func(a, b int) int {
		// Whole sticks to spare before those that are cut.
		if p.Items[a].Alone != p.Items[b].Alone {
			if p.Items[a].Alone {
				return -1
			}
			return 1
		}
		return cmp.Compare(size[b], size[a])
	})
	k := &packer{p: p, classOf: classOf, order: order, size: size, deepest: p.Deepest()}
	done, tries := false, 0
	must := mt.First(firstSteps)
	for _, less := range prefer {
		bins := make([]int, len(p.Bins))
		for b := range bins {
			bins[b] = b
		}
		slices.SortStableFunc(bins, func(a, b int) int { return cmp.Or(less(a, b), cmp.Compare(a, b)) })
		for _, tight := range [...]bool{false, true} {
			meter := mt
			if tries++; !done && tries <= 3 {
				meter = must // some plan there must be, whatever the limit
			}
			if plan, ok := k.pack(bins, slices.Clone(left), tight, meter); ok {
				done = true
				offer(plan)
			}
			if !mt.Left() && done {
				return
			}
		}
	}
}

// packer fills bins one after another.
type packer struct {
	p       *rules.Problem
	classOf []int
	order   []int // items by falling size
	size    []int64
	deepest int64
}

// pack fills bins, tried in the given order, until nothing is left. With tight it
// takes, of the bins that come, the one that is filled best.
func (k *packer) pack(bins []int, left []int64, tight bool, mt *meter.Meter) ([]rules.ColumnCount, bool) {
	p := k.p
	var plan []rules.ColumnCount
	used := make([]int64, len(p.Bins))
	have := make([]int64, len(p.Items))
	for _, first := range k.order {
		for left[first] > 0 {
			if !mt.Spend(int64(20 * len(p.Items))) {
				return nil, false
			}
			var best rules.Pattern
			var bestX rules.PatternSize
			score := math.Inf(1)
			for _, b := range bins {
				c := &p.Classes[k.classOf[b]]
				if c.Limit-c.Settled-used[b] <= 0 {
					continue
				}
				if !mt.Watch(int64(len(p.Items))) {
					return nil, false
				}
				f, x, ok := k.fill(b, first, left, mt)
				if !ok {
					continue
				}
				if !tight {
					best, bestX, score = f, x, 0
					break
				}
				v := float64(c.Tiers[0].Price+p.Bins[b].Own[rules.Price]) / float64(max(1, x.Size))
				if v < score {
					best, bestX, score = f, x, v
				}
			}
			if score == math.Inf(1) {
				return nil, false
			}
			c := &p.Classes[k.classOf[best.Bin]]
			n := c.Limit - c.Settled - used[best.Bin]
			for _, u := range best.Uses {
				have[u.Item] += u.N
			}
			for _, u := range best.Uses {
				n = min(n, left[u.Item]/have[u.Item])
			}
			for _, u := range best.Uses {
				left[u.Item] -= n * have[u.Item]
				have[u.Item] = 0
			}
			used[best.Bin] += n
			plan = append(plan, rules.ColumnCount{Column: &rules.Column{Fill: &best, Cost: p.Costs(&best, &bestX)}, N: n})
		}
	}
	return plan, true
}

// fill fills a bin with the first item and then whatever fits, in order.
func (k *packer) fill(b, first int, left []int64, mt *meter.Meter) (rules.Pattern, rules.PatternSize, bool) {
	p := k.p
	if p.Items[first].Alone {
		f := rules.Pattern{Bin: b, Uses: []rules.Use{{Item: first, Orient: 0, N: 1}}}
		x, ok := p.Fill(&f)
		return f, x, ok
	}
	residual := p.Bins[b].Cap
	if k.size[first] > residual+2*k.deepest {
		return rules.Pattern{}, rules.PatternSize{}, false
	}
	if len(p.Setbacks) == 0 {
		// All at once; what a rule forbids is found out at the end.
		kind := &p.Kinds[p.Bins[b].Kind]
		if kind.Barred != nil && kind.Barred[first] {
			return rules.Pattern{}, rules.PatternSize{}, false
		}
		f := rules.Pattern{Bin: b}
		count := kind.Most
		add := func(i int, most int64) {
			it := &p.Items[i]
			n := min(most, residual/k.size[i])
			if kind.Most > 0 {
				n = min(n, count/max(1, it.Pieces))
			}
			if n <= 0 {
				return
			}
			residual -= n * k.size[i]
			count -= n * it.Pieces
			f.Uses = append(f.Uses, rules.Use{Item: i, Orient: 0, N: n})
		}
		add(first, left[first])
		for _, i := range k.order {
			if i != first && left[i] > 0 && k.size[i] <= residual && !p.Items[i].Alone && (kind.Barred == nil || !kind.Barred[i]) {
				add(i, left[i])
			}
		}
		if len(f.Uses) > 0 && f.Uses[0].Item == first {
			slices.SortFunc(f.Uses, func(a, b rules.Use) int { return cmp.Compare(a.Item, b.Item) })
			if x, ok := p.Fill(&f); ok {
				return f, x, true
			}
		}
	}
	return greedy(p, b, first, k.order, left, k.deepest, mt)
}

// greedy fills a bin item by item, looking at the rules each time.
func greedy(p *rules.Problem, b, first int, order []int, left []int64, deepest int64, mt *meter.Meter) (rules.Pattern, rules.PatternSize, bool) {
	f := rules.Pattern{Bin: b}
	var x rules.PatternSize
	put := func(i int) bool {
		for w := range p.Items[i].Orientations {
			if p.Items[i].Orientations[w].Size-2*deepest > p.Bins[b].Cap-x.Size {
				continue
			}
			if !mt.Watch(p.FillSteps(&f)) {
				return false
			}
			g := f.With(i, w, 1)
			if y, fits := p.Fill(&g); fits {
				f, x = g, y
				return true
			}
		}
		return false
	}
	ok := put(first)
	if !ok {
		// By itself it is not to be held; with another it may be.
	pairs:
		for _, i := range order {
			if i == first && left[i] < 2 || left[i] < 1 || p.Items[i].Alone {
				continue
			}
			if !mt.Watch(64) {
				break
			}
			for w := range p.Items[i].Orientations {
				for v := range p.Items[first].Orientations {
					one := rules.Pattern{Bin: b, Uses: []rules.Use{{Item: first, Orient: v, N: 1}}}
					g := one.With(i, w, 1)
					if y, fits := p.Fill(&g); fits {
						f, x, ok = g, y, true
						break pairs
					}
				}
			}
		}
	}
	if !ok {
		return f, x, false
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

// picks restates a start; what is no pattern is left out.
func picks(p *rules.Problem, s *search.Start) []rules.ColumnCount {
	if s == nil {
		return nil
	}
	var out []rules.ColumnCount
	for r, w := range s.Assemblies {
		if w != nil {
			c := p.Assembly(r, w)
			out = append(out, rules.ColumnCount{Column: &c, N: 1})
		}
	}
	for i := range s.Patterns {
		f := &s.Patterns[i]
		if x, ok := p.Fill(&f.Pattern); ok && f.Count > 0 {
			out = append(out, rules.ColumnCount{Column: &rules.Column{Fill: &f.Pattern, Cost: p.Costs(&f.Pattern, &x)}, N: f.Count})
		}
	}
	return out
}

// completeStart makes a plan of the one from outside: what it lacks goes into what its sticks have
// left, and then is planned as quick does.
func (r *solver) completeStart() {
	if len(r.startPlan) == 0 {
		return
	}
	r.startPlan = r.fillUp(r.startPlan)
	q := r.p.Residual(r.startPlan)
	if q == nil {
		return
	}
	left := len(q.Runs) > 0
	for i := range q.Items {
		left = left || q.Items[i].Demand > 0
	}
	if !left {
		r.tryIncumbent(r.startPlan)
		return
	}
	constructPlans(q, r.mt, func(plan []rules.ColumnCount) { r.tryIncumbent(r.p.Joined(r.startPlan, plan)) })
}

// fillUp puts items of which a plan has too few where its patterns have the capacity left for them, the
// longest first.
func (r *solver) fillUp(plan []rules.ColumnCount) []rules.ColumnCount {
	p := r.p
	left := make([]int64, len(p.Items))
	order := make([]int, len(p.Items))
	for i := range p.Items {
		left[i], order[i] = p.Items[i].Demand, i
	}
	for _, q := range plan {
		if q.Column.Fill == nil {
			uses := p.Runs[q.Column.Run].Uses(q.Column.Path)
			for _, u := range uses {
				left[u.Item] += q.N * u.N
			}
			continue
		}
		for _, u := range q.Column.Fill.Uses {
			left[u.Item] -= q.N * u.N
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(p.Items[b].Orientations[0].Size, p.Items[a].Orientations[0].Size)
	})
	plan = slices.Clone(plan)
	must := r.mt.First(firstSteps) // a start is worth it, whatever the limit
	spent := int64(0)
	for _, i := range order {
		for k := 0; k < len(plan) && left[i] > 0 && !p.Items[i].Alone; {
			f := plan[k].Column.Fill
			if f == nil || p.Items[f.Uses[0].Item].Alone {
				k++
				continue
			}
			fits := false
			for w := range p.Items[i].Orientations {
				n := p.FillSteps(f)
				r.mt.Spend(n)
				if spent += n; spent > fillUpSteps || !must.Watch(n) {
					return plan
				}
				g := f.With(i, w, 1)
				var x rules.PatternSize
				if x, fits = p.Fill(&g); fits {
					n := min(plan[k].N, left[i])
					if rest := plan[k].N - n; rest > 0 {
						plan = append(plan, rules.ColumnCount{Column: plan[k].Column, N: rest})
					}
					plan[k] = rules.ColumnCount{Column: &rules.Column{Fill: &g, Cost: p.Costs(&g, &x)}, N: n}
					left[i] -= n
					break
				}
			}
			if !fits {
				k++
			}
		}
	}
	return plan
}
