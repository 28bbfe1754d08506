package optimize

// ruleFit tells which patterns a clear stretch of a class yields, by items, according to length,
// grade, lot, number of pieces, MinHold and ends that nest, as the automaton does. It treats the
// two parts of a stick that is cut in the yard as one.
type ruleFit struct {
	r     *ruleLists
	class int
	room  int64 // doubled, as all sizes here
	short int64 // the room if no piece can be held
	whole bool  // a stick that is used as delivered
	most  int64 // pieces, 0 for any number

	size   []int64 // per item: the least of its ways
	count  []int64 // per item: that plans have at most, 0 if the class yields none
	pieces []int64 // per item: that it counts as
	ways   [][]lying
	nests  *automaton // nil if no ends nest
}

func (r *ruleLists) fit(c, stretch int) *ruleFit {
	e, cl := r.e, &r.e.class[c]
	w := cl.clear[stretch]
	width := w.To - w.From
	f := &ruleFit{r: r, class: c, room: 2 * int64(width+e.p.Kerf), most: int64(e.p.Rules.MaxPieces), whole: width == cl.stick.Length && !cl.yard}
	f.size, f.count, f.pieces, f.ways = make([]int64, len(r.items)), make([]int64, len(r.items)), make([]int64, len(r.items)), make([][]lying, len(r.items))
	f.short = f.room
	reach := f.room
	if cl.yard {
		reach = 2 * int64(min(width, e.p.Rules.MaxTransport)+e.p.Kerf)
	} else if e.p.Rules.MinHold > 0 {
		f.short = 2 * int64(width-e.p.Rules.MinHold)
	}
	nests := filler{e: e}
	for i := range r.items {
		it := &r.items[i]
		if it.article < 0 || it.lot != anyLot && it.lot != cl.lot || e.articles[it.article].grade > cl.stick.Grade {
			continue
		}
		a := &e.articles[it.article]
		for _, l := range a.ways {
			if l.size > reach {
				continue
			}
			if f.ways[i] = append(f.ways[i], l); f.count[i] == 0 || l.size < f.size[i] {
				f.size[i] = l.size
			}
			f.count[i], f.pieces[i] = it.count, a.n
		}
		if len(f.ways[i]) > 0 {
			nests.goods = append(nests.goods, good{article: a, ways: f.ways[i]})
		}
	}
	if len(e.shapes) > 0 {
		f.nests = nests.automaton(true)
	}
	return f
}

// spares adds the spare, which takes a whole stick, if it passes all sieves. It returns false if
// there are too many columns.
func (f *ruleFit) spares(out *list, sieves []sieve, hi int64) bool {
	cl, spare := &f.r.e.class[f.class], f.r.spare
	if spare == noItem || len(cl.stick.Defects) > 0 || cl.yard || cl.clear[0].To-cl.clear[0].From < f.r.e.longest {
		return true
	}
	for k := range sieves {
		if sieves[k].value[spare] < sieves[k].need[f.class] {
			return true
		}
	}
	n := int32(len(out.held))
	out.held = append(out.held, heldItem{int32(spare), 1})
	out.all = append(out.all, pattern{class: int32(f.class), from: n, to: n + 1, most: min(hi, f.r.items[spare].count)})
	return len(out.all) <= maxListed && len(out.held) <= maxHeld
}

// maximal reports whether the stretch yields the pattern, which leaves the given room by the
// least sizes, and none with one item more.
func (f *ruleFit) maximal(at []int64, room int64) bool {
	if !f.yields(at, f.room-room) {
		return false
	}
	for i, n := range at {
		if n >= f.count[i] || f.size[i] > room {
			continue
		}
		at[i]++
		more := f.yields(at, f.room-room+f.size[i])
		if at[i]--; more {
			return false
		}
	}
	return true
}

// yields reports whether the stretch yields a pattern; least is the sum of its least sizes.
func (f *ruleFit) yields(at []int64, least int64) bool {
	if !f.r.e.steps.spend(int64(len(at))) {
		return false // and the list will not be finished
	}
	pieces, held, bare := int64(0), false, false
	for i, n := range at {
		if n > 0 {
			a := &f.r.e.articles[f.r.items[i].article]
			pieces += n * f.pieces[i]
			held, bare = held || a.long, a.bare
		}
	}
	if pieces == 0 || f.most > 0 && pieces > f.most {
		return false
	}
	takes := least
	if f.nests != nil {
		takes = f.takes(at)
	}
	if takes > f.room {
		return false
	}
	return held || takes <= f.short || f.whole && pieces == 1 && bare && takes == f.room
}

// laid is the least size of some items in a state.
type laid struct {
	key  ruleState
	size int64
}

// takes returns the least size of a pattern, with its pieces in the best ways and order.
func (f *ruleFit) takes(at []int64) int64 {
	bare := good{article: &article{}}
	now := []laid{{}}
	for i, n := range at {
		each := n // copies that lie in one way are laid together
		if len(f.ways[i]) > 1 {
			each = 1
		}
		for ; n > 0; n -= each {
			var next []laid
			for _, s := range now {
				if !f.r.e.steps.spend(int64(len(f.ways[i]) * (8 + len(next)))) {
					return farTooGreat
				}
				for _, w := range f.ways[i] {
					key, _, fits := f.nests.step(s.key, &bare, w, each)
					if !fits {
						return 0 // as if it took nothing
					}
					next = laidWith(next, laid{key, s.size + each*w.size})
				}
			}
			now = next
		}
	}
	least := int64(farTooGreat)
	for k := range now {
		s := &now[k]
		least = min(least, s.size+f.nests.unpaired(&s.key, &prospect{})+f.nests.rings(&s.key))
	}
	return least
}

// laidWith adds one to a list that has each state once, with its least size.
func laidWith(list []laid, p laid) []laid {
	for k := range list {
		if list[k].key == p.key {
			list[k].size = min(list[k].size, p.size)
			return list
		}
	}
	return append(list, p)
}
