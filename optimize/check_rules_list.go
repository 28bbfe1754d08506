package optimize

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// With rules, the columns of a search are patterns and ways of runs. A way of a run consists of its
// parts; a way of a group that comes from one lot is a lot. Both are listed here from the problem alone.
// A list may contain patterns that no stick yields: then the search shows less, but nothing wrong.

// ruleItem is an item: interchangeable articles.
type ruleItem struct {
	article int
	lot     int   // the required lot, -1 for any
	demand  int64 // the least in every plan; the ways of runs take more
	count   int64 // the most in a plan
}

const (
	anyLot    = -1
	noItem    = -1
	maxWorths = 1 << 22 // values of articles by lot
)

// ruleLists lists the columns of a problem with rules.
type ruleLists struct {
	e      *ruleEvidence
	items  []ruleItem
	itemAt map[string]int
	at     [][]int  // per article its item, or one for each lot if its lot is open
	spare  int      // item, noItem if no spares are wanted
	cut    int      // the number of items that are cut; the others stand for clear stretches
	gap    []int    // per class with several clear stretches: the item that stands for the first of them, else noItem
	routes []routes // per run of the problem, then per group that comes from one lot
}

// routes are the ways of a run as a graph. Its nodes are the ends and the positions of the run.
type routes struct {
	arcs  [][]arc // by node; none from the last
	parts int     // the most of a way, 0 for any number
	lots  [][]heldItem
}

// arc is a part between two nodes. Its cost, in units, is that of the splice at its end.
type arc struct {
	to, item int
	cost     int64
}

// lists returns the ruleLists of the problem. It is not ok if ends nest in more shapes than states
// distinguish, or if there are too many items, parts or lots.
//
// If a class has several clear stretches, each of them is an additional item. Every stick of the class yields
// one, and every pattern of the stretch takes one.
func (e *ruleEvidence) lists(unit int64) (r *ruleLists, ok bool) {
	if e.short || len(e.shapes) > maxTold || len(e.articles)*max(1, len(e.lots)) > maxWorths || !e.steps.spend(int64(64*len(e.articles))) {
		return nil, false
	}
	r = &ruleLists{e: e, itemAt: map[string]int{}, spare: noItem}
	total := int64(0)
	for k := range e.articles {
		a := &e.articles[k]
		lots := 1
		if a.lots > 0 {
			lots = len(e.lots)
		}
		if !e.steps.spend(int64(64 * lots)) {
			return nil, false
		}
		at := make([]int, lots)
		for n := range lots {
			at[n] = r.item(k, n)
			it := &r.items[at[n]]
			if it.count += a.count; a.part == 0 && a.lots == 0 {
				it.demand += a.count
			}
			if total += a.count; total >= maxValue {
				return nil, false
			}
		}
		r.at = append(r.at, at)
	}
	if n := int64(e.p.Rules.Spare); n > 0 {
		r.spare = len(r.items)
		r.items = append(r.items, ruleItem{article: -1, lot: anyLot, demand: n, count: n})
	}
	r.cut = len(r.items)
	for c := range e.class {
		r.gap = append(r.gap, noItem)
		if n := len(e.class[c].clear); n > 1 {
			r.gap[c] = len(r.items)
			r.items = append(r.items, slices.Repeat([]ruleItem{{article: -1, lot: anyLot}}, n)...)
		}
	}
	return r, r.runs(unit) && r.lots()
}

// item returns the item of an article; if the article's lot is open, the item for the given lot.
// Articles are one item if they lie in the same ways and agree in grade, in lot and, with MinHold,
// in the properties that it needs. Pieces that stay together are one item.
func (r *ruleLists) item(article, lot int) int {
	a := &r.e.articles[article]
	it := ruleItem{article: article, lot: anyLot}
	switch {
	case a.lots > 0:
		it.lot = lot
	case a.begun:
		if it.lot = slices.Index(r.e.lots, a.lot); it.lot < 0 {
			it.lot = len(r.e.lots) // no stick is of this lot
		}
	}
	holds := r.e.p.Rules.MinHold > 0
	look := fmt.Sprint(a.grade, it.lot, holds && a.long, holds && a.bare, a.ways)
	if len(a.pieces) > 1 {
		look = fmt.Sprint("group", article)
	}
	k, known := r.itemAt[look]
	if !known {
		k = len(r.items)
		r.itemAt[look] = k
		r.items = append(r.items, it)
	}
	return k
}

// runs computes the routes of runs, and the items of their parts.
func (r *ruleLists) runs(unit int64) bool {
	e := r.e
	for k := range e.p.Runs {
		run := &e.p.Runs[k]
		nodes := append(append([]measure.Length{0}, run.Splice.At...), run.Length)
		out := routes{arcs: make([][]arc, len(nodes)-1)}
		if m := run.Splice.MaxSplices; m > 0 && m < len(run.Splice.At) {
			out.parts = m + 1
		}
		for i := range out.arcs {
			if !e.steps.spend(int64(8 * (len(nodes) - i))) {
				return false
			}
			for j := i + 1; j < len(nodes); j++ {
				pc, ok := e.part(run, nodes, i, j)
				if !ok || pc.Length > e.reach {
					continue
				}
				a := arc{to: j, item: r.at[e.partAt[e.lookOf(&pc)]][0]}
				if j < len(nodes)-1 {
					a.cost = run.Splice.Price / unit
				}
				out.arcs[i] = append(out.arcs[i], a)
			}
		}
		r.routes = append(r.routes, out)
	}
	return true
}

// lots computes the routes of groups from one lot: the items that a group takes, for each lot.
func (r *ruleLists) lots() bool {
	e := r.e
	articleOf := make(map[int]int, len(e.p.Pieces))
	for k := range e.articles {
		if a := &e.articles[k]; a.lots > 0 {
			articleOf[a.pieces[0]] = k
		}
	}
	for g := range e.p.Rules.Groups {
		gr := &e.p.Rules.Groups[g]
		if gr.Kind != GroupOneLot || gr.Started {
			continue
		}
		out := routes{lots: make([][]heldItem, len(e.lots))}
		for n := range e.lots {
			if !e.steps.spend(int64(8 * len(gr.Pieces))) {
				return false
			}
			for _, i := range gr.Pieces {
				k, known := articleOf[i]
				if !known {
					return false // too many lots to distinguish
				}
				out.lots[n] = append(out.lots[n], heldItem{int32(r.at[k][n]), int64(wanted(e.p, i))})
			}
		}
		r.routes = append(r.routes, out)
	}
	return true
}

func (r *ruleLists) work() **effort { return &r.e.steps }

// counts returns the numbers of items and classes that a vector has values for.
func (r *ruleLists) counts() (items, classes int) { return len(r.items), len(r.e.class) }

// top returns the greatest cost of a plan in the box below LeafBound, in units.
func (r *ruleLists) top(l *leaf, pr *exhibit) (most int64, some, known bool) {
	if l.Sums {
		o := r.e.outlay(l)
		if o == nil {
			return 0, true, false
		}
		sum, some, known := o.last(pr.leafBound, r.e.steps)
		return sum / pr.unit, some, known
	}
	return (pr.leafBound - 1) / pr.unit, true, true
}

func (r *ruleLists) checkFilter(f *vector, _ *exhibit) error {
	for _, v := range f.Items {
		if v < 0 || v >= maxValue {
			return misfit("a value out of range")
		}
	}
	if f.Scale < 1 {
		return misfit("a scale below one")
	}
	return nil
}

// sieve is evidence.sieve for a problem with rules. A way of a run passes if it is not much worse than the
// best way.
func (r *ruleLists) sieve(box *leaf, f *vector, most int64, pr *exhibit) (g sieve, shown, ok bool) {
	e := r.e
	l := leaf{Lo: box.Lo, Hi: box.Hi, Used: box.Used, Scale: f.Scale}
	if r.spare != noItem {
		l.Spare = f.Items[r.spare]
	}
	if !e.steps.spend(int64(len(r.items) + len(e.articles)*len(e.lots) + 8*len(e.class))) {
		return g, false, false
	}
	w, h := e.weights(&l), r.holding(&l, f)
	g = sieve{value: slices.Clone(f.Items), need: make([]int64, len(e.class)), needs: make([][]int64, len(e.class)), scale: f.Scale, ways: make([]int64, len(r.routes))}
	var num int128
	for i := range r.items {
		num = num.add(mul(f.Items[i], r.items[i].demand))
	}
	for k := range r.routes {
		v, ok := r.least(k, &g)
		if !ok {
			return g, false, false
		}
		g.ways[k] = v
		num = num.add(mul(v, 1))
	}
	opening, terms := make([]int64, len(e.class)), make([]int128, len(e.class))
	for c := range e.class {
		lo, hi := e.counts(&l, c)
		if hi == 0 {
			continue
		}
		k, _, o := e.yields(&l, c, lo == 0, &w, pr.unit, h)
		if o != worked {
			return g, false, false
		}
		term, known := e.use(&e.class[c], lo, hi, w.cost, pr.unit, k)
		some, also := e.use(&e.class[c], max(lo, 1), hi, w.cost, pr.unit, k)
		if !known || !also {
			return g, false, false
		}
		terms[c], g.need[c] = term, k
		if v, fits := some.sub(term).int64(); fits {
			opening[c] = max(0, v)
		} else {
			opening[c] = math.MaxInt64
		}
	}
	num = num.add(e.charged(&l, l.Lo, w.cost, pr.unit, terms))
	least := mul(f.Scale, most)
	switch {
	case num.over || !e.steps.awaited(0):
		return g, false, false
	case least.less(num):
		return g, true, true
	}
	gap, ok := least.sub(num).int64()
	if !ok || gap >= noWay {
		return g, false, false
	}
	for k := range g.ways {
		g.ways[k] += gap
	}
	return g, false, r.needs(&g, opening, gap, pr.unit, h)
}

// holding returns the most valuable patterns of sticks by a filter's values of items.
func (r *ruleLists) holding(l *leaf, f *vector) *ruleHolding {
	h := r.e.holding(l)
	for n := range max(1, len(r.e.lots)) {
		h.worth[n] = make([]int64, len(r.e.articles))
		for k := range r.e.articles {
			h.worth[n][k] = f.Items[r.at[k][min(n, len(r.at[k])-1)]]
		}
	}
	return h
}

// needs computes the value that a filter requires of the patterns of each class; on entry, it is K. The gap
// is the amount by which a plan's cost may exceed the bound, and the opening is the amount by which the first
// stick of a class raises the bound.
func (r *ruleLists) needs(g *sieve, opening []int64, gap, unit int64, h *ruleHolding) bool {
	for c := range r.e.class {
		need := mul(g.need[c], 1).add(mul(opening[c], 1)).sub(mul(gap, 1))
		if r.e.class[c].yard {
			need = need.add(mul(r.e.p.Rules.YardCut/unit, g.scale))
		}
		v, fits := need.int64()
		switch {
		case !fits && need.sign() > 0:
			v = math.MaxInt64
		case !fits:
			v = 0
		}
		g.need[c] = max(0, v)
		if r.gap[c] != noItem && !r.stretchNeeds(c, g, opening[c], gap, h) {
			return false
		}
	}
	return true
}

// stretchNeeds computes the value that a filter requires of the patterns of each clear stretch of a class.
func (r *ruleLists) stretchNeeds(c int, g *sieve, opening, gap int64, h *ruleHolding) bool {
	for n := range r.e.class[c].clear {
		k, _, o := h.stretch(c, n, 0)
		if o != worked {
			return false
		}
		v, fits := mul(k, 1).add(mul(opening, 1)).sub(mul(gap, 1)).int64()
		if !fits {
			v = math.MaxInt64 // the opening is as great
		}
		g.needs[c] = append(g.needs[c], max(0, v))
	}
	return true
}

// least returns the value of the cheapest way of a run by a filter. It is not ok if that overflows.
func (r *ruleLists) least(run int, g *sieve) (int64, bool) {
	rt := &r.routes[run]
	if rt.lots == nil {
		rest, ok := r.rest(rt, g)
		if !ok || rest[0][0] == noWay {
			return 0, false
		}
		return rest[0][0], true
	}
	least := int64(noWay)
	for n := range rt.lots {
		v, ok := r.worth(rt.lots[n], 0, g)
		if !ok {
			return 0, false
		}
		least = min(least, v)
	}
	return least, least != noWay
}

// worth returns the value of items, and of a cost in units, by a filter.
func (r *ruleLists) worth(held []heldItem, cost int64, g *sieve) (int64, bool) {
	sum := mul(cost, g.scale)
	for _, h := range held {
		sum = sum.add(mul(h.times, g.value[h.item]))
	}
	v, ok := sum.int64()
	return v, ok && v < noWay
}

// noWay is above the value of any way.
const noWay = maxValue / 4

// rest returns the value of the cheapest rest of a way by a filter: by the number of parts before
// it, if that matters, and by the node where it begins.
func (r *ruleLists) rest(rt *routes, g *sieve) (rest [][]int64, ok bool) {
	nodes, layers := len(rt.arcs)+1, rt.parts+1
	if nodes > (1<<20)/layers {
		return nil, false
	}
	for range layers {
		rest = append(rest, slices.Repeat([]int64{noWay}, nodes))
	}
	for k := layers - 1; k >= 0; k-- {
		rest[k][nodes-1] = 0
		for i := nodes - 2; i >= 0; i-- {
			if !r.e.steps.spend(int64(1 + len(rt.arcs[i]))) {
				return nil, false
			}
			next := k
			if rt.parts > 0 {
				if next = k + 1; next == layers {
					continue
				}
			}
			for _, a := range rt.arcs[i] {
				if rest[next][a.to] == noWay {
					continue
				}
				v, fits := mul(a.cost, g.scale).add(mul(g.value[a.item], 1)).add(mul(rest[next][a.to], 1)).int64()
				if !fits || v >= noWay {
					return nil, false
				}
				rest[k][i] = min(rest[k][i], v)
			}
		}
	}
	return rest, true
}

// ruleList is the part of a list that only problems with rules need.
type ruleList struct {
	of      *ruleLists
	box     *leaf
	unit    int64
	ways    [][]int32 // per way: the nodes that it passes, or its lot
	mostOwn int64     // the greatest cost of a column besides its stick's, in units
	least   []int64   // per run, for leastWays
	some    []bool
	terms   []int128
}

// list lists the columns that pass all sieves.
func (r *ruleLists) list(box *leaf, sieves []sieve, unit int64) (*list, bool) {
	e := r.e
	out := &list{evidence: &evidence{steps: e.steps, class: make([]stickClass, len(e.class)), size: make([]int64, len(r.items)), count: make([]int64, len(r.items))}}
	out.rules = &ruleList{of: r, box: box, unit: unit, least: make([]int64, len(r.routes)), some: make([]bool, len(r.routes)), terms: make([]int128, len(e.class))}
	for i := range r.items {
		out.count[i], out.demand = r.items[i].count, append(out.demand, r.items[i].demand)
	}
	for c := range e.class {
		_, hi := e.counts(box, c)
		if hi == 0 {
			continue
		}
		if e.class[c].yard {
			out.rules.mostOwn = max(out.rules.mostOwn, e.p.Rules.YardCut/unit)
		}
		for n := range e.class[c].clear {
			if !r.listPatterns(c, n, hi, sieves, out) {
				return nil, false
			}
		}
	}
	for k := range r.routes {
		if !r.listWays(k, sieves, out) {
			return nil, false
		}
	}
	out.mostPieces = out.mostItems()
	return out, e.steps.spend(int64(len(out.held)))
}

// mostItems returns the greatest number of items in a column, or of clear stretches of a stick.
func (l *list) mostItems() (most int64) {
	for k := range l.all {
		n := int64(0)
		for _, h := range l.held[l.all[k].from:l.all[k].to] {
			n += max(h.times, -h.times)
		}
		most = max(most, n)
	}
	for c := range l.rules.of.e.class {
		most = max(most, int64(len(l.rules.of.e.class[c].clear)))
	}
	return most
}

// listPatterns adds the patterns of a clear stretch of a class that pass all sieves.
func (r *ruleLists) listPatterns(c, stretch int, hi int64, sieves []sieve, out *list) bool {
	if !r.e.steps.spend(int64(8*len(r.items) + len(sieves)*len(r.e.class))) {
		return false
	}
	f := r.fit(c, stretch)
	if !f.spares(out, sieves, hi) {
		return false
	}
	own := sieves
	if r.gap[c] != noItem {
		own = slices.Clone(sieves)
		for k := range own {
			own[k].need = slices.Clone(own[k].need)
			own[k].need[c] = own[k].needs[c][stretch]
		}
	}
	w := lister{list: out, class: c, room: f.room, size: f.size, count: f.count, sieves: own, at: make([]int64, len(r.items)), hi: hi}
	w.whole = func(room int64) bool { return f.maximal(w.at, room) }
	if r.e.class[c].yard {
		w.own = r.e.p.Rules.YardCut / out.rules.unit
	}
	if m := int64(r.e.p.Rules.MaxPieces); m > 0 {
		w.pieces, w.most = f.pieces, m
	}
	first := len(out.all)
	if !w.prepare() || !w.from(0, w.room, 0) {
		return false
	}
	if r.gap[c] != noItem {
		out.takeStretch(first, r.gap[c]+stretch)
	}
	return len(out.held) <= maxHeld && r.e.steps.spend(int64(len(out.held)))
}

// takeStretch adds one of an item to the patterns from the given one on.
func (l *list) takeStretch(first, item int) {
	held := slices.Clone(l.held)
	if first < len(l.all) {
		held = held[:l.all[first].from]
	}
	for k := first; k < len(l.all); k++ {
		p := &l.all[k]
		from := int32(len(held))
		held = append(append(held, l.held[p.from:p.to]...), heldItem{int32(item), -1})
		p.from, p.to = from, int32(len(held))
	}
	l.held = held
}

// listWays adds the ways of a run that pass all sieves.
func (r *ruleLists) listWays(run int, sieves []sieve, out *list) bool {
	rt := &r.routes[run]
	if rt.lots != nil {
		for n, held := range rt.lots {
			if !r.addWay(run, held, 0, []int32{int32(n)}, sieves, out) {
				return false
			}
		}
		return true
	}
	g := &sieves[0]
	rest, ok := r.rest(rt, g)
	if !ok {
		return false
	}
	var held []heldItem
	var nodes []int32
	var from func(k, node int, value, cost int64) bool
	from = func(k, node int, value, cost int64) bool {
		if node == len(rt.arcs) {
			return r.addWay(run, held, cost, nodes, sieves, out)
		}
		if rt.parts > 0 {
			if k++; k > rt.parts {
				return true
			}
		}
		for _, a := range rt.arcs[node] {
			if !r.e.steps.spend(4) {
				return false
			}
			if rest[k][a.to] == noWay {
				continue
			}
			// None of this overflows: rest has added up the same.
			v := value + a.cost*g.scale + g.value[a.item]
			if v+rest[k][a.to] > g.ways[run] {
				continue
			}
			held, nodes = append(held, heldItem{int32(a.item), 1}), append(nodes, int32(a.to))
			if !from(k, a.to, v, cost+a.cost) {
				return false
			}
			held, nodes = held[:len(held)-1], nodes[:len(nodes)-1]
		}
		return true
	}
	return from(0, 0, 0, 0)
}

// addWay adds a way of a run if it passes all sieves. It reports false if there are too many.
func (r *ruleLists) addWay(run int, held []heldItem, cost int64, passes []int32, sieves []sieve, out *list) bool {
	if !r.e.steps.spend(int64(8 + len(sieves)*len(held))) {
		return false
	}
	for k := range sieves {
		v, ok := r.worth(held, cost, &sieves[k])
		if !ok {
			return false
		}
		if v > sieves[k].ways[run] {
			return true
		}
	}
	p := pattern{class: int32(len(r.e.class) + run), from: int32(len(out.held)), most: 1, own: cost, at: len(out.rules.ways)}
	sorted := slices.Clone(held)
	slices.SortFunc(sorted, func(a, b heldItem) int { return int(a.item) - int(b.item) })
	for _, h := range sorted {
		if n := len(out.held) - 1; n >= int(p.from) && out.held[n].item == h.item {
			out.held[n].times -= h.times
		} else {
			out.held = append(out.held, heldItem{h.item, -h.times})
		}
	}
	p.to = int32(len(out.held))
	out.rules.ways = append(out.rules.ways, slices.Clone(passes))
	out.rules.mostOwn = max(out.rules.mostOwn, cost)
	out.all = append(out.all, p)
	return len(out.all) <= maxListed && len(out.held) <= maxHeld
}

// begin sets the ranges of counts at the root: a class of a supplier that the box excludes is not
// used.
func (l *ruleList) begin(lo, hi []int64) {
	for c := range lo {
		lo[c], hi[c] = l.of.e.counts(l.box, c)
	}
}

// sticks returns the least cost of sticks, less their values by a vector, for counts in the
// ranges.
func (l *ruleList) sticks(lo, hi []int64, v *vector) (int128, bool) {
	e := l.of.e
	if !e.steps.spend(int64(len(e.p.Rules.Charges))) {
		return int128{}, false
	}
	for c := range e.class {
		worth := v.Classes[c]
		if at := l.of.gap[c]; at != noItem {
			for n := range e.class[c].clear {
				worth += v.Items[at+n]
			}
		}
		var ok bool
		if l.terms[c], ok = e.use(&e.class[c], lo[c], hi[c], v.Scale, l.unit, worth); !ok {
			return int128{}, false
		}
	}
	return e.charged(l.box, lo, v.Scale, l.unit, l.terms), true
}

// leastWays returns the sum of the least reduced costs of each run's ways, and subtracts these
// from the reduced costs of all ways. If a run has no way left there is no plan: the sum is then
// beyond any cost.
func (l *ruleList) leastWays(w *walker) (sum int128) {
	clear(l.some)
	n := len(w.class)
	for _, j := range w.active {
		if k := int(w.all[j].class) - n; k >= 0 && (!l.some[k] || w.rc[j] < l.least[k]) {
			l.least[k], l.some[k] = w.rc[j], true
		}
	}
	for k := range l.least {
		if !l.some[k] {
			return mul(maxValue, maxValue)
		}
		sum = sum.add(mul(l.least[k], 1))
	}
	for _, j := range w.active {
		if k := int(w.all[j].class) - n; k >= 0 {
			w.rc[j] -= l.least[k]
		}
	}
	return sum
}

// branchOnWay verifies both children of a node that branches on whether the way of a run passes a node.
func (w *walker) branchOnWay(at *passing) bool {
	if w.rules == nil || at.Run >= len(w.rules.least) {
		return w.refuse(fmt.Sprintf("run %d", at.Run), "a run, or a group that comes from one lot")
	}
	for _, pass := range [2]bool{false, true} {
		all := len(w.active)
		if !w.spend(all) {
			return false
		}
		w.keepWays(at, pass)
		holds := w.node()
		w.active = w.active[:all]
		if !holds {
			return false
		}
	}
	return true
}

// keepWays keeps the ways of a run that pass a node, or only the others. The excluded ways move behind the
// rest.
func (w *walker) keepWays(at *passing, pass bool) {
	kept := 0
	for k, j := range w.active {
		p := &w.all[j]
		if int(p.class) == len(w.class)+at.Run && slices.Contains(w.rules.ways[p.at], int32(at.At)) != pass {
			continue
		}
		w.active[k], w.active[kept] = w.active[kept], j
		kept++
	}
	w.active = w.active[:kept]
}
