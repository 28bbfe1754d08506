// Package packing searches for a plan with so few bins that almost no capacity may be wasted, or proves
// that there is none.
//
// A plan of z bins wastes z*capacity less the sum of all sizes, so no pattern of it wastes more than
// that. If that is almost nothing, most items fit into few patterns, of which a few dominate the
// others: a pattern that holds item i dominates another if the other's items, without those that both
// hold, fit into the spaces that its own items vacate in the rest of the plan (S. Martello, P. Toth,
// Lower bounds and reduction procedures for the bin packing problem, Discrete Applied Mathematics 28
// (1990) 59-70). An item with one pattern left is fixed (forced); then the next item is fixed in what
// remains. Only if no item is forced does the search branch, on the item with the fewest patterns.
//
// The sums that the items can make are kept as bits, one for each unit of capacity and each item. New
// rejects problems for which that would take too much memory.
package packing

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

// Verdict is how a search ended.
type Verdict uint8

const (
	Open  Verdict = iota // given up
	Found                // a plan
	None                 // there is no plan
)

const (
	maxBits      = 1 << 28 // bits of all sums
	maxPieces    = 20_000
	maxSums      = 512     // subsets of a pattern
	maxFailed    = 1 << 14 // remembered states without a plan
	mostDeadEnds = 40      // reported dead ends
	mostPrefixes = 12      // parts of plans that a Run reports

	retryShare = 16 // a list is tried again once a sixteenth less is left to pack

	firstFails = 30 // dead ends of the first run
)

// The maximum lengths of an item's list of patterns, tried one after another.
var lengths = [...]int{16, 64, 256}

// Search is a search for a plan with one number of bins. It can be run again, and then continues with
// what it has learned.
type Search struct {
	size, left []int64 // of items: size, and number left to pack
	cap        int64
	words      int
	sums       []uint64 // row l: the sums of items l and later
	dirty      int      // rows up to this one are out of date
	slack      int64    // the total waste allowed in the remaining bins
	remaining  int64    // sum of the sizes to be packed
	bins       int64    // remaining bins
	listed     []bool   // of items: listed in this scan
	mt         *meter.Meter
	stopped    bool // the meter ran out
	trail      [][]model.Use
	triedAt    [len(lengths)][]int64 // of items: the items left to pack when listing took too long
	tooLong    [][][]model.Use       // of items: patterns of a list that was too long
	alive      []int                 // of items: how many of those are still possible
	weight     []int64               // of items: how often one had no pattern left
	failed     map[string]struct{}
	key        []byte
	prefix     int // number of forced patterns at the front of the trail, -1 while all are
	forced     [][]model.Use
	onDeadEnd  func(cols []model.PatternCount)
	deadEnds   int
	fails      int // dead ends of this run
	allow      int // the limit for fails
	run        int
	inside     bool // below a choice that was reported as part of a plan
	reported   int
	onPrefix   func(cols []model.PatternCount) bool
	branched   bool // this run has branched, so another run may differ
	rng        uint64

	// scratch space of list
	item      int
	dominated []int32 // the round in which a dominating pattern ruled out a sum
	round     int32
	subset    []int64
	uses      []model.Use
	found     [][]model.Use
	limit     int
	steps     int
	bound     int
	places    []int64
	parts     []int64
}

// New sets up the search for a plan of at most bins bins, for a problem with one bin. It returns nil if
// the search does not apply.
func New(p *model.Problem, bins int64) *Search {
	if len(p.Bins) != 1 || len(p.Items) == 0 || bins > p.Bins[0].Limit || p.Pieces() > maxPieces {
		return nil
	}
	cap, n := p.Bins[0].Cap, len(p.Items)
	if cap > maxBits/int64(n+1) || bins > (1<<60)/max(cap, 1) || p.Items[0].Size > cap {
		return nil
	}
	s := &Search{
		cap: cap, words: int(cap/64) + 1, bins: bins, dirty: n - 1,
		prefix: -1, rng: 1, failed: map[string]struct{}{},
	}
	for _, it := range p.Items {
		s.size = append(s.size, it.Size)
		s.left = append(s.left, it.Demand)
		s.remaining += it.Size * it.Demand
	}
	s.slack = bins*cap - s.remaining
	if s.slack < 0 || s.slack >= cap {
		return nil // decided without a search; nothing is ruled out
	}
	s.sums = make([]uint64, (n+1)*s.words)
	s.sums[n*s.words] = 1
	s.listed = make([]bool, n)
	s.tooLong, s.alive = make([][][]model.Use, n), make([]int, n)
	for k := range s.triedAt {
		s.triedAt[k] = make([]int64, n)
		for i := range n {
			s.triedAt[k][i] = math.MaxInt64 / retryShare
		}
	}
	s.weight = make([]int64, n)
	for i := range s.weight {
		s.weight[i] = 1
	}
	s.dominated = make([]int32, cap+1)
	return s
}

// Bins returns the number of bins of the plan.
func (s *Search) Bins() int64 { return s.bins + int64(len(s.trail)) }

// Pass returns about how many steps it takes to fix all bins one after another.
func (s *Search) Pass() int64 {
	return int64(len(s.size)) * int64(s.words) * s.Bins() * 3
}

// Run searches until the meter runs out. With Found, it returns the plan; with Open, patterns that
// belong to some plan of at most that many bins if there is one. At some dead ends it calls near with
// the patterns so far. At some choices, the first on a path at which at least a third of the bins are
// packed, it calls part with the patterns so far; if part returns true, Run ends. Both functions may be
// nil.
func (s *Search) Run(mt *meter.Meter, near func(cols []model.PatternCount), part func(cols []model.PatternCount) bool) ([]model.PatternCount, Verdict) {
	s.mt, s.onDeadEnd, s.onPrefix, s.stopped = mt, near, part, !mt.Left()
	s.reported = 0
	for !s.stopped {
		s.fails, s.branched, s.allow = 0, false, firstFails+2*s.run
		if s.run%6 == 0 {
			s.allow = firstFails << min(s.run/6, 20) // one run in six is exhaustive in the end
		}
		v := s.node()
		if v != Open {
			return columns(s.trail), v
		}
		if !s.branched {
			break // every list is too long
		}
		s.run++
	}
	return columns(s.forced), Open
}

// columns counts equal patterns.
func columns(trail [][]model.Use) []model.PatternCount {
	var out []model.PatternCount
next:
	for _, uses := range trail {
		for k := range out {
			if slices.Equal(out[k].Uses, uses) {
				out[k].Count++
				continue next
			}
		}
		out = append(out, model.PatternCount{Pattern: model.Pattern{Uses: uses}, Count: 1})
	}
	return out
}

// node fixes forced patterns and branches on the rest. With Found the trail is the plan, otherwise
// it is unchanged.
func (s *Search) node() Verdict {
	s.mt.Tally().Packs++
	s.mt.Pause()
	mark := len(s.trail)
	v := s.propagate(mark)
	if v != Found {
		s.undo(mark)
	}
	return v
}

func (s *Search) propagate(mark int) Verdict {
	for s.remaining > 0 {
		if !s.refresh() {
			return Open
		}
		item, choices := s.choose()
		if s.stopped {
			return Open
		}
		if item >= 0 && len(choices) == 0 {
			s.deadEnd(item)
			return None
		}
		if item >= 0 && len(choices) == 1 {
			s.pack(choices[0])
			continue
		}
		if s.prefix < 0 {
			s.prefix = len(s.trail)
			s.forced = slices.Clone(s.trail)
		}
		if item < 0 {
			s.fails++
			return Open
		}
		key := s.state()
		if _, known := s.failed[key]; known {
			return None
		}
		s.branched = true
		if s.onPrefix != nil && !s.inside && s.reported < mostPrefixes && 2*int64(len(s.trail)) >= s.bins {
			s.reported++
			if s.onPrefix(columns(s.trail)) {
				s.stopped = true
				return Open
			}
			s.inside = true
			defer func() { s.inside = false }()
		}
		verdict := s.branch(choices)
		if verdict == None && len(s.failed) < maxFailed {
			s.failed[key] = struct{}{}
		}
		return verdict
	}
	return Found
}

// deadEnd takes down that nothing is left for an item.
func (s *Search) deadEnd(item int) {
	s.weight[item]++
	s.fails++
	if s.onDeadEnd != nil && s.deadEnds < mostDeadEnds {
		s.deadEnds++
		s.onDeadEnd(columns(s.trail))
	}
}

// branch tries one choice after another. The first, the pattern with the fewest pieces, leaves the most for other items and
// is nearly always right. If it is wrong, a run that shuffles a choice now and then finds that out sooner than one that
// backtracks in order.
func (s *Search) branch(choices [][]model.Use) Verdict {
	if s.run > 0 && s.random(1<<(6-s.run%6)) == 0 {
		for k := len(choices) - 1; k > 0; k-- {
			j := s.random(k + 1)
			choices[k], choices[j] = choices[j], choices[k]
		}
	}
	verdict := None
	for _, uses := range choices {
		if s.fails > s.allow {
			return Open
		}
		at := len(s.trail)
		s.pack(uses)
		v := s.node()
		if v == Found {
			return Found
		}
		s.undo(at)
		if v == Open {
			verdict = Open
			if s.stopped {
				return Open
			}
		}
	}
	return verdict
}

// random returns a number in [0, n), from the same sequence in every run.
func (s *Search) random(n int) int {
	s.rng = s.rng*6364136223846793005 + 1442695040888963407
	return int((s.rng >> 33) % uint64(n))
}

// state returns a key for the items left to pack and the number of remaining bins.
func (s *Search) state() string {
	s.key = s.key[:0]
	for _, n := range s.left {
		s.key = append(s.key, byte(n), byte(n>>8))
	}
	for b := s.bins; b > 0; b >>= 8 {
		s.key = append(s.key, byte(b))
	}
	return string(s.key)
}

func (s *Search) pack(uses []model.Use) {
	s.trail = append(s.trail, uses)
	sum := int64(0)
	for _, u := range uses {
		s.left[u.Item] -= u.N
		sum += u.N * s.size[u.Item]
		s.dirty = max(s.dirty, u.Item)
	}
	s.remaining -= sum
	s.slack -= s.cap - sum
	s.bins--
}

func (s *Search) undo(mark int) {
	for len(s.trail) > mark {
		uses := s.trail[len(s.trail)-1]
		s.trail = s.trail[:len(s.trail)-1]
		sum := int64(0)
		for _, u := range uses {
			s.left[u.Item] += u.N
			sum += u.N * s.size[u.Item]
			s.dirty = max(s.dirty, u.Item)
		}
		s.remaining += sum
		s.slack += s.cap - sum
		s.bins++
	}
}

// refresh updates the sums.
func (s *Search) refresh() bool {
	w := s.words
	ops := int64(0)
	for l := s.dirty; l >= 0; l-- {
		row := s.sums[l*w : (l+1)*w]
		copy(row, s.sums[(l+1)*w:(l+2)*w])
		size := s.size[l]
		by, bit := int(size/64), uint(size%64)
		for k := int64(1); k <= s.left[l] && k*size <= s.cap; k++ {
			for t := w - 1; t > by; t-- {
				row[t] |= row[t-by]<<bit | row[t-by-1]>>(64-bit)
			}
			row[by] |= row[0] << bit
			ops += int64(w - by)
		}
		ops += int64(w / 4)
	}
	s.dirty = -1
	if !s.mt.Spend(ops) {
		s.stopped = true
	}
	return !s.stopped
}

// reaches reports whether items l and later can fill the residual capacity, except for what may be
// wasted.
func (s *Search) reaches(l int, residual int64) bool {
	if residual < 0 {
		return false
	}
	row := s.sums[l*s.words : (l+1)*s.words]
	lo := max(residual-s.slack, 0)
	a, b := int(lo>>6), int(residual>>6)
	first, last := ^uint64(0)<<(lo&63), ^uint64(0)>>(63-residual&63)
	if a == b {
		return row[a]&first&last != 0
	}
	if row[a]&first != 0 || row[b]&last != 0 {
		return true
	}
	for t := a + 1; t < b; t++ {
		if row[t] != 0 {
			return true
		}
	}
	return false
}

// choose returns an item with the patterns for it that need to be tried, as few as it can find, or -1
// if every list is too long. A list that was too long is tried again only once less than half the limit
// of its patterns are still possible. The longest lists are only for exhaustive runs, if there is no
// other choice.
func (s *Search) choose() (int, [][]model.Use) {
	item, choices := -1, [][]model.Use(nil)
	clear(s.listed)
	for level, limit := range lengths {
		if level == len(lengths)-1 && (item >= 0 || s.run%6 > 0) {
			break
		}
		slow := s.triedAt[level]
		for i, n := range s.left {
			if n == 0 || s.listed[i] {
				continue
			}
			if level == 0 {
				s.alive[i] = s.count(s.tooLong[i])
			}
			if s.alive[i] > limit/2 || retryShare*s.remaining > (retryShare-1)*slow[i] {
				continue
			}
			all := s.list(i, limit)
			if s.stopped {
				return -1, nil
			}
			if !all {
				if slow[i] = s.remaining; len(s.found) > limit {
					slow[i] = math.MaxInt64 / retryShare
					s.tooLong[i] = append(s.tooLong[i][:0], s.found...)
					s.alive[i] = len(s.found)
				}
				continue
			}
			s.listed[i] = true
			few := s.undominated()
			if item < 0 || len(few) <= 1 || int64(len(few))*s.weight[item] < int64(len(choices))*s.weight[i] {
				item, choices = i, append(choices[:0], few...)
			}
			if len(few) <= 1 {
				return item, choices
			}
		}
	}
	return item, choices
}

// count returns how many of the patterns are still possible, up to somewhat more than half the longest
// list.
func (s *Search) count(known [][]model.Use) int {
	n := 0
next:
	for k, uses := range known {
		if n > lengths[len(lengths)-1]/2 {
			known = known[:k]
			break
		}
		for _, u := range uses {
			if u.N > s.left[u.Item] {
				continue next
			}
		}
		n++
	}
	s.spend(4 * len(known))
	return n
}

// list fills s.found with the patterns that hold the item, except some that others in it dominate. It
// reports false if there are more than limit or it takes too long.
func (s *Search) list(item, limit int) bool {
	s.item, s.limit, s.steps, s.bound = item, limit, 0, (limit/2+8)*len(s.size)
	s.found = s.found[:0]
	s.uses = s.uses[:0]
	residual := s.cap - s.size[item]
	if !s.reaches(0, residual) {
		return s.spend(1)
	}
	if s.exact(residual) {
		return s.spend(len(s.size))
	}
	s.subset = append(s.subset[:0], 0)
	ok := s.walk(0, residual)
	return s.spend(len(s.size)+4*s.steps) && ok
}

func (s *Search) spend(n int) bool {
	if !s.mt.Spend(int64(n)) {
		s.stopped = true
	}
	return !s.stopped
}

// beside returns how many of item l are left beside the listed item.
func (s *Search) beside(l int) int64 {
	if l == s.item {
		return s.left[l] - 1
	}
	return s.left[l]
}

// exact finds the patterns in which one or two items fill the residual capacity exactly. A pattern of
// one item dominates all others, and exact then reports true. A pattern of two items dominates any
// pattern with a part of the size of either item.
func (s *Search) exact(residual int64) bool {
	s.round++
	for a, b := 0, len(s.size)-1; a <= b; {
		x, y := s.size[a], s.size[b]
		switch {
		case s.beside(a) <= 0 || x > residual:
			a++
		case x == residual:
			s.found = s.found[:0]
			s.add(model.Use{Item: a, N: 1})
			return true
		case s.beside(b) <= 0 || x+y < residual:
			b--
		case x+y > residual:
			a++
		default:
			if a < b {
				s.add(model.Use{Item: a, N: 1}, model.Use{Item: b, N: 1})
			} else if s.beside(a) > 1 {
				s.add(model.Use{Item: a, N: 2})
			} else {
				a++
				continue
			}
			s.dominated[x], s.dominated[y] = s.round, s.round
			a++
			b--
		}
	}
	return false
}

// add appends the uses, together with the listed item, to s.found.
func (s *Search) add(uses ...model.Use) {
	out := make([]model.Use, 0, len(uses)+1)
	in := false
	for _, u := range uses {
		if u.Item == s.item {
			u.N++
			in = true
		} else if u.Item > s.item && !in {
			out = append(out, model.Use{Item: s.item, N: 1})
			in = true
		}
		out = append(out, u)
	}
	if !in {
		out = append(out, model.Use{Item: s.item, N: 1})
	}
	s.found = append(s.found, out)
}

// walk enumerates the patterns of items l and later within the residual capacity. A pattern with a
// subset whose sum is marked is dominated.
func (s *Search) walk(l int, residual int64) bool {
	mark, subsets := len(s.uses), len(s.subset)
	last := len(s.size) - 1
	for ; l <= last && residual >= s.size[last]; l++ {
		s.steps++
		most := min(s.beside(l), residual/s.size[l])
		if most <= 0 {
			continue
		}
		for k := int64(1); k <= most; k++ {
			if !s.extend(subsets, k*s.size[l]) {
				break
			}
			if s.reaches(l+1, residual-k*s.size[l]) {
				s.uses = append(s.uses, model.Use{Item: l, N: k})
				if !s.walk(l+1, residual-k*s.size[l]) {
					return false
				}
				s.uses = s.uses[:mark]
			}
		}
		s.subset = s.subset[:subsets]
		if !s.reaches(l+1, residual) {
			return s.steps < s.bound
		}
	}
	if residual <= s.slack {
		s.add(s.uses...)
	}
	return len(s.found) <= s.limit && s.steps < s.bound
}

// extend adds size to the first n subset sums and reports false if one of the results is marked.
func (s *Search) extend(n int, size int64) bool {
	if n > maxSums {
		return true
	}
	s.steps += n / 4
	for _, v := range s.subset[:n] {
		if v += size; s.dominated[v] == s.round {
			return false
		}
		s.subset = append(s.subset, v)
	}
	return true
}

// undominated returns the patterns in s.found that no other pattern there dominates.
func (s *Search) undominated() [][]model.Use {
	pieces := func(uses []model.Use) int64 {
		n := int64(0)
		for _, u := range uses {
			n += u.N
		}
		return n
	}
	slices.SortStableFunc(s.found, func(a, b []model.Use) int { return int(pieces(a) - pieces(b)) })
	kept := s.found[:0]
	ops := 0
next:
	for k, uses := range s.found {
		for _, other := range s.found[:len(kept)] {
			ops += 20
			if s.dominates(other, uses) {
				continue next
			}
		}
		kept = append(kept, s.found[k])
	}
	s.spend(ops)
	return kept
}

// dominates reports whether the items of q, less those of p, fit into the spaces of the items of p,
// less those of q.
func (s *Search) dominates(p, q []model.Use) bool {
	s.places, s.parts = s.places[:0], s.parts[:0]
	for a, b := 0, 0; a < len(p) || b < len(q); {
		d, item := int64(0), 0
		switch {
		case b == len(q) || a < len(p) && p[a].Item < q[b].Item:
			d, item = p[a].N, p[a].Item
			a++
		case a == len(p) || q[b].Item < p[a].Item:
			d, item = -q[b].N, q[b].Item
			b++
		default:
			d, item = p[a].N-q[b].N, p[a].Item
			a, b = a+1, b+1
		}
		for ; d > 0; d-- {
			s.places = append(s.places, s.size[item])
		}
		for ; d < 0; d++ {
			s.parts = append(s.parts, s.size[item])
		}
	}
	tries := 200
	return s.place(0, &tries)
}

// place puts the parts from t on into the places, the largest part first.
func (s *Search) place(t int, tries *int) bool {
	if t == len(s.parts) {
		return true
	}
	if *tries--; *tries < 0 {
		return false
	}
	for k := range s.places {
		if s.places[k] >= s.parts[t] {
			s.places[k] -= s.parts[t]
			if s.place(t+1, tries) {
				return true
			}
			s.places[k] += s.parts[t]
		}
	}
	return false
}
