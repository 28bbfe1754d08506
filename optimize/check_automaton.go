package optimize

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// The automaton is a dynamic program over sets of goods, one good after another. The state of a set
// says whether one of its goods can be held at the saw, how many pieces it has, and, for each shape,
// how many more ends it has at the left than at the right. It keeps only undominated sets of each state
// (E. Horowitz and S. Sahni, as in fill), and only those that may still exceed the best known value.
//
// The size of a set is the sum of the sizes of its goods, each less half of the greatest saving of its two
// ends, plus the saving that unpaired ends miss. If a shape has l ends at the left and r at the right, min(l,
// r) pairs save a setback each, so half a setback is added for each of |l-r| ends. There is an order in which
// all these pairs meet (Euler's condition for trails) unless shapes that are connected by pieces form a ring,
// in which every end would meet another. A ring has to be opened once, at the least of its setbacks. So a
// state also says which shapes are connected, and which of them with an end that does not nest.
//
// If there are more shapes than a state distinguishes, the other ends count with their greatest saving. So
// the size of a set is never too great.

// ruleState is the state of a set.
type ruleState struct {
	held bool // a good can be held, or none has to be
	some bool // it has a good, or needs none
	n    int32
	lean [maxTold]int32
	link [maxTold]uint8 // 0: no end has the shape; equal: they are connected; open: with an end that does not nest
}

const (
	maxTold       = 8       // shapes that a state distinguishes
	maxRuleStates = 400     // states for one number of pieces
	maxCopies     = 100     // of a good that may lie in several ways
	maxLean       = 1 << 20 // greatest surplus of ends of a shape at one side
)

type automaton struct {
	f       *filler
	rest    []prospect // for the goods from each one on, and for none
	setback [maxTold]int64
	at      []int // per shape: its place in a state, -1 if it is not distinguished
	told    bool  // all shapes are distinguished
	best    int64
	over    bool // sums have overflowed
}

// prospect bounds the contribution of the following goods to a set.
type prospect struct {
	good        *good // the most valuable for its size, nil if there is none
	long        bool  // one can be held
	left, right [maxTold]bool
}

// setsOf are the sets of one state, in ascending order of size and value.
type setsOf struct {
	key  ruleState
	list []state
}

// automaton returns an automaton, which distinguishes shapes of ends or does not.
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

// look computes the prospect of each good and those after it.
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

// place returns the place of a shape in states, -1 if they do not distinguish it.
func (a *automaton) place(shape int) int {
	if shape == noShape {
		return -1
	}
	return a.at[shape]
}

// run returns the greatest value, or from if that is greater; not ok if there are too many
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

// single considers goods that take the whole stick without a cut.
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

// add returns the sets without and with n more of a good; rest is the prospect after it.
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

// step returns the state of a set with n more of a good, and whether that is allowed. It does not
// fit if numbers overflow.
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

// connect connects two shapes; one below zero is an end that does not nest.
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

// rings returns the room that opening the rings of a state takes.
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

// unpaired returns the room that the unpaired ends of a state take, except ends that a later good
// can pair.
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

// outdoes reports whether a set may exceed best if the rest of the room is filled at a rate:
// whether value + floor((room-size)*rate.value/rate.size) > best.
func outdoes(s state, rate lot, room, best int64) bool {
	h1, l1 := bits.Mul64(uint64(room-s.size), uint64(rate.value))
	h2, l2 := bits.Mul64(uint64(best-s.value+1), uint64(rate.size))
	return h1 > h2 || h1 == h2 && l1 >= l2
}

// merge merges two lists of sets of one state, with more added to the sets of the second, and
// keeps those that may exceed the best value. It updates the best value.
func (a *automaton) merge(key ruleState, one, two []state, more state, rest *prospect) []state {
	room := a.f.short // for a set that is complete
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
			return // if all room has to be used, a smaller set is not better
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
