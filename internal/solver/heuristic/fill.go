package heuristic

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// builder fills bins with the remaining items, longest first, without visiting items that are
// used up.
type builder struct {
	p       *rules.Problem
	size    []int64 // of an item, in its smallest orientation
	order   []int   // items: whole spare sticks, then in decreasing size
	sizes   []int64 // in that order; whole sticks fit beside nothing
	place   []int32 // of an item in the order
	byCap   []int   // bins, the shortest first
	price   []int64 // of a stick, by bin
	deepest int64   // setback
	loose   bool    // no setbacks are saved, so sizes add up
	linear  bool    // the cost is proportional to the number of sticks

	wanted []int64 // of each item
	left   []int64
	next   []int32 // union-find: the next place in the order that is not used up
	supply []int64 // of each bin
	have   []int64 // of each item in a pattern; zero between calls
}

func newBuilder(p *rules.Problem) *builder {
	b := &builder{
		p: p, size: make([]int64, len(p.Items)), order: make([]int, len(p.Items)), sizes: make([]int64, len(p.Items)),
		price: make([]int64, len(p.Bins)), deepest: p.Deepest(), loose: len(p.Setbacks) == 0, linear: len(p.Suppliers) == 0,
		place: make([]int32, len(p.Items)), left: make([]int64, len(p.Items)), next: make([]int32, len(p.Items)+1),
		supply: make([]int64, len(p.Bins)), have: make([]int64, len(p.Items)),
	}
	for c := range p.Classes {
		cl := &p.Classes[c]
		b.linear = b.linear && len(cl.Bins) == 1 && len(cl.Tiers) == 1 && cl.Bundle == 1 && cl.Minimum == 1
		for _, k := range cl.Bins {
			b.price[k] = cl.Tiers[0].Price + p.Bins[k].Own[rules.Price]
			b.supply[k] = cl.Limit - cl.Settled
		}
	}
	for i := range p.Items {
		b.order[i] = i
		b.size[i] = math.MaxInt64
		for _, w := range p.Items[i].Orientations {
			b.size[i] = min(b.size[i], w.Size)
		}
	}
	rank := func(i int) int64 {
		if p.Items[i].Alone {
			return math.MaxInt64
		}
		return b.size[i]
	}
	slices.SortStableFunc(b.order, func(i, j int) int { return cmp.Compare(rank(j), rank(i)) })
	for at, i := range b.order {
		b.sizes[at] = rank(i)
		b.place[i] = int32(at)
	}
	b.byCap = b.sorted(func(x, y int) int { return cmp.Compare(p.Bins[x].Cap, p.Bins[y].Cap) })
	return b
}

// setLeft sets the demand of each item; nil is the problem's demand.
func (b *builder) setLeft(wanted []int64) {
	if wanted == nil {
		for i := range b.p.Items {
			wanted = append(wanted, b.p.Items[i].Demand)
		}
	}
	b.wanted = wanted
}

// reset begins a plan.
func (b *builder) reset() {
	copy(b.left, b.wanted)
	for at, i := range b.order {
		b.next[at] = int32(at)
		if b.left[i] <= 0 {
			b.next[at]++
		}
	}
	b.next[len(b.order)] = int32(len(b.order))
	for c := range b.p.Classes {
		for _, k := range b.p.Classes[c].Bins {
			b.supply[k] = b.p.Classes[c].Limit - b.p.Classes[c].Settled
		}
	}
}

// alive returns the first place in the order, from at on, that is not used up.
func (b *builder) alive(at int) int {
	for int(b.next[at]) != at {
		b.next[at] = b.next[b.next[at]]
		at = int(b.next[at])
	}
	return at
}

// from returns the first place from at on with an item that remains and is no longer than most.
func (b *builder) from(at int, most int64) int {
	// Sizes decrease: skip to the first that fits.
	lo, hi := at, len(b.sizes)
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		if b.sizes[mid] > most {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return b.alive(lo)
}

// filled is a filled bin.
type filled struct {
	bin  int
	uses []rules.Use
	rules.PatternSize
}

// used is the size cut, at least 1.
func (c *filled) used() int64 { return max(1, c.Size) }

// fill fills a bin with the item at a place in the order, as often as possible, and then with
// whatever fits.
func (b *builder) fill(bin, at int, mt *meter.Meter) (filled, bool) {
	p, first := b.p, b.order[at]
	kind := &p.Kinds[p.Bins[bin].Kind]
	if kind.Barred != nil && kind.Barred[first] {
		return filled{}, false
	}
	c := filled{bin: bin}
	if p.Items[first].Alone {
		c.uses = []rules.Use{{Item: first, N: 1}}
		x, ok := p.Fill(&rules.Pattern{Bin: bin, Uses: c.uses})
		c.PatternSize = x
		return c, ok
	}
	if b.size[first] > p.Bins[bin].Cap+2*b.deepest {
		return c, false
	}
	if b.loose {
		// All at once; the rules are checked at the end.
		if c.uses = b.most(bin, at); len(c.uses) > 0 {
			x, ok := p.Fill(&rules.Pattern{Bin: bin, Uses: c.uses})
			if c.PatternSize = x; ok {
				return c, true
			}
		}
	}
	f, x, ok := b.oneByOne(bin, first, mt)
	return filled{bin, f.Uses, x}, ok
}

// most returns the items that fit in a bin by size and number, starting with the item at a
// place in the order; it returns nothing if that does not fit.
func (b *builder) most(bin, at int) (uses []rules.Use) {
	p := b.p
	kind := &p.Kinds[p.Bins[bin].Kind]
	residual, count, sorted := p.Bins[bin].Cap, kind.Most, true
	for from := at; ; at++ {
		if at = b.from(at, residual); at == len(b.order) {
			break
		}
		i := b.order[at]
		if kind.Barred != nil && kind.Barred[i] {
			continue
		}
		n := min(b.left[i], residual/max(b.size[i], 1))
		if kind.Most > 0 {
			n = min(n, count/max(1, p.Items[i].Pieces))
		}
		if n <= 0 {
			if at == from {
				return nil
			}
			continue
		}
		sorted = sorted && (len(uses) == 0 || uses[len(uses)-1].Item < i)
		uses = append(uses, rules.Use{Item: i, N: n})
		residual -= n * b.size[i]
		count -= n * p.Items[i].Pieces
	}
	if !sorted {
		slices.SortFunc(uses, func(a, b rules.Use) int { return cmp.Compare(a.Item, b.Item) })
	}
	return uses
}

// oneByOne fills a bin item by item and checks the rules each time.
func (b *builder) oneByOne(bin, first int, mt *meter.Meter) (rules.Pattern, rules.PatternSize, bool) {
	p := b.p
	f := rules.Pattern{Bin: bin}
	var x rules.PatternSize
	put := func(i int) bool {
		for w := range p.Items[i].Orientations {
			if p.Items[i].Orientations[w].Size-2*b.deepest > p.Bins[bin].Cap-x.Size {
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
	if !put(first) {
		// The item alone may be too short to be held; with another it may be long enough.
		var ok bool
		if f, x, ok = b.pair(bin, first, mt); !ok {
			return f, x, false
		}
	}
	for at := b.alive(0); at < len(b.order); at = b.alive(at + 1) {
		i := b.order[at]
		if p.Items[i].Alone {
			continue
		}
		n := b.left[i]
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

// pair fills a bin with an item and the first other one that is allowed with it.
func (b *builder) pair(bin, first int, mt *meter.Meter) (f rules.Pattern, x rules.PatternSize, ok bool) {
	p := b.p
	for at := b.alive(0); at < len(b.order); at = b.alive(at + 1) {
		i := b.order[at]
		if i == first && b.left[i] < 2 || p.Items[i].Alone {
			continue
		}
		if !mt.Watch(64) {
			break
		}
		for w := range p.Items[i].Orientations {
			for v := range p.Items[first].Orientations {
				one := rules.Pattern{Bin: bin, Uses: []rules.Use{{Item: first, Orient: v, N: 1}}}
				f = one.With(i, w, 1)
				if x, ok = p.Fill(&f); ok {
					return f, x, true
				}
			}
		}
	}
	return f, x, false
}

// take cuts the pattern as often as demand and supply allow.
func (b *builder) take(c *filled) rules.ColumnCount {
	n := b.supply[c.bin]
	for _, u := range c.uses {
		b.have[u.Item] += u.N
	}
	for _, u := range c.uses {
		n = min(n, b.left[u.Item]/b.have[u.Item])
	}
	for _, u := range c.uses {
		b.left[u.Item] -= n * b.have[u.Item]
		b.have[u.Item] = 0
	}
	for _, u := range c.uses {
		if b.left[u.Item] == 0 {
			b.next[b.place[u.Item]] = b.place[u.Item] + 1
		}
	}
	b.supply[c.bin] -= n
	return rules.ColumnCount{Column: b.p.Cut(rules.Pattern{Bin: c.bin, Uses: c.uses}, &c.PatternSize), N: n}
}
