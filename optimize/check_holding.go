package optimize

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// span is a clear stretch of a stick, as far as it matters for its patterns.
type span struct {
	width, reach measure.Length // reach is the greatest length of a piece, less if the yard cuts the stick
	grade        int
	lot          int  // counted from 0
	whole        bool // it is the stick as delivered
	yard         bool
	idle         bool // it may stay uncut while the stick is used
}

// ruleHolding has the most valuable patterns of sticks by a leaf's values, computed on demand.
type ruleHolding struct {
	e     *ruleEvidence
	l     leaf
	worth map[int][]int64 // per lot: of each article
	known map[span]held

	w     weights
	gains []gain // of offcuts, nil before the first use
}

// held is the greatest value of a pattern of a span, or an upper bound, if it is above from.
type held struct {
	most, from int64
	exact      bool
}

// outcome says whether something could be computed.
type outcome uint8

const (
	worked   outcome = iota
	unworked         // it takes too many steps
	beyond           // sums overflow
)

func (e *ruleEvidence) holding(l *leaf) *ruleHolding {
	h := &ruleHolding{e: e, l: *l, worth: map[int][]int64{}, known: map[span]held{}, w: e.weights(l)}
	return h
}

// class returns the greatest value of a pattern of one stick of a class, or from if that is
// greater, before the cost of its yard cut.
func (h *ruleHolding) class(c int, from int64) (total int64, exact bool, o outcome) {
	e := h.e
	cl := &e.class[c]
	if e.short {
		return 0, false, unworked
	}
	if len(cl.clear) > 1 {
		from = 0 // a stretch may stay idle, which is worth zero
	}
	exact = true
	for n := range cl.clear {
		v, sure, o := h.stretch(c, n, from)
		if o != worked {
			return 0, false, o
		}
		if v >= maxValue-total {
			return 0, false, beyond
		}
		exact = exact && sure
		total += v
	}
	return total, exact, worked
}

// stretch returns the greatest value of a pattern of a clear stretch of a class, or from if that
// is greater.
func (h *ruleHolding) stretch(c, n int, from int64) (most int64, exact bool, o outcome) {
	cl := &h.e.class[c]
	w := cl.clear[n]
	s := span{width: w.To - w.From, reach: w.To - w.From, grade: cl.stick.Grade, lot: cl.lot, yard: cl.yard}
	if cl.yard {
		s.reach = min(s.reach, h.e.p.Rules.MaxTransport)
	}
	s.whole = s.width == cl.stick.Length && !cl.yard
	s.idle = len(cl.clear) > 1
	return h.span(s, from)
}

// span returns the greatest value of a pattern of a stretch, or from if that is greater.
func (h *ruleHolding) span(s span, from int64) (most int64, exact bool, o outcome) {
	if k, seen := h.known[s]; seen && k.from <= from {
		return max(k.most, from), k.exact, worked
	}
	e := h.e
	if h.gains == nil {
		if !e.steps.spend(int64(16 * (1 + len(e.p.Rules.OffcutValues)))) {
			return 0, false, unworked
		}
		if h.gains, o = e.gains(&h.w); o != worked {
			return 0, false, o
		}
	}
	if !e.steps.spend(int64(32*len(e.articles) + len(e.shapes))) {
		return 0, false, unworked
	}
	value, ok := h.values(s.lot)
	if !ok {
		return 0, false, beyond
	}
	most, exact = from, true
	all := e.filler(s, value)
	for _, g := range h.gains {
		if g.length > s.width {
			break
		}
		if !e.steps.spend(int64(8*len(e.articles) + len(e.shapes))) {
			return 0, false, unworked
		}
		if s.idle {
			idle := g.value
			if g.length > 0 {
				idle += h.w.cuts // an idle stretch takes no cut
			}
			most = max(most, idle)
		}
		more, ok := mul(g.value, 1).add(mul(h.w.cuts, 1)).int64() // the first piece takes no cut
		if !ok || more >= maxValue || more <= -maxValue || most >= maxValue {
			return 0, false, beyond
		}
		if most-more >= maxValue {
			continue // no stick holds as much
		}
		v, sure := all.leaving(g.length, h.w.cuts > 0).most(max(most-more, -maxValue))
		if v == tooMuch {
			if e.steps.left < 0 {
				return 0, false, unworked
			}
			return 0, false, beyond
		}
		most, exact = max(most, v+more), exact && sure
	}
	if most >= maxValue {
		return 0, false, beyond
	}
	h.known[s] = held{most, from, exact}
	return most, exact, worked
}

// values returns the value of each article on a stick of a lot, and whether all are in range.
func (h *ruleHolding) values(lot int) ([]int64, bool) {
	if v, known := h.worth[lot]; known {
		return v, v != nil
	}
	e := h.e
	part := partValues(&h.l)
	out := make([]int64, len(e.articles))
	for k := range e.articles {
		a := &e.articles[k]
		out[k] = part[a.part] // no part is of no length
		add := func(v int64) bool {
			if v >= maxValue-out[k] {
				return false
			}
			out[k] += v
			return true
		}
		for _, i := range a.pieces {
			if !add(h.l.Values[i]) {
				h.worth[lot] = nil
				return nil, false
			}
		}
		if a.lots > 0 && a.lots+lot < len(h.l.Values) && !add(h.l.Values[a.lots+lot]) {
			h.worth[lot] = nil
			return nil, false
		}
		cuts, fits := mul(h.w.cuts, a.n).int64()
		if !fits || cuts >= maxValue {
			h.worth[lot] = nil
			return nil, false
		}
		out[k] -= cuts
	}
	h.worth[lot] = out
	return out, true
}

// good is an article with its value.
type good struct {
	value, size int64 // size is the least of its ways
	*article
	ways []lying
}

// filler looks for the most valuable set of goods on a span.
type filler struct {
	e     *ruleEvidence
	span  span
	room  int64 // doubled
	short int64 // the room if no good can be held; none if below zero
	goods []good
	count int   // pieces at most, 0 if they are not counted
	some  bool  // one piece at least
	holds bool  // MinHold applies
	full  int64 // the least total size, 0 if it does not matter
}

// leaving returns the filler for an offcut of the given length or more. With exhaust, if that is
// zero, it is the filler for nearly no offcut.
func (f *filler) leaving(offcut measure.Length, exhaust bool) *filler {
	g := *f
	if offcut > 0 {
		g.room, g.span.whole = 2*int64(f.span.width-offcut), false
		g.short = min(g.short, g.room)
	} else if exhaust {
		g.full = 2 * int64(f.span.width)
	}
	return &g
}

// filler returns the filler of a span.
func (e *ruleEvidence) filler(s span, value []int64) *filler {
	r := &e.p.Rules
	f := &filler{e: e, span: s, room: 2 * int64(s.width+e.p.Kerf), some: e.goal != nil, holds: r.MinHold > 0 && !s.yard}
	f.short = f.room
	if f.holds { // if the yard cuts the stick, the offcut of the other part counts, too
		f.short = 2 * int64(s.width-r.MinHold)
	}
	if m := r.MaxPieces; m > 0 && m <= maxCounted {
		f.count = m
	}
	reach := 2 * int64(s.reach+e.p.Kerf)
	for k := range e.articles {
		a := &e.articles[k]
		if a.count <= 0 || a.grade > s.grade || a.begun && a.lot != e.lots[s.lot] {
			continue
		}
		g := good{value: value[k], size: math.MaxInt64, article: a}
		useful := g.value > 0 || f.some || f.holds && a.long
		for _, w := range a.ways {
			if w.size > reach {
				continue
			}
			g.ways = append(g.ways, w)
			g.size = min(g.size, w.size)
			// Beside others it may take no room, or even gain some.
			useful = useful || e.saves(w) >= w.size
		}
		if useful && len(g.ways) > 0 {
			f.goods = append(f.goods, g)
		}
	}
	slices.SortStableFunc(f.goods, func(a, b good) int {
		return cmp.Or(cmpProducts(b.value, a.size, a.value, b.size), cmp.Compare(a.size, b.size))
	})
	return f
}

// saves returns half of the greatest saving of a piece's two ends.
func (e *ruleEvidence) saves(w lying) (v int64) {
	for _, s := range [2]int{w.left, w.right} {
		if s != noShape {
			v += int64(e.shapes[s].setback)
		}
	}
	return v
}

// most returns the greatest value of goods on the span, or from if that is greater; if that takes
// too many steps, an upper bound and false. See fill.
func (f *filler) most(from int64) (int64, bool) {
	bag := make([]lot, 0, len(f.goods))
	nests := false
	for k := range f.goods {
		g := &f.goods[k]
		if g.value > 0 {
			bag = append(bag, lot{g.size, g.value, g.count})
		}
		for _, w := range g.ways {
			nests = nests || w.left != noShape || w.right != noShape
		}
	}
	// By length alone.
	loose, sure := fill(bag, f.room, max(from, 0), false, f.e.steps)
	if loose == tooMuch || !sure || loose <= from {
		return loose, sure
	}
	if nests {
		a := f.automaton(true)
		if !a.told {
			f.full = 0 // sizes may be less than the length that the pieces take
		}
		if v, ok := a.run(from); ok {
			return v, true
		}
		f.full = 0
	}
	if f.count > 0 || f.short < f.room || f.some {
		if v, ok := f.automaton(false).run(from); ok {
			return v, true
		}
		if f.full > 0 {
			// Without the least total size this is still an upper bound.
			f.full = 0
			return f.most(from)
		}
	}
	return loose, true
}
