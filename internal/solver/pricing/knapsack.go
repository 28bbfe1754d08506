package pricing

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
	"sort"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// None is the value of a missing pattern.
const None = math.MinInt64 / 4

type label struct{ size, value int64 }

// terminal is one way to close a pattern: a reserve that must remain, and its value.
type terminal struct{ reserve, bonus int64 }

type stage struct {
	item  int
	most  int64
	value int64 // of one copy
}

// Knapsack finds the most valuable patterns of the bins of one kind, by dynamic programming over lists
// of undominated labels (size, value), one list for each state of the automaton. Items are in the order
// of the problem.
type Knapsack struct {
	p         *rules.Problem
	kind      int
	automaton *automaton

	stages     []stage
	start      []int32   // stage*states+state -> its first label
	alive      [][]int16 // stage -> states that have labels
	labels     []label
	terminals  [][]terminal // by state
	single     bool         // there is one state with one terminal, the usual case
	spareValue int64        // value of the spare, None without one
	spareItem  int          // its item

	targets     []label // by capacity: (capacity, need minus the greatest value that the capacity can hold)
	mostPerUnit int64
	cur, nxt    [][]label
	out         []label // scratch space for the next list
	after       []int16 // state -> the state after some copies of an item
	weight      [rules.Criteria]int64
	limit       []int64
	uses        []rules.Use

	places    []int // bins of the kind
	d         *Prices
	best      []int64
	found     []candidate
	diversity diversity
}

// NewKnapsack returns the oracle of the bins of a kind.
func NewKnapsack(p *rules.Problem, kind int) *Knapsack {
	f := &Knapsack{p: p, kind: kind, spareItem: -1}
	cap := int64(0)
	for b := range p.Bins {
		if p.Bins[b].Kind == kind {
			f.places, cap = append(f.places, b), max(cap, p.Bins[b].Cap)
		}
	}
	f.automaton = newAutomaton(p, kind, cap)
	for i := range p.Items {
		if p.Items[i].Alone && p.Kinds[kind].Spare {
			f.spareItem = i
		}
	}
	return f
}

// maxSteps limits the size of the table: beyond it build gives up.
const maxSteps = 12 << 20

// own returns the cost of a pattern of the bin itself.
func (f *Knapsack) own(b int) int64 {
	c := int64(0)
	for k, w := range f.weight {
		c += w * f.p.Bins[b].Own[k]
	}
	return c - f.weight[rules.Cuts]
}

// Places implements Oracle.
func (f *Knapsack) Places() []int { return f.places }

// Build implements Oracle. If the automaton does not track all rules, it replaces the table's bound on
// the best pattern of a place by the best itself, if a limited search finds it.
func (f *Knapsack) Build(d *Prices, best []int64, add func(rules.Column) bool, mt *meter.Meter) bool {
	f.d, f.best = d, best
	any := false
	for _, b := range f.places {
		any = any || d.Need[b] != Closed
	}
	if !any {
		return true
	}
	if !f.build(d, mt) {
		return false
	}
	for _, b := range f.places {
		if d.Need[b] == Closed {
			continue
		}
		// Values below the need are unknown and irrelevant.
		best[b] = max(f.most(b), d.Need[b])
		if best[b] > d.Need[b] && f.relaxed() && add != nil {
			f.tighten(b, add, mt)
		}
	}
	return true
}

// build fills the table so that it contains every pattern that gains at least its bin's need. It
// reports false if that takes too many steps.
func (f *Knapsack) build(d *Prices, mt *meter.Meter) bool {
	f.weight, f.limit = d.Weight, d.Limit
	f.spareValue = None
	if f.spareItem >= 0 {
		f.spareValue = d.Item[f.spareItem]
	}
	top := f.setTerminals()
	f.targets = f.targets[:0]
	for _, b := range f.places {
		if d.Need[b] != Closed {
			f.targets = append(f.targets, label{f.p.Bins[b].Cap, d.Need[b] + f.own(b) - top})
		}
	}
	slices.SortFunc(f.targets, func(a, b label) int { return cmp.Compare(a.size, b.size) })
	f.setStages(d.Item)
	least := int64(math.MaxInt64)
	for i := len(f.targets) - 1; i >= 0; i-- {
		n := int64(None)
		if f.mostPerUnit > 0 {
			n = f.targets[i].value - f.mostPerUnit*f.targets[i].size
		}
		least = min(least, n)
		f.targets[i].value = least
	}
	return f.fill(mt)
}

// exactWork limits the search for the best pattern if the automaton gives only a bound.
const exactWork = 3_000_000

// tighten replaces the table's bound on the best pattern by the best itself, if a limited search finds
// it, and offers the patterns that it meets.
func (f *Knapsack) tighten(b int, add func(rules.Column) bool, mt *meter.Meter) {
	need, top := f.d.Need[b], f.best[b]
	// Thresholds descend from near the top, so that the search stays small.
	for step := max((top-need)/16, 1); ; step *= 4 {
		from := max(top-step, need+1)
		found := int64(None)
		if !f.Enumerate(b, from, mt.Sub(exactWork), func(c rules.Column, gain int64) bool {
			if gain > found {
				found = gain
				add(c)
			}
			return true
		}) {
			return
		}
		if found > None {
			f.best[b] = found
			return
		}
		if from == need+1 {
			f.best[b] = need
			return
		}
		if step > 1<<60 {
			step = 1 << 60
		}
	}
}

// candidate is the best pattern of a bin or, if stage is not negative, the best with one more copy of
// the stage's item in an orientation.
type candidate struct {
	bin, stage, orient int
	gain               int64
}

// Columns implements Oracle: it offers enough patterns, those of the greatest gain first.
func (f *Knapsack) Columns(tol int64, add func(rules.Column) bool, mt *meter.Meter) {
	if !f.findCandidates(tol, add, mt) {
		return
	}
	stages, states := len(f.stages), len(f.automaton.states)
	f.diversity.reset(len(f.p.Items), 8+stages/3)
	for _, c := range f.found {
		if c.stage >= 0 && f.diversity.full(f.stages[c.stage].item) {
			continue // its pattern does not matter
		}
		fill, x, gain, ok := f.backtrack(c.bin, c.stage, c.orient)
		if !mt.Spend(int64(20 * (bits.Len(uint(stages)) + states) * (1 + len(f.uses)))) {
			return
		}
		if !ok || gain <= f.d.Need[c.bin]+tol {
			continue
		}
		if add(rules.Column{Fill: &fill, Cost: f.p.Costs(&fill, &x)}) && f.diversity.take(fill.Uses) {
			return
		}
	}
}

// findCandidates finds promising patterns, sorted by decreasing gain; it returns false if the meter ran
// out. It offers whole sticks to spare at once.
func (f *Knapsack) findCandidates(tol int64, add func(rules.Column) bool, mt *meter.Meter) bool {
	f.found = f.found[:0]
	stages, states := len(f.stages), len(f.automaton.states)
	for _, b := range f.places {
		need := f.d.Need[b]
		if need == Closed || f.best[b] <= need+tol {
			continue
		}
		if f.spareValue >= need+tol {
			add(rules.Column{Fill: &rules.Pattern{Bin: b, Uses: []rules.Use{{Item: f.spareItem, N: 1}}}})
		}
		f.found = append(f.found, candidate{b, -1, -1, f.best[b] - need})
		for l := range stages {
			for w := range f.automaton.small[f.stages[l].item] {
				if v := f.with(b, l, w); v > need+tol {
					f.found = append(f.found, candidate{b, l, w, v - need})
				}
			}
		}
		if !mt.Spend(int64(12 * stages * states)) {
			return false
		}
	}
	slices.SortStableFunc(f.found, func(a, b candidate) int { return cmp.Compare(b.gain, a.gain) })
	return true
}

// setTerminals computes the terminals of each state and returns the greatest value of one.
func (f *Knapsack) setTerminals() (top int64) {
	k := &f.p.Kinds[f.kind]
	f.terminals = f.terminals[:0]
	kept := int64(0) // size of an offcut that is among the items
	for i := range f.p.Items {
		if f.p.Items[i].Offcut > 0 {
			kept = f.p.Items[i].Orientations[0].Size
		}
	}
	for t := range f.automaton.states {
		base := f.automaton.closingLoss[t]
		var list []terminal
		reserve := func(offcut int64) int64 { // capacity left beside the items
			if f.automaton.states[t].hasOffcut {
				return max(0, k.Kerf+offcut-kept)
			}
			return k.Kerf + offcut
		}
		hold := int64(0)
		if k.Hold > 0 && !f.automaton.states[t].long && !f.dropsHold() {
			hold = reserve(k.Hold)
		}
		list = append(list, terminal{base + hold, 0})
		if w := f.weight[rules.Salvage]; w > 0 {
			for _, s := range k.Salvage {
				list = append(list, terminal{base + max(hold, reserve(s.Length)), w * s.Value})
				top = max(top, w*s.Value)
			}
		}
		f.terminals = append(f.terminals, list)
	}
	f.single = len(f.terminals) == 1 && len(f.terminals[0]) == 1 && f.automaton.concatenation[0][0] == 0
	return top
}

// setStages determines the items to choose from, the largest number of each, and the greatest value per
// unit of capacity, zero if that could overflow.
func (f *Knapsack) setStages(value []int64) {
	k := &f.p.Kinds[f.kind]
	cap := f.targets[len(f.targets)-1].size
	f.stages = f.stages[:0]
	f.mostPerUnit = 0
	for i := range f.p.Items {
		it := &f.p.Items[i]
		if it.Alone || k.Barred != nil && k.Barred[i] || f.limit[i] <= 0 {
			continue
		}
		l := stage{item: i, most: 0, value: value[i] - f.weight[rules.Cuts]*it.Pieces}
		for _, s := range f.automaton.small[i] {
			l.most = max(l.most, min(f.limit[i], cap/max(s, 1)))
			if l.value > 0 && s <= cap {
				f.mostPerUnit = max(f.mostPerUnit, (l.value+s-1)/s)
			}
		}
		if l.most > 0 {
			f.stages = append(f.stages, l)
		}
	}
	if f.mostPerUnit > 0 && cap > (1<<60)/f.mostPerUnit {
		f.mostPerUnit = 0
	}
}

// fill computes the labels, stage by stage; it returns false if there are too many.
func (f *Knapsack) fill(mt *meter.Meter) bool {
	states := len(f.automaton.states)
	for len(f.cur) < states {
		f.cur, f.nxt = append(f.cur, nil), append(f.nxt, nil)
	}
	for t := range states {
		f.cur[t] = f.cur[t][:0]
	}
	f.cur[0] = append(f.cur[0], label{})
	f.start, f.labels = append(f.start[:0], 0), f.labels[:0]
	f.alive = f.alive[:0]
	f.keep(states)
	for i := range f.stages {
		l := &f.stages[i]
		if l.value <= 0 && states == 1 {
			f.keep(states)
			continue
		}
		for left, chunk := l.most, int64(1); left > 0; {
			k := min(chunk, left)
			left -= k
			if len(f.p.Items[l.item].Orientations) == 1 {
				chunk *= 2
			}
			total := f.advance(l, k)
			if len(f.labels)+total > maxSteps || !mt.Spend(int64(2*total+4*states)) {
				return false
			}
		}
		f.keep(states)
	}
	return true
}

// keep appends the current labels to the table as the next stage.
func (f *Knapsack) keep(states int) {
	n := len(f.alive)
	f.alive = slices.Grow(f.alive, 1)[:n+1]
	alive := f.alive[n][:0] // the memory of tables before
	for t := range states {
		if len(f.cur[t]) > 0 {
			alive = append(alive, int16(t))
		}
		f.labels = append(f.labels, f.cur[t]...)
		f.start = append(f.start, int32(len(f.labels)))
	}
	f.alive[n] = alive
}

// advance adds k copies of a stage's item, or none, to the current labels and returns the new number of
// labels.
func (f *Knapsack) advance(l *stage, k int64) (total int) {
	states := len(f.automaton.states)
	for t := range states {
		f.nxt[t] = append(f.nxt[t][:0], f.cur[t]...)
	}
	for w := range f.p.Items[l.item].Orientations {
		f.after = f.after[:0]
		for t := range states {
			to := int16(t)
			for n := int64(0); n < k && to >= 0; n++ {
				to = f.automaton.transition[l.item][w][to]
				if to == int16(t) && n == 0 {
					break // further copies do not change the state
				}
			}
			f.after = append(f.after, to)
		}
		for t, to := range f.after {
			if to >= 0 && len(f.cur[t]) > 0 {
				f.merge(int(to), f.cur[t], k*f.automaton.small[l.item][w], k*l.value)
			}
		}
	}
	for t := range states {
		total += len(f.nxt[t])
	}
	f.cur, f.nxt = f.nxt, f.cur
	return total
}

// relaxed reports whether most may exceed the gain of every pattern: if a rule is not tracked, or cuts
// have a cost.
func (f *Knapsack) relaxed() bool { return f.automaton.relaxed || f.weight[rules.Cuts] > 0 }

// with returns the greatest gain of a pattern of the bin that holds the item of a stage in an
// orientation, None if there is no such pattern. The pattern may hold one copy of the item more than
// its limit.
func (f *Knapsack) with(b, stage, way int) int64 {
	l := &f.stages[stage]
	s, t := f.automaton.small[l.item][way], f.automaton.transition[l.item][way][0]
	if t < 0 || s > f.p.Bins[b].Cap {
		return None
	}
	v := f.over(len(f.stages), t, f.p.Bins[b].Cap-s)
	if v > None {
		v += l.value - f.own(b)
	}
	return v
}

// dropsHold reports whether the automaton does not track the requirement of Hold.
func (f *Knapsack) dropsHold() bool {
	if f.p.Kinds[f.kind].Part[0] > 0 {
		return true // each part is held separately
	}
	if !f.automaton.relaxed {
		return false
	}
	for _, g := range f.automaton.states {
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

// merge adds the labels of from, shifted by size and value, to those of the next state to.
func (f *Knapsack) merge(to int, from []label, size, value int64) {
	a := f.nxt[to]
	out := slices.Grow(f.out[:0], len(a)+len(from))
	i, j := 0, 0
	last := int64(math.MinInt64)
	k := 0
	for i < len(a) || j < len(from) {
		var s label
		if j < len(from) {
			s = label{from[j].size + size, from[j].value + value}
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
		for k < len(f.targets) && s.size > f.targets[k].size {
			k++
		}
		if k == len(f.targets) {
			break
		}
		if f.mostPerUnit > 0 && s.value-f.mostPerUnit*s.size < f.targets[k].value {
			continue
		}
		out = append(out, s)
		last = s.value
	}
	f.nxt[to], f.out = out, a
}

// at returns the greatest value of items of the first level stages that fit the residual capacity and
// lead to the state.
func (f *Knapsack) at(level, state int, residual int64) int64 {
	x := level*len(f.automaton.states) + state
	s := f.labels[f.start[x]:f.start[x+1]]
	if len(s) == 0 || s[0].size > residual {
		return None
	}
	lo, hi := 0, len(s)
	for hi-lo > 1 {
		mid := int(uint(lo+hi) >> 1)
		if s[mid].size <= residual {
			lo = mid
		} else {
			hi = mid
		}
	}
	return s[lo].value
}

// over returns the greatest value of items of the first level stages and a terminal that fit the
// residual capacity, if the later items lead to the given state.
func (f *Knapsack) over(level int, state int16, residual int64) int64 {
	if f.single {
		return f.at(level, 0, residual-f.terminals[0][0].reserve)
	}
	best := int64(None)
	join := f.automaton.concatenation[state] // symmetric
	for _, t := range f.alive[level] {
		j := join[t]
		if j < 0 {
			continue
		}
		for _, e := range f.terminals[j] {
			if v := f.at(level, int(t), residual-e.reserve); v > None {
				best = max(best, v+e.bonus)
			}
		}
	}
	return best
}

// most returns the greatest gain of a pattern of the bin: the duals of its items minus its cost. If the
// automaton is relaxed, it is only an upper bound.
func (f *Knapsack) most(b int) int64 {
	v := f.over(len(f.stages), 0, f.p.Bins[b].Cap)
	if v > None {
		v -= f.own(b)
	}
	return max(v, f.spareValue)
}

// Roomiest returns an upper bound on the length of an offcut of a pattern of the bin that gains at
// least need; the table must have been built for that need.
func (f *Knapsack) Roomiest(b int, need int64) int64 {
	k := &f.p.Kinds[f.kind]
	lo, hi := int64(0), f.p.RoomiestOf(b)
	if k.Part[0] > 0 {
		return hi
	}
	for need += f.own(b); lo < hi; {
		mid := lo + (hi-lo+1)/2
		if f.leaving(b, mid+k.Kerf) >= need {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo
}

// leaving returns the greatest value of items and terminal of a pattern of the bin that leaves at least
// the reserve.
func (f *Knapsack) leaving(b int, reserve int64) int64 {
	best, level := int64(None), len(f.stages)
	for _, t := range f.alive[level] {
		j := f.automaton.concatenation[0][t]
		if j < 0 {
			continue
		}
		for _, e := range f.terminals[j] {
			if v := f.at(level, int(t), f.p.Bins[b].Cap-max(e.reserve, f.automaton.closingLoss[j]+reserve)); v > None {
				best = max(best, v+e.bonus)
			}
		}
	}
	return best
}

// gain returns the gain of a pattern with known costs.
func (f *Knapsack) gain(fill *rules.Pattern, cost *[rules.Criteria]int64) int64 {
	if fill.Uses[0].Item == f.spareItem {
		return f.spareValue
	}
	g := int64(0)
	for k, w := range f.weight {
		g -= w * cost[k]
	}
	i := 0
	for _, u := range fill.Uses {
		for f.stages[i].item != u.Item {
			i++
		}
		// Costs includes the cuts.
		g += u.N * (f.stages[i].value + f.weight[rules.Cuts]*f.p.Items[u.Item].Pieces)
	}
	return g
}

// Enumerate implements Oracle.
func (f *Knapsack) Enumerate(b int, need int64, mt *meter.Meter, visit func(c rules.Column, gain int64) bool) bool {
	if f.spareValue > None && f.spareValue >= need {
		if !visit(rules.Column{Fill: &rules.Pattern{Bin: b, Uses: []rules.Use{{Item: f.spareItem, N: 1}}}}, f.spareValue) {
			return false
		}
	}
	f.uses = f.uses[:0]
	w := walker{f: f, need: need + f.own(b), exact: need, mt: mt, visit: visit}
	w.pattern.Bin = b
	return w.down(len(f.stages), f.p.Bins[b].Cap, 0, 0, false)
}

type walker struct {
	f       *Knapsack
	need    int64 // without the bin's own costs
	exact   int64
	mt      *meter.Meter
	visit   func(rules.Column, int64) bool
	pattern rules.Pattern // the visited one
}

// down continues with the first l stages; seen means that their bound has been checked.
func (w *walker) down(l int, residual int64, state int16, have int64, seen bool) bool {
	f := w.f
	mark := len(f.uses)
	for l > 0 {
		if !seen {
			if !w.mt.Spend(int64(4*len(f.alive[l]) + 8)) {
				return false
			}
			v := f.over(l, state, residual)
			if v == None || have+v < w.need {
				return true
			}
		}
		seen = false
		l--
		lv := &f.stages[l]
		// Copies of the item first; this loop makes the last choice, none.
		if !w.take(l, 0, lv.most, residual, state, have) {
			return false
		}
		f.uses = f.uses[:mark]
	}
	return len(f.uses) == 0 || w.leaf()
}

// leaf visits the pattern of the uses if it is valid and gains enough.
func (w *walker) leaf() bool {
	f, fill := w.f, &w.pattern
	fill.Uses = append(fill.Uses[:0], f.uses...)
	slices.Reverse(fill.Uses)
	slices.SortFunc(fill.Uses, func(a, b rules.Use) int { return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Orient, b.Orient)) })
	x, ok := f.p.Fill(fill)
	if !ok {
		return true
	}
	cost := f.p.Costs(fill, &x)
	if g := f.gain(fill, &cost); g >= w.exact {
		return w.visit(rules.Column{Fill: fill, Cost: cost}, g)
	}
	return true
}

// take tries at least one copy of stage l's item, in every orientation from the given one on, and
// continues with the earlier stages.
func (w *walker) take(l, way int, most, residual int64, state int16, have int64) bool {
	f := w.f
	lv := &f.stages[l]
	ways := len(f.p.Items[lv.item].Orientations)
	mark := len(f.uses)
	for v := way; v < ways; v++ {
		size := f.automaton.small[lv.item][v]
		t, r, h := state, residual, have
		for n := int64(1); n <= most; n++ {
			t = f.automaton.transition[lv.item][v][t]
			r -= size
			h += lv.value
			if t < 0 || r < 0 {
				break
			}
			if !w.mt.Spend(int64(4*len(f.alive[l]) + 8)) {
				return false
			}
			f.uses = append(f.uses[:mark], rules.Use{Item: lv.item, Orient: v, N: n})
			if u := f.over(l, t, r); u > None && h+u >= w.need {
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

// backtrack returns the pattern that attains the value of over, with one more copy of an item in an
// orientation (-1: none). It reports false if the pattern violates a rule that the automaton does not
// track, or holds one copy of the item too many.
func (f *Knapsack) backtrack(b, l, way int) (rules.Pattern, rules.PatternSize, int64, bool) {
	f.uses = f.uses[:0]
	residual, state := f.p.Bins[b].Cap, int16(0)
	extra := -1
	if way >= 0 {
		extra = f.stages[l].item
		state = f.automaton.transition[extra][way][0]
		residual -= f.automaton.small[extra][way]
		f.uses = append(f.uses, rules.Use{Item: extra, Orient: way, N: 1})
	}
	if state < 0 {
		return rules.Pattern{}, rules.PatternSize{}, 0, false
	}
	want := f.over(len(f.stages), state, residual)
	if want == None {
		return rules.Pattern{}, rules.PatternSize{}, 0, false
	}
	// Find the terminal that attains the value.
	at := -1
find:
	for t := range f.automaton.states {
		j := f.automaton.concatenation[t][state]
		if j < 0 {
			continue
		}
		for _, e := range f.terminals[j] {
			if v := f.at(len(f.stages), t, residual-e.reserve); v > None && v+e.bonus == want {
				at, residual, want = t, residual-e.reserve, v
				break find
			}
		}
	}
	for k := f.lastTaken(len(f.stages), at, residual, want); k > 0; k = f.lastTaken(k-1, at, residual, want) {
		if f.diversity.full(f.stages[k-1].item) {
			return rules.Pattern{}, rules.PatternSize{}, 0, false
		}
		if at, residual, want = f.stepBack(k, at, residual, want); at < 0 {
			return rules.Pattern{}, rules.PatternSize{}, 0, false
		}
	}
	fill := rules.Pattern{Bin: b, Uses: nil}
	slices.SortFunc(f.uses, func(a, b rules.Use) int { return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Orient, b.Orient)) })
	n := int64(0)
	for _, u := range f.uses {
		if u.Item == extra {
			n += u.N
		}
		if k := len(fill.Uses) - 1; k >= 0 && fill.Uses[k].Item == u.Item && fill.Uses[k].Orient == u.Orient {
			fill.Uses[k].N += u.N
		} else {
			fill.Uses = append(fill.Uses, u)
		}
	}
	if len(fill.Uses) == 0 || extra >= 0 && n > f.limit[extra] {
		return fill, rules.PatternSize{}, 0, false
	}
	x, ok := f.p.Fill(&fill)
	if !ok {
		return fill, x, 0, false
	}
	cost := f.p.Costs(&fill, &x)
	return fill, x, f.gain(&fill, &cost), true
}

// lastTaken returns the least number of stages whose items alone have the value: the last of these stages is taken from.
// What the first stages are worth never falls with their number, so it bisects.
func (f *Knapsack) lastTaken(stages, state int, residual, want int64) int {
	if state < 0 {
		return stages
	}
	return sort.Search(stages, func(k int) bool { return f.at(k, state, residual) == want })
}

// stepBack finds how many copies of stage k-1's item, and in which orientations, lead to a value of the
// first k stages, and records them. It returns state, residual capacity and value of the stages before;
// the state is -1 if the labels do not tell.
func (f *Knapsack) stepBack(k, state int, residual, want int64) (int, int64, int64) {
	lv := &f.stages[k-1]
	ways := len(f.p.Items[lv.item].Orientations)
	if ways == 1 && len(f.automaton.states) == 1 {
		// The most frequent case, in an inner loop.
		size := f.automaton.small[lv.item][0]
		for c := int64(0); c <= lv.most && residual >= 0; c++ {
			if f.at(k-1, 0, residual) == want {
				if c > 0 {
					f.uses = append(f.uses, rules.Use{Item: lv.item, Orient: 0, N: c})
				}
				return 0, residual, want
			}
			residual, want = residual-size, want-lv.value
		}
		return -1, 0, 0
	}
	var try func(way int, most, r, v int64, need []int64) (int, int64, int64)
	counts := make([]int64, ways)
	try = func(way int, most, r, v int64, n []int64) (int, int64, int64) {
		if way == ways {
			for t := range f.automaton.states {
				if int(f.automaton.after(int16(t), lv.item, n)) == state && f.at(k-1, t, r) == v {
					return t, r, v
				}
			}
			return -1, 0, 0
		}
		for c := int64(0); c <= most; c++ {
			n[way] = c
			left := r - c*f.automaton.small[lv.item][way]
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
	t, r, v := try(0, lv.most, residual, want, counts)
	if t >= 0 {
		for w, c := range counts {
			if c > 0 {
				f.uses = append(f.uses, rules.Use{Item: lv.item, Orient: w, N: c})
			}
		}
	}
	return t, r, v
}

// after returns the state after so many of an item in each orientation, below zero if there is none.
func (a *automaton) after(state int16, item int, n []int64) int16 {
	for w := range n {
		for c := int64(0); c < n[w] && state >= 0; c++ {
			next := a.transition[item][w][state]
			if next == state {
				break
			}
			state = next
		}
	}
	return state
}

// Maximal implements Oracle.
func (f *Knapsack) Maximal(c *rules.Column) bool {
	x, ok := f.p.Fill(c.Fill)
	return !ok || f.p.Maximal(c.Fill, &x)
}

// Worth implements Oracle.
func (f *Knapsack) Worth(dual []float64, limit []int64, _ *[rules.Criteria]float64) float64 {
	sum, rate := 0.0, 0.0
	cap := int64(0)
	for _, b := range f.places {
		cap = max(cap, f.p.Bins[b].Cap)
	}
	for i, v := range dual[:len(f.p.Items)] {
		if v <= 0 {
			continue
		}
		if f.p.Items[i].Alone {
			sum += v
			continue
		}
		for _, s := range f.automaton.small[i] {
			sum += float64(v * float64(min(limit[i], cap/max(s, 1))))
			rate = max(rate, v/float64(max(s, 1)))
		}
	}
	return max(1, min(sum, float64(rate*float64(cap))+1))
}

// LeastSize returns the smallest size of an item in any orientation.
func (f *Knapsack) LeastSize(item int) int64 { return slices.Min(f.automaton.small[item]) }
