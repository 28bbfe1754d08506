package branchprice

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
)

// none is the value of a filling that is not there.
const none = math.MinInt64 / 4

type step struct{ size, value int64 }

// ending is one way to close a filling: room that must be left, and what that is
// worth.
type ending struct{ reserve, bonus int64 }

type level struct {
	item  int
	most  int64
	value int64 // of one
}

// filler finds the most valuable fillings of the bins of one kind: dynamic
// programming by lists of undominated (size, value) states, one list for each tag.
// Items come in the order of the problem.
type filler struct {
	p    *Problem
	kind int
	m    *machine

	lv    []level
	start []int32   // level*tags+tag -> first step
	alive [][]int16 // level -> tags that have steps
	steps []step
	ends  [][]ending // by tag
	alone int64      // value of the spare, none without one
	spare int        // its item

	aim      []step // by capacity: (capacity, need less what the capacity can be worth)
	rate     int64
	cur, nxt [][]step
	out      []step // room for a list to come
	weight   [criteria]int64
	uses     []Use
}

func newFiller(p *Problem, kind int, cap int64) *filler {
	f := &filler{p: p, kind: kind, m: newMachine(p, kind, cap), spare: -1}
	for i := range p.Items {
		if p.Items[i].Alone && p.Kinds[kind].Spare {
			f.spare = i
		}
	}
	return f
}

// tolerance of table sizes: beyond it build gives up.
const maxSteps = 12 << 20

// own returns what a filling of the bin costs by itself.
func (f *filler) own(b int) int64 {
	c := int64(0)
	for k, w := range f.weight {
		c += w * f.p.Bins[b].Own[k]
	}
	return c - f.weight[Cuts]
}

// build fills the table for items worth value each, by the weights of the criteria, so
// that every filling of one of the bins that gains at least its need is in it. It
// reports false when that takes too many steps.
func (f *filler) build(bins []int, need, value []int64, weight [criteria]int64, mt *meter.Meter) bool {
	f.weight = weight
	k := &f.p.Kinds[f.kind]
	// The ways to end.
	f.ends = f.ends[:0]
	top := int64(0)
	kept := int64(0) // what an offcut that is among the items takes
	for i := range f.p.Items {
		if f.p.Items[i].Offcut > 0 {
			kept = f.p.Items[i].Ways[0].Size
		}
	}
	for t := range f.m.tags {
		base := f.m.spare[t]
		var list []ending
		room := func(offcut int64) int64 { // left beside the items
			if f.m.tags[t].keeps {
				return max(0, k.Kerf+offcut-kept)
			}
			return k.Kerf + offcut
		}
		hold := int64(0)
		if k.Hold > 0 && !f.m.tags[t].long && !f.dropsHold() {
			hold = room(k.Hold)
		}
		list = append(list, ending{base + hold, 0})
		if w := weight[Worth]; w > 0 {
			for _, s := range k.Worth {
				list = append(list, ending{base + max(hold, room(s.Length)), w * s.Value})
				top = max(top, w*s.Value)
			}
		}
		f.ends = append(f.ends, list)
	}
	f.alone = none
	if f.spare >= 0 {
		f.alone = value[f.spare]
	}

	f.aim = f.aim[:0]
	for i, b := range bins {
		f.aim = append(f.aim, step{f.p.Bins[b].Cap, need[i] + f.own(b) - top})
	}
	slices.SortFunc(f.aim, func(a, b step) int { return cmp.Compare(a.size, b.size) })
	if len(f.aim) == 0 {
		return true
	}
	cap := f.aim[len(f.aim)-1].size
	f.lv = f.lv[:0]
	f.rate = 0
	for i := range f.p.Items {
		it := &f.p.Items[i]
		if it.Alone || k.Bars != nil && k.Bars[i] || it.Most <= 0 {
			continue
		}
		l := level{item: i, most: 0, value: value[i] - weight[Cuts]*it.Pieces}
		for _, s := range f.m.small[i] {
			l.most = max(l.most, min(it.Most, cap/max(s, 1)))
			if l.value > 0 && s <= cap {
				f.rate = max(f.rate, (l.value+s-1)/s)
			}
		}
		if l.most > 0 {
			f.lv = append(f.lv, l)
		}
	}
	if f.rate > 0 && cap > (1<<60)/f.rate {
		f.rate = 0
	}
	least := int64(math.MaxInt64)
	for i := len(f.aim) - 1; i >= 0; i-- {
		n := int64(none)
		if f.rate > 0 {
			n = f.aim[i].value - f.rate*f.aim[i].size
		}
		least = min(least, n)
		f.aim[i].value = least
	}

	tags := len(f.m.tags)
	for len(f.cur) < tags {
		f.cur, f.nxt = append(f.cur, nil), append(f.nxt, nil)
	}
	for t := range tags {
		f.cur[t] = f.cur[t][:0]
	}
	f.cur[0] = append(f.cur[0], step{})
	f.start, f.steps = append(f.start[:0], 0), f.steps[:0]
	f.alive = f.alive[:0]
	keep := func() {
		var alive []int16
		for t := range tags {
			if len(f.cur[t]) > 0 {
				alive = append(alive, int16(t))
			}
			f.steps = append(f.steps, f.cur[t]...)
			f.start = append(f.start, int32(len(f.steps)))
		}
		f.alive = append(f.alive, alive)
	}
	keep()
	var adv []int16
	for i := range f.lv {
		l := &f.lv[i]
		ways := f.p.Items[l.item].Ways
		if l.value <= 0 && tags == 1 {
			keep()
			continue
		}
		for left, chunk := l.most, int64(1); left > 0; {
			k := min(chunk, left)
			left -= k
			if len(ways) == 1 {
				chunk *= 2
			}
			total := 0
			for t := range tags {
				f.nxt[t] = append(f.nxt[t][:0], f.cur[t]...)
			}
			for w := range ways {
				adv = adv[:0]
				for t := range tags {
					to := int16(t)
					for n := int64(0); n < k && to >= 0; n++ {
						to = f.m.move[l.item][w][to]
						if to == int16(t) && n == 0 {
							break // tags stay where they are from here on
						}
					}
					adv = append(adv, to)
				}
				for t, to := range adv {
					if to >= 0 && len(f.cur[t]) > 0 {
						f.merge(int(to), f.cur[t], k*f.m.small[l.item][w], k*l.value)
					}
				}
			}
			for t := range tags {
				total += len(f.nxt[t])
			}
			f.cur, f.nxt = f.nxt, f.cur
			if len(f.steps)+total > maxSteps || !mt.Spend(int64(2*total+4*tags)) {
				return false
			}
		}
		keep()
	}
	return true
}

// dropsHold reports whether the machine does not follow what Hold needs.
func (f *filler) dropsHold() bool {
	if f.p.Kinds[f.kind].Part[0] > 0 {
		return true // each part by itself
	}
	if !f.m.loose {
		return false
	}
	for _, g := range f.m.tags {
		if g.long {
			return false
		}
	}
	for i := range f.p.Items {
		if f.p.Items[i].Long {
			return true
		}
	}
	return false
}

// merge puts the states of from, shifted, among those of a tag to come.
func (f *filler) merge(to int, from []step, size, value int64) {
	a := f.nxt[to]
	out := slices.Grow(f.out[:0], len(a)+len(from))
	i, j := 0, 0
	last := int64(math.MinInt64)
	k := 0
	for i < len(a) || j < len(from) {
		var s step
		if j < len(from) {
			s = step{from[j].size + size, from[j].value + value}
		}
		if j == len(from) || i < len(a) && (a[i].size < s.size || a[i].size == s.size && a[i].value >= s.value) {
			s = a[i]
			i++
		} else {
			j++
		}
		if s.value <= last {
			continue
		}
		for k < len(f.aim) && s.size > f.aim[k].size {
			k++
		}
		if k == len(f.aim) {
			break
		}
		if f.rate > 0 && s.value-f.rate*s.size < f.aim[k].value {
			continue
		}
		out = append(out, s)
		last = s.value
	}
	f.nxt[to], f.out = out, a
}

// at returns the most that items of the first levels are worth within room when
// they have the tag.
func (f *filler) at(level, tag int, room int64) int64 {
	x := level*len(f.m.tags) + tag
	s := f.steps[f.start[x]:f.start[x+1]]
	if len(s) == 0 || s[0].size > room {
		return none
	}
	lo, hi := 0, len(s)
	for hi-lo > 1 {
		mid := int(uint(lo+hi) >> 1)
		if s[mid].size <= room {
			lo = mid
		} else {
			hi = mid
		}
	}
	return s[lo].value
}

// over returns the most that items of the first levels and the ending are worth within
// room, when the items after them have the tag.
func (f *filler) over(level int, tag int16, room int64) int64 {
	best := int64(none)
	join := f.m.join[tag] // the same either way around
	for _, t := range f.alive[level] {
		j := join[t]
		if j < 0 {
			continue
		}
		for _, e := range f.ends[j] {
			if v := f.at(level, int(t), room-e.reserve); v > none {
				best = max(best, v+e.bonus)
			}
		}
	}
	return best
}

// best returns the most that a filling of the bin gains: the values of its items
// less its cost. Of a machine that is loose it may be more than any gains.
func (f *filler) best(b int) int64 {
	v := f.over(len(f.lv), 0, f.p.Bins[b].Cap)
	if v > none {
		v -= f.own(b)
	}
	return max(v, f.alone)
}

// gain returns what a filling that is one gains.
func (f *filler) gain(fill *Filling, x *Filled) int64 {
	if fill.Uses[0].Item == f.spare {
		return f.alone
	}
	c := f.p.costs(fill, x)
	g := int64(0)
	for k, w := range f.weight {
		g -= w * c[k]
	}
	i := 0
	for _, u := range fill.Uses {
		for f.lv[i].item != u.Item {
			i++
		}
		// costs has counted the cuts.
		g += u.N * (f.lv[i].value + f.weight[Cuts]*f.p.Items[u.Item].Pieces)
	}
	return g
}

// walk calls visit for every filling of the bin that gains at least need, until visit
// returns false or the meter runs out. It reports whether it saw all.
func (f *filler) walk(b int, need int64, mt *meter.Meter, visit func(fill Filling, x Filled, gain int64) bool) bool {
	if f.alone > none && f.alone >= need {
		if !visit(Filling{b, []Use{{f.spare, 0, 1}}}, Filled{}, f.alone) {
			return false
		}
	}
	f.uses = f.uses[:0]
	w := walker{f: f, b: b, need: need + f.own(b), exact: need, mt: mt, visit: visit}
	return w.down(len(f.lv), f.p.Bins[b].Cap, 0, 0, false)
}

type walker struct {
	f     *filler
	b     int
	need  int64 // own costs left aside
	exact int64
	mt    *meter.Meter
	visit func(Filling, Filled, int64) bool
}

// down goes on from the first l levels; seen says that what they can come to was
// looked at.
func (w *walker) down(l int, room int64, tag int16, have int64, seen bool) bool {
	f := w.f
	mark := len(f.uses)
	for l > 0 {
		if !seen {
			if !w.mt.Spend(int64(4*len(f.alive[l]) + 8)) {
				return false
			}
			v := f.over(l, tag, room)
			if v == none || have+v < w.need {
				return true
			}
		}
		seen = false
		l--
		lv := &f.lv[l]
		// More of the item first; the last choice, none of it, in this loop.
		if !w.take(l, 0, lv.most, room, tag, have) {
			return false
		}
		f.uses = f.uses[:mark]
	}
	if len(f.uses) == 0 {
		return true
	}
	fill := Filling{w.b, make([]Use, 0, len(f.uses))}
	for i := len(f.uses) - 1; i >= 0; i-- {
		fill.Uses = append(fill.Uses, f.uses[i])
	}
	slices.SortFunc(fill.Uses, func(a, b Use) int { return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Way, b.Way)) })
	x, ok := f.p.Fill(&fill)
	if !ok {
		return true
	}
	if g := f.gain(&fill, &x); g >= w.exact {
		return w.visit(fill, x, g)
	}
	return true
}

// take tries every way to have at least one of level l's item, from the given way
// on, and goes down from each.
func (w *walker) take(l, way int, most, room int64, tag int16, have int64) bool {
	f := w.f
	lv := &f.lv[l]
	ways := len(f.p.Items[lv.item].Ways)
	mark := len(f.uses)
	for v := way; v < ways; v++ {
		size := f.m.small[lv.item][v]
		t, r, h := tag, room, have
		for n := int64(1); n <= most; n++ {
			t = f.m.move[lv.item][v][t]
			r -= size
			h += lv.value
			if t < 0 || r < 0 {
				break
			}
			if !w.mt.Spend(int64(4*len(f.alive[l]) + 8)) {
				return false
			}
			f.uses = append(f.uses[:mark], Use{lv.item, v, n})
			if u := f.over(l, t, r); u > none && h+u >= w.need {
				if !w.down(l, r, t, h, true) {
					return false
				}
			}
			if v+1 < ways && n < most && !w.take(l, v+1, most-n, r, t, h) {
				return false
			}
		}
	}
	f.uses = f.uses[:mark]
	return true
}

// trace returns the filling that over rates, when one more way of an item must be
// in it (way -1: none). It reports false when a rule that the machine does not
// follow forbids it, or it holds one of the item too many.
func (f *filler) trace(b, l, way int) (Filling, Filled, int64, bool) {
	f.uses = f.uses[:0]
	room, tag := f.p.Bins[b].Cap, int16(0)
	extra := -1
	if way >= 0 {
		extra = f.lv[l].item
		tag = f.m.move[extra][way][0]
		room -= f.m.small[extra][way]
		f.uses = append(f.uses, Use{extra, way, 1})
	}
	if tag < 0 {
		return Filling{}, Filled{}, 0, false
	}
	want := f.over(len(f.lv), tag, room)
	if want == none {
		return Filling{}, Filled{}, 0, false
	}
	// The ending that it comes from.
	at := -1
find:
	for t := range f.m.tags {
		j := f.m.join[t][tag]
		if j < 0 {
			continue
		}
		for _, e := range f.ends[j] {
			if v := f.at(len(f.lv), t, room-e.reserve); v > none && v+e.bonus == want {
				at, room, want = t, room-e.reserve, v
				break find
			}
		}
	}
	for k := len(f.lv); k > 0; k-- {
		if at, room, want = f.back(k, at, room, want); at < 0 {
			return Filling{}, Filled{}, 0, false
		}
	}
	fill := Filling{b, nil}
	slices.SortFunc(f.uses, func(a, b Use) int { return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Way, b.Way)) })
	n := int64(0)
	for _, u := range f.uses {
		if u.Item == extra {
			n += u.N
		}
		if k := len(fill.Uses) - 1; k >= 0 && fill.Uses[k].Item == u.Item && fill.Uses[k].Way == u.Way {
			fill.Uses[k].N += u.N
		} else {
			fill.Uses = append(fill.Uses, u)
		}
	}
	if len(fill.Uses) == 0 || extra >= 0 && n > f.p.Items[extra].Most {
		return fill, Filled{}, 0, false
	}
	x, ok := f.p.Fill(&fill)
	if !ok {
		return fill, x, 0, false
	}
	return fill, x, f.gain(&fill, &x), true
}

// back finds how many of level k-1's item, and which way, lead to a value of the
// first k levels, and notes them. It returns tag, room and value of the levels
// before, tag -1 when the steps do not tell.
func (f *filler) back(k, tag int, room, want int64) (int, int64, int64) {
	lv := &f.lv[k-1]
	ways := len(f.p.Items[lv.item].Ways)
	if ways == 1 && len(f.m.tags) == 1 {
		// As nearly always; this is the innermost of much.
		size := f.m.small[lv.item][0]
		for c := int64(0); c <= lv.most && room >= 0; c++ {
			if f.at(k-1, 0, room) == want {
				if c > 0 {
					f.uses = append(f.uses, Use{lv.item, 0, c})
				}
				return 0, room, want
			}
			room, want = room-size, want-lv.value
		}
		return -1, 0, 0
	}
	var try func(way int, most, r, v int64, need []int64) (int, int64, int64)
	counts := make([]int64, ways)
	try = func(way int, most, r, v int64, n []int64) (int, int64, int64) {
		if way == ways {
			for t := range f.m.tags {
				to := int16(t)
				for w := range n {
					for c := int64(0); c < n[w] && to >= 0; c++ {
						next := f.m.move[lv.item][w][to]
						if next == to {
							break
						}
						to = next
					}
				}
				if int(to) == tag && f.at(k-1, t, r) == v {
					return t, r, v
				}
			}
			return -1, 0, 0
		}
		for c := int64(0); c <= most; c++ {
			n[way] = c
			left := r - c*f.m.small[lv.item][way]
			if left < 0 {
				break
			}
			if t, rr, vv := try(way+1, most-c, left, v-c*lv.value, n); t >= 0 {
				return t, rr, vv
			}
		}
		n[way] = 0
		return -1, 0, 0
	}
	t, r, v := try(0, lv.most, room, want, counts)
	if t >= 0 {
		for w, c := range counts {
			if c > 0 {
				f.uses = append(f.uses, Use{lv.item, w, c})
			}
		}
	}
	return t, r, v
}
