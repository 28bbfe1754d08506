package optimize

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// What follows is a dynamic program over sets of goods, one good after the other. A set has a
// state: whether a good in it can be held at the saw, how many pieces it has, and by how many
// more ends of each shape it has at the left than at the right. Of sets in one state only those
// are kept that no other beats in size and value (E. Horowitz and S. Sahni, as in fill), and of
// those only the ones that might still come to more than the best set known.
//
// A set takes its goods' sizes, each less half of what both its ends might save, and what the ends that
// find no partner do not save: of a shape with l ends at the left and r at the right, min(l, r)
// pairs save a setback each, so |l-r| ends are to be added by half. The order in which all these pairs meet
// exists (Euler's condition for trails) unless shapes that are connected by pieces close up: every end of
// each of them would meet another. Such a ring has to be opened once, at the least of its setbacks. So a
// state also has which shapes are connected, and which of them with an end that does not nest.
//
// Of more shapes than a state tells apart the others save all that they might. So what a set takes
// is never overrated.

// ruleState is the state of a set.
type ruleState struct {
	held bool // or nothing has to be
	some bool // it has a good, or need not
	n    int32
	lean [maxTold]int32
	link [maxTold]uint8 // 0: no end has the shape; equal: they are connected; open: with an end that does not nest
}

const (
	maxTold       = 8       // shapes that are told apart
	maxRuleStates = 400     // states for one number of pieces
	maxCopies     = 100     // of a good that may lie in several ways
	maxLean       = 1 << 20 // ends of one shape more at one side than at the other
)

type automaton struct {
	f       *filler
	rest    []prospect // of the goods from each one on, and from none
	setback [maxTold]int64
	at      []int // per shape: its place in a state, -1 where it is not told apart
	told    bool  // all shapes are
	best    int64
	over    bool // sums have left their range
}

// prospect is what goods that are still to come can do for a set.
type prospect struct {
	good        *good // the most valuable for its size, nil where there is none
	long        bool  // one can be held
	left, right [maxTold]bool
}

// setsOf are the sets of one state, ascending in size and value.
type setsOf struct {
	key  ruleState
	list []state
}

// automaton returns one that tells shapes of ends apart or does not.
func (f *filler) automaton(shapes bool) *automaton {
	a := &automaton{f: f, at: slices.Repeat([]int{-1}, len(f.e.shapes))}
	if !shapes {
		return a
	}
	// The greatest setbacks first.
	met, seen := []int(nil), make([]bool, len(f.e.shapes))
	for k := range f.goods {
		for _, w := range f.goods[k].ways {
			for _, s := range [2]int{w.left, w.right} {
				if s != noShape && !seen[s] {
					met, seen[s] = append(met, s), true
				}
			}
		}
	}
	slices.SortStableFunc(met, func(x, y int) int { return cmp.Compare(f.e.shapes[y].setback, f.e.shapes[x].setback) })
	a.told = len(met) <= maxTold
	for k, s := range met[:min(len(met), maxTold)] {
		a.at[s] = k
		a.setback[k] = int64(f.e.shapes[s].setback)
	}
	return a
}

// look works out what each good and those after it can do.
func (a *automaton) look() {
	goods := a.f.goods
	a.rest = make([]prospect, len(goods)+1)
	for k := len(goods) - 1; k >= 0; k-- {
		r := a.rest[k+1]
		r.good = &goods[k]
		r.long = r.long || goods[k].long
		for _, w := range goods[k].ways {
			if c := a.place(w.left); c >= 0 {
				r.left[c] = true
			}
			if c := a.place(w.right); c >= 0 {
				r.right[c] = true
			}
		}
		a.rest[k] = r
	}
}

// place returns where states tell of a shape, -1 where they do not.
func (a *automaton) place(shape int) int {
	if shape == noShape {
		return -1
	}
	return a.at[shape]
}

// run returns the greatest value, or from where that is greater; not ok where there are too many
// states, sets or steps.
func (a *automaton) run(from int64) (int64, bool) {
	f := a.f
	a.look()
	a.best = from
	a.single()
	first := ruleState{held: f.short == f.room, some: !f.some}
	now := []setsOf{{first, []state{{}}}}
	for k := range f.goods {
		g := &f.goods[k]
		left := min(g.count, f.room/g.size)
		if f.count > 0 {
			left = min(left, int64(f.count)/g.n)
		}
		if len(g.ways) > 1 && left > maxCopies {
			return 0, false
		}
		for n := int64(1); left > 0; {
			n = min(n, left)
			left -= n
			rest := &a.rest[k+1]
			if left > 0 {
				rest = &a.rest[k]
			}
			var ok bool
			if now, ok = a.add(now, g, n, rest); !ok {
				return 0, false
			}
			if len(g.ways) == 1 {
				n *= 2 // all numbers are sums of these
			}
		}
	}
	return a.best, true
}

// single looks at goods that take the whole stick and are not cut from it.
func (a *automaton) single() {
	if !a.f.span.whole {
		return
	}
	for k := range a.f.goods {
		if g := &a.f.goods[k]; g.bare && g.size == a.f.room {
			a.best = max(a.best, g.value)
		}
	}
}

// add returns the sets with and without n more of a good; rest is what is to come after it.
func (a *automaton) add(now []setsOf, g *good, n int64, rest *prospect) (next []setsOf, ok bool) {
	index := make(map[ruleState]int, len(now))
	value, fits := mul(g.value, n).int64()
	if !fits || value <= -maxValue {
		return nil, false
	}
	all := 0
	push := func(key ruleState, list []state, more state) bool {
		k, known := index[key]
		if !known {
			if k = len(next); k >= maxRuleStates*(a.f.count+1) {
				return false
			}
			index[key] = k
			next = append(next, setsOf{key: key})
		}
		at := &next[k]
		if !a.f.e.steps.spend(int64(len(list) + len(at.list) + 32)) {
			return false
		}
		all -= len(at.list)
		at.list = a.merge(key, at.list, list, more, rest)
		all += len(at.list)
		return all <= maxStates && !a.over
	}
	for _, s := range now {
		if !push(s.key, s.list, state{}) {
			return nil, false
		}
		for _, w := range g.ways {
			size, fits := mul(w.size, n).int64()
			if !fits || size > a.f.room {
				continue
			}
			key, may, fits := a.step(s.key, g, w, n)
			if !fits || may && !push(key, s.list, state{size, value}) {
				return nil, false
			}
		}
	}
	return slices.DeleteFunc(next, func(s setsOf) bool { return len(s.list) == 0 }), true
}

// step returns the state of a set with n more of a good, and whether it may have them. It does not
// fit where numbers leave their range.
func (a *automaton) step(key ruleState, g *good, w lying, n int64) (to ruleState, may, fits bool) {
	key.held, key.some = key.held || g.long, true
	if n > maxLean {
		return key, false, false
	}
	if a.f.count > 0 {
		all := int64(key.n) + n*g.n // no more than maxLean pieces of a good together, each of a piece of the problem
		if all > int64(a.f.count) {
			return key, false, true
		}
		key.n = int32(all)
	}
	l, r := a.place(w.left), a.place(w.right)
	for _, at := range [2]struct {
		c  int
		by int64
	}{{l, n}, {r, -n}} {
		if at.c < 0 {
			continue
		}
		by := int64(key.lean[at.c]) + at.by
		if by < -maxLean || by > maxLean {
			return key, false, false
		}
		key.lean[at.c] = int32(by)
	}
	key.connect(l, r)
	return key, true, true
}

// open is the link of shapes that are connected with an end that does not nest.
const open = math.MaxUint8

// connect connects two shapes, of which one below zero is an end that does not nest.
func (s *ruleState) connect(l, r int) {
	link := func(c int) uint8 {
		switch {
		case c < 0:
			return open
		case s.link[c] == 0:
			s.link[c] = uint8(c + 1)
		}
		return s.link[c]
	}
	x, y := link(l), link(r)
	to := min(x, y)
	if max(x, y) == open {
		to = open
	}
	for c, k := range s.link {
		if k != 0 && (k == x || k == y) {
			s.link[c] = to
		}
	}
}

// rings returns what it takes to open the rings of a state.
func (a *automaton) rings(key *ruleState) (size int64) {
	var least [maxTold + 1]int64 // by link
	var free [maxTold + 1]bool
	for c, k := range key.link {
		if k == 0 || k == open {
			continue
		}
		free[k] = free[k] || key.lean[c] != 0
		if least[k] == 0 || a.setback[c] < least[k] {
			least[k] = a.setback[c]
		}
	}
	for k := range least {
		if !free[k] {
			size += 2 * least[k]
		}
	}
	return size
}

// unpaired returns what the ends of a state that find no partner take, of those for which nothing
// that is to come has one.
func (a *automaton) unpaired(key *ruleState, rest *prospect) (size int64) {
	for c, b := range key.lean {
		if b > 0 && !rest.right[c] || b < 0 && !rest.left[c] {
			v, fits := mul(a.setback[c], max(int64(b), -int64(b))).int64()
			if !fits || v > farTooGreat-size {
				return farTooGreat
			}
			size += v
		}
	}
	return size
}

// outdoes reports whether a set may come to more than best if the rest of the room is filled at a rate: if
// value + floor((room-size)*rate.value/rate.size) > best.
func outdoes(s state, rate lot, room, best int64) bool {
	h1, l1 := bits.Mul64(uint64(room-s.size), uint64(rate.value))
	h2, l2 := bits.Mul64(uint64(best-s.value+1), uint64(rate.size))
	return h1 > h2 || h1 == h2 && l1 >= l2
}

// merge merges two lists of sets of one state, the second with more added to each, and keeps those that
// may come to more than the best. What is best is looked after.
func (a *automaton) merge(key ruleState, one, two []state, more state, rest *prospect) []state {
	room := a.f.short // for a set that gets nothing more
	if key.held {
		room = a.f.room
	}
	loss := a.unpaired(&key, &prospect{}) + a.rings(&key)
	done := room - loss
	limit := room
	if rest.long {
		limit = a.f.room
	}
	limit -= a.unpaired(&key, rest)
	rate := lot{size: 1}
	if g := rest.good; g != nil && g.value > 0 {
		rate = lot{size: g.size, value: g.value}
	}
	out := make([]state, 0, len(one)+len(two))
	top := int64(math.MinInt64)
	add := func(s state) {
		last := len(out) - 1
		switch {
		case s.size > limit:
			return
		case a.f.full == 0 && s.value <= top, last >= 0 && out[last].size == s.size && s.value <= out[last].value:
			return // where all has to be taken, less is no better
		}
		if s.size <= done && s.size >= a.f.full-loss && key.some {
			a.best = max(a.best, s.value)
		}
		if s.value <= a.best && !outdoes(s, rate, limit, a.best) {
			return
		}
		top = s.value
		out = append(out, s)
	}
	moved := func(s state) state {
		// More is above -maxValue.
		a.over = a.over || s.value < -maxValue/2
		return state{s.size + more.size, s.value + more.value}
	}
	j := 0
	for _, s := range one {
		for ; j < len(two); j++ {
			m := moved(two[j])
			if m.size > s.size || m.size == s.size && m.value <= s.value {
				break
			}
			add(m)
		}
		add(s)
	}
	for ; j < len(two); j++ {
		add(moved(two[j]))
	}
	return out
}
