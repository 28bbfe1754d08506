package optimize

import (
	"cmp"
	"slices"
)

// A search goes over the patterns that a plan below the claimed bound can use. They are listed here
// from the problem and the filters of the search alone; the proof does not contain them.

// The limits of a list.
const (
	maxListed = 1 << 17 // patterns
	maxHeld   = 1 << 20 // items in them
)

// pattern has the items cut from one stick of a class: held[from:to] of a list. With rules it may also be a
// way of a run: its class is the number of classes plus that of the run, and its counts are below zero, since
// a way takes items.
type pattern struct {
	class    int32
	from, to int32
	most     int64 // a plan of the least cost with the fewest sticks uses it no more often
	own      int64 // its cost, in units, besides the stick's
	at       int   // of a way: its number in ruleList.ways
}

// heldItem is an item of a pattern with its count.
type heldItem struct {
	item  int32
	times int64
}

// list is a list of patterns.
type list struct {
	*evidence          // of items: without rules the sizes of pieces, ascending
	demand     []int64 // of items: the least number in a plan; count has the greatest
	all        []pattern
	held       []heldItem
	mostPieces int64     // in one pattern
	rules      *ruleList // nil without rules
}

// itemized returns the evidence with items in place of pieces. It is not ok if there are too many
// pieces of one size.
func (e *evidence) itemized() (*evidence, bool) {
	out := &evidence{class: e.class, steps: e.steps, lastBox: &boxSums{}}
	for _, k := range bySize(e.size) {
		n := len(out.size)
		if n == 0 || out.size[n-1] != e.size[k] {
			out.size, out.count = append(out.size, e.size[k]), append(out.count, 0)
			n++
		}
		if out.count[n-1] += e.count[k]; out.count[n-1] >= maxValue {
			return nil, false
		}
	}
	return out, true
}

// bySize returns the order of sizes, the least first.
func bySize(size []int64) []int {
	order := make([]int, len(size))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(size[a], size[b]) })
	return order
}

// sieve is the least value of their items that a filter requires of patterns.
type sieve struct {
	value []int64 // of items
	need  []int64 // of classes

	// With rules:
	needs [][]int64 // of clear stretches, for classes that have several
	scale int64
	ways  []int64 // per run: the greatest value of a way
}

// sieve returns the requirement of a filter for the patterns of plans in a box that cost at most the given
// number of units. The filter alone may show that there are none. It is not ok if sums overflow or the
// context ended.
//
// The cost of a plan times the scale is the numerator of the formula at Proof, plus the amount by which each
// of its patterns yields less than K, plus the amount by which the cost of each stick that need not be used
// exceeds K.
func (e *evidence) sieve(box *leaf, f *vector, most int64, pr *exhibit) (g sieve, shown, ok bool) {
	l := leaf{Lo: box.Lo, Hi: box.Hi, Values: f.Items, Scale: f.Scale}
	num, _, ok := e.numerator(&l, pr)
	if !ok || !e.steps.awaited(0) {
		return g, false, false
	}
	least := mul(f.Scale, most)
	if least.less(num) {
		return g, true, true
	}
	gap, ok := least.add(num.negative()).int64()
	if !ok {
		return g, false, false
	}
	h, _ := e.known.of(&l)
	g = sieve{value: slices.Clone(f.Items), need: make([]int64, len(e.class))}
	for c := range e.class {
		if l.Hi[c] == 0 {
			continue
		}
		k := h.best[c]
		if l.Lo[c] == 0 {
			k = max(k, e.class[c].cost/pr.unit*l.Scale)
		}
		if g.need[c] = 0; gap < k {
			g.need[c] = k - gap
		}
	}
	return g, false, true
}

// list lists the maximal patterns that pass all sieves; the first sieve guides the enumeration. It is not ok
// if there are too many, or it takes too many steps.
func (e *evidence) list(box *leaf, sieves []sieve, _ int64) (*list, bool) {
	out := &list{evidence: e, demand: e.count}
	for c := range e.class {
		if box.Hi[c] == 0 {
			continue
		}
		w := lister{list: out, class: c, room: e.class[c].room, size: e.size, count: e.count, sieves: sieves, at: make([]int64, len(e.size)), hi: box.Hi[c]}
		w.whole = func(room int64) bool {
			for i := 0; i < len(w.size) && w.size[i] <= room; i++ {
				if w.at[i] < w.count[i] {
					return false
				}
			}
			return true
		}
		if !w.prepare() || !w.from(0, w.room, 0) {
			return nil, false
		}
	}
	return out, true
}

// lister lists the patterns of one class.
type lister struct {
	*list
	class  int
	room   int64
	size   []int64 // of items: the least if they may lie in several ways
	count  []int64 // of items: the greatest number in a pattern
	hi     int64
	own    int64 // cost of a pattern, in units, besides its stick
	sieves []sieve
	whole  func(room int64) bool // reports whether the present pattern, which leaves the given room, is maximal

	pieces []int64 // per item; nil if pieces are not counted
	most   int64   // pieces that may still be added

	order []int     // items by ascending value for their size
	sets  [][]state // by place in the order: the undominated sets of the items from there on
	at    []int64   // of each item in the present pattern
}

// prepare computes the sets of the items from each place in the order on. It leaves out sets that
// cannot be part of a pattern that passes the first sieve.
func (w *lister) prepare() bool {
	value, need := w.sieves[0].value, w.sieves[0].need[w.class]
	if !w.steps.spend(int64(4 * len(w.size))) {
		return false
	}
	for i := range w.size {
		if w.count[i] > 0 && w.size[i] <= w.room {
			w.order = append(w.order, i)
		}
	}
	slices.SortStableFunc(w.order, func(a, b int) int { return cmpProducts(value[a], w.size[b], value[b], w.size[a]) })
	w.sets = make([][]state, len(w.order)+1)
	w.sets[len(w.order)] = []state{{}}
	kept := 0
	for k := len(w.order) - 1; k >= 0; k-- {
		i := w.order[k]
		before := lot{size: 1}
		if k > 0 {
			j := w.order[k-1]
			before = lot{size: w.size[j], value: value[j]}
		}
		set := w.sets[k+1]
		left := min(w.count[i], w.room/w.size[i])
		for n := int64(1); left > 0; n *= 2 {
			n = min(n, left)
			left -= n
			if !w.steps.spend(int64(4*len(set))) || len(set) > maxStates {
				return false
			}
			set = widened(set, state{n * w.size[i], n * value[i]}, w.room)
		}
		enough := make([]state, 0, len(set))
		for _, s := range set {
			if more := rate(before, w.room-s.size); more >= need-s.value {
				enough = append(enough, s)
			}
		}
		if kept += len(enough); kept > maxStates {
			return false
		}
		w.sets[k] = enough
	}
	return true
}

// widened returns the undominated sets among those of a list and the same sets with more added.
func widened(list []state, more state, room int64) []state {
	out := make([]state, 0, 2*len(list))
	top := int64(-1)
	add := func(s state) {
		if s.value > top {
			top = s.value
			out = append(out, s)
		}
	}
	j := 0
	for _, s := range list {
		for ; j < len(list) && list[j].size <= room-more.size; j++ {
			m := state{list[j].size + more.size, list[j].value + more.value}
			if m.size > s.size || m.size == s.size && m.value <= s.value {
				break
			}
			add(m)
		}
		add(s)
	}
	for ; j < len(list) && list[j].size <= room-more.size; j++ {
		add(state{list[j].size + more.size, list[j].value + more.value})
	}
	return out
}

// from enumerates the patterns that begin like the present one, from a place in the order on. It
// returns false if there are too many.
func (w *lister) from(k int, room, value int64) bool {
	if k == len(w.order) {
		return w.add(room)
	}
	i := w.order[k]
	need := w.sieves[0].need[w.class]
	ok := true
	most := min(w.count[i], room/w.size[i])
	if w.pieces != nil {
		before := w.most
		defer func() { w.most = before }()
		most = min(most, before/w.pieces[i])
		w.most -= (most + 1) * w.pieces[i]
	}
	for n := most; n >= 0 && ok; n-- {
		if !w.steps.spend(4) {
			return false
		}
		if w.pieces != nil {
			w.most += w.pieces[i]
		}
		left, v := room-n*w.size[i], value+n*w.sieves[0].value[i]
		if most := best(w.sets[k+1], left); most < 0 || v+most < need {
			continue
		}
		w.at[i] = n
		ok = w.from(k+1, left, v)
	}
	w.at[i] = 0
	return ok
}

// best returns the greatest value of sets that fit the room, -1 if none does.
func best(sets []state, room int64) int64 {
	n, _ := slices.BinarySearchFunc(sets, room, func(s state, room int64) int {
		if s.size <= room {
			return -1
		}
		return 1
	})
	if n == 0 {
		return -1
	}
	return sets[n-1].value
}

// add adds the present pattern, which leaves the given room, if it is maximal and passes the
// other sieves. It returns false if there are too many.
func (w *lister) add(room int64) bool {
	if !w.whole(room) {
		return w.steps.left >= 0
	}
	p := pattern{class: int32(w.class), from: int32(len(w.held)), own: w.own}
	pieces := int64(0)
	for i, n := range w.at {
		if n > 0 {
			w.held = append(w.held, heldItem{int32(i), n})
			pieces += n
			p.most = max(p.most, (w.count[i]+n-1)/n)
		}
	}
	p.to, p.most = int32(len(w.held)), min(p.most, w.hi)
	ok := w.steps.spend(int64(len(w.at))/4 + int64(len(w.sieves))*int64(p.to-p.from))
	for k := 1; k < len(w.sieves); k++ {
		v := int64(0)
		for _, h := range w.held[p.from:p.to] {
			v += h.times * w.sieves[k].value[h.item]
		}
		if v < w.sieves[k].need[w.class] {
			w.held = w.held[:p.from]
			return ok
		}
	}
	w.mostPieces = max(w.mostPieces, pieces)
	w.all = append(w.all, p)
	return ok && len(w.all) <= maxListed && len(w.held) <= maxHeld
}
