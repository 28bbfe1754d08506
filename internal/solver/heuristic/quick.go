package heuristic

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

const (
	// preferences is the number of bins, in increasing order of cost per size, that are tried as the
	// preferred length. dearPreferences is the number if each bin is also tried for each stick.
	preferences     = 10
	dearPreferences = 3

	// firstSteps limits a first plan once the context has ended: some milliseconds, enough for
	// all but the largest problems.
	firstSteps = 1 << 22

	// mustTries is the number of tries for a first plan regardless of the limit on work.
	mustTries = 3
)

// Quick calls offer with plans from greedy rules: it chooses the assemblies of runs by length
// alone, then fills sticks by first fit decreasing, repeating each pattern as often as the
// demand allows, so that large demands cost no more than small ones. First fit is cheap and
// always included, however small the limit on work. When the context or the caller has ended
// the work, one plan suffices.
func Quick(p *rules.Problem, mt *meter.Meter, offer func([]rules.ColumnCount)) {
	b := newBuilder(p)
	if len(p.Runs) == 0 {
		b.setLeft(nil)
		b.plans(mt, offer)
		return
	}
	// If the first choice of assemblies does not fit the sticks (the lots of a group, for
	// example), others may.
	runs := newAssembler(b, mt)
	for turn := range assemblyTurns {
		wanted, chosen, ok := runs.choose(turn)
		if !ok {
			return
		}
		found := false
		b.setLeft(wanted)
		b.plans(mt, func(plan []rules.ColumnCount) {
			found = true
			offer(append(slices.Clone(chosen), plan...))
		})
		if found {
			return
		}
	}
}

// plans offers plans for the current demand.
func (b *builder) plans(mt *meter.Meter, offer func([]rules.ColumnCount)) {
	must := mt.First(firstSteps)
	found, tries := false, 0
	// try makes a plan, and reports whether to go on.
	try := func(build func(must *meter.Meter) []rules.ColumnCount) bool {
		within := mt
		if tries++; !found && tries <= mustTries || b.loose {
			within = must
		}
		if plan := build(within); plan != nil {
			found = true
			if !b.linear {
				offer(slices.Clone(plan)) // cheaper sticks may cost more in total: bundles, suppliers
			}
			offer(b.downsize(plan, mt))
		}
		return !found || mt.Left() || b.loose && !mt.Gone()
	}
	bought := b.bought()
	for _, order := range b.orders(bought) {
		if !try(func(must *meter.Meter) []rules.ColumnCount { return b.firstFit(order, must, mt) }) {
			return
		}
	}
	if found && !mt.Left() {
		return
	}
	picks := []rule{cheapest, tightest}
	for _, k := range bought[:min(len(bought), dearPreferences)] {
		picks = append(picks, preferring(k)) // wherever it fits
	}
	for _, pick := range picks {
		if !try(func(*meter.Meter) []rules.ColumnCount { return b.greedy(pick, mt) }) {
			return
		}
	}
}

// bought returns at most preferences bins that cost something, in increasing order of cost per size. If ends
// nest it returns none, since filling a pattern then takes long.
func (b *builder) bought() (list []int) {
	if !b.loose {
		return nil
	}
	least := int64(0)
	if n := len(b.sizes); n > 0 {
		least = b.sizes[n-1]
	}
	for k := range b.p.Bins {
		if b.supply[k] > 0 && b.price[k] > 0 && b.p.Bins[k].Cap >= least {
			list = append(list, k)
		}
	}
	slices.SortStableFunc(list, func(x, y int) int {
		return cmpRatio(b.price[x], b.p.Bins[x].Cap, b.price[y], b.p.Bins[y].Cap)
	})
	return list[:min(len(list), preferences)]
}

// orders returns the orders in which first fit tries bins: one bin first and then the shortest
// that fits; the shortest first; and, if the cost of sticks is not linear, all by price and
// length.
func (b *builder) orders(bought []int) (list [][]int) {
	for _, k := range bought {
		list = append(list, append([]int{k}, b.byCap...))
	}
	list = append(list, b.byCap)
	if !b.linear {
		list = append(list,
			b.sorted(func(x, y int) int {
				return cmpRatio(b.price[x], b.p.Bins[x].Cap+1, b.price[y], b.p.Bins[y].Cap+1)
			}),
			b.sorted(func(x, y int) int { return cmp.Compare(b.p.Bins[y].Cap, b.p.Bins[x].Cap) }),
			b.sorted(func(x, y int) int { return cmp.Compare(b.price[x], b.price[y]) }),
		)
	}
	return list
}

// sorted returns all bins in an order.
func (b *builder) sorted(less func(x, y int) int) []int {
	order := make([]int, len(b.p.Bins))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, less)
	return order
}

// firstFit is first fit decreasing: it fills sticks that cost nothing, the shortest first, then
// for the longest remaining item the first bin of the order that holds it. It returns nil if
// the supply or must runs out; mt counts the steps.
func (b *builder) firstFit(order []int, must, mt *meter.Meter) (plan []rules.ColumnCount) {
	b.reset()
	plan = b.fillFree(must)
	for at := b.alive(0); at < len(b.order); at = b.alive(at) {
		if !must.Watch(int64(len(order))) {
			return nil
		}
		var c filled
		ok := false
		for _, k := range order {
			if b.supply[k] <= 0 {
				continue
			}
			if c, ok = b.fill(k, at, must); ok {
				break
			}
		}
		if !ok || !must.Watch(int64(20+10*len(c.uses))) {
			return nil
		}
		plan = append(plan, b.take(&c))
		mt.Spend(b.steps(&c))
	}
	return plan
}

// freeTries limits the items that are tried as the first of a stick that costs nothing.
const freeTries = 4

// fillFree fills sticks that cost nothing, the shortest first.
func (b *builder) fillFree(must *meter.Meter) (plan []rules.ColumnCount) {
	for _, k := range b.byCap {
		for tries := 0; b.price[k] == 0 && b.supply[k] > 0 && tries < freeTries; tries++ {
			at := b.from(0, b.p.Bins[k].Cap+2*b.deepest)
			for range tries {
				at = b.alive(min(at+1, len(b.order)))
			}
			if at == len(b.order) {
				break
			}
			if c, ok := b.fill(k, at, must); ok {
				plan = append(plan, b.take(&c))
				tries = -1
			}
		}
	}
	return plan
}

// steps estimates the steps of filling a pattern.
func (b *builder) steps(c *filled) int64 {
	if b.loose {
		return int64(20 + 20*len(c.uses))
	}
	return int64(20 * len(b.p.Items))
}

// greedy opens one stick after another for the longest remaining item, filled longest first, in
// the bin that the rule picks among those that hold the item. It returns nil if the supply or
// the meter runs out.
func (b *builder) greedy(pick rule, mt *meter.Meter) (plan []rules.ColumnCount) {
	b.reset()
	var cand []filled
	for at := b.alive(0); at < len(b.order); at = b.alive(at) {
		cand = cand[:0]
		for k := range b.p.Bins {
			if b.supply[k] <= 0 {
				continue
			}
			c, ok := b.fill(k, at, mt)
			if ok {
				cand = append(cand, c)
			}
			if !mt.Watch(int64(20 + 10*len(c.uses))) {
				return nil
			}
		}
		if len(cand) == 0 || !mt.Spend(int64(20+100*len(cand))) {
			return nil
		}
		plan = append(plan, b.take(&cand[pick(b, cand)]))
	}
	return plan
}

// rule picks one of several filled bins.
type rule func(*builder, []filled) int

// cheapest picks the candidate with the least cost per size cut, and among those that cost
// nothing the one with the least slack.
func cheapest(b *builder, cand []filled) int {
	best := 0
	for k := 1; k < len(cand); k++ {
		x, y := &cand[k], &cand[best]
		if s := cmpRatio(b.price[x.bin], x.used(), b.price[y.bin], y.used()); s < 0 || s == 0 && tighter(b, x, y) {
			best = k
		}
	}
	return best
}

// tightest picks the candidate that wastes the least of its stick.
func tightest(b *builder, cand []filled) int {
	best := 0
	for k := 1; k < len(cand); k++ {
		if tighter(b, &cand[k], &cand[best]) {
			best = k
		}
	}
	return best
}

func tighter(b *builder, x, y *filled) bool {
	return cmpRatio(b.p.Bins[x.bin].Cap, x.used(), b.p.Bins[y.bin].Cap, y.used()) < 0
}

// preferring picks one bin before all others.
func preferring(bin int) rule {
	return func(b *builder, cand []filled) int {
		if k := slices.IndexFunc(cand, func(c filled) bool { return c.bin == bin }); k >= 0 {
			return k
		}
		return cheapest(b, cand)
	}
}

// cmpRatio compares a/b with c/d for non-negative a, c and positive b, d.
func cmpRatio(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(d))
	h2, l2 := bits.Mul64(uint64(c), uint64(b))
	return cmp.Or(cmp.Compare(h1, h2), cmp.Compare(l1, l2))
}
