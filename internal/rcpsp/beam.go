package rcpsp

import (
	"math/bits"
	"slices"
)

// beam searches for a plan that ends by a target. It extends partial plans in layers by
// their number of tasks, placing tasks in the order of their starts. Among partial plans
// with the same tasks, it keeps only those not dominated for all completions: this is the
// cutset rule of Demeulemeester and Herroelen, "A branch-and-bound procedure for the
// multiple resource-constrained project scheduling problem" (1992, from memory), with
// dominance instead of equality. Partial plans that cannot meet the target are dropped. Of
// the rest, at most width are kept; if the width never dropped any and the search found
// nothing, there is no such plan.
type beam struct {
	*network
	pools  []pool
	before [][]uint64 // predecessors of a task
	hashes []uint64

	early []window
	late  []window
	lateW []int64 // working time before the latest end of each task

	steps, limit int64
	cost         int64 // of a partial plan, in steps
	trace        []step
	free         []*label
	fits         []fit
	ends         []int64 // earliest ends of the remaining tasks
	loads        []load
	queue        queue
}

// label is a partial plan.
type label struct {
	state
	set   []uint64 // tasks that it contains
	hash  uint64
	step  step  // its last one
	at    int32 // its index in the trace, or -1
	dead  bool  // dominated by another
	slack int64 // least known margin to the target
	sum   int64 // of earliest starts
}

// step is a placed task, and the previous step, or -1.
type step struct {
	before, task, mode int32
	start              int64
}

// fit is a possible placement of the next task.
type fit struct {
	task, mode int
	start, end int64
}

func newBeam(g *network, early []window, limit int64) *beam {
	n := len(g.Tasks)
	words := (n + 63) / 64
	b := &beam{network: g, early: early, pools: g.pools(), limit: limit, before: make([][]uint64, n), hashes: make([]uint64, n), lateW: make([]int64, n), ends: make([]int64, n)}
	ways := 0
	for _, t := range g.Tasks {
		ways += len(t.Modes)
	}
	b.cost = int64(n + (ways+len(g.apart))/8)
	seed := uint64(1)
	for i := range g.Tasks {
		b.before[i] = make([]uint64, words)
		for _, l := range g.Tasks[i].Links {
			b.before[i][l.Task/64] |= 1 << (l.Task % 64)
		}
		// splitmix64, Steele, Lea and Flood 2014 (from memory): any well-mixed sequence
		// would do.
		seed += 0x9e3779b97f4a7c15
		z := (seed ^ seed>>30) * 0xbf58476d1ce4e5b9
		z = (z ^ z>>27) * 0x94d049bb133111eb
		b.hashes[i] = z ^ z>>31
	}
	return b
}

// found is the result of a search.
type found uint8

const (
	foundPlan   found = iota
	foundNone         // there is none
	foundLittle       // some partial plans were dropped
	foundLimit        // the work is used up
)

// search searches for a plan that ends by a target, with a beam width.
func (b *beam) search(target int64, width int) ([]Start, found) {
	var ok bool
	if _, b.late, ok = b.windows(target, b.early); !ok {
		return nil, foundNone
	}
	b.trace = b.trace[:0]
	for i, w := range b.late {
		b.lateW[i] = b.cal.Worked(w.end)
	}
	root := b.take()
	root.copyState(b.newState())
	root.at = -1
	layer := []*label{root}
	if !b.settle(root) {
		return nil, foundNone
	}
	result := foundNone
	var next []*label
	for depth := 0; depth < len(b.Tasks); depth++ {
		known := make(map[uint64][]*label)
		for _, l := range layer {
			if !b.expand(l, &next, known) {
				return nil, foundLimit
			}
			if len(next) > 2*width && narrow(&next, width) {
				result = foundLittle
			}
		}
		if narrow(&next, width) {
			result = foundLittle
		}
		for _, l := range next {
			l.at = int32(len(b.trace))
			b.trace = append(b.trace, l.step)
		}
		b.free = append(b.free, layer...)
		layer, next = next, layer[:0]
	}
	if len(layer) == 0 {
		return nil, result
	}
	best := slices.MinFunc(layer, func(a, c *label) int { return compare(a.done, c.done) })
	plan := make([]Start, len(b.Tasks))
	for k := best.at; k >= 0; k = b.trace[k].before {
		s := b.trace[k]
		plan[s.task] = Start{int(s.mode), s.start, b.cal.Advance(s.start, b.Tasks[s.task].Modes[s.mode].Time)}
	}
	b.free = append(b.free, layer...)
	return plan, foundPlan
}

// narrow drops dominated labels, and the worst ones beyond the width; it reports whether it
// dropped any of the latter.
func narrow(labels *[]*label, width int) bool {
	*labels = slices.DeleteFunc(*labels, func(l *label) bool { return l.dead })
	if len(*labels) <= width {
		return false
	}
	slices.SortStableFunc(*labels, better)
	for _, l := range (*labels)[width:] {
		l.dead = true
	}
	*labels = slices.Delete(*labels, width, len(*labels))
	return true
}

func better(a, b *label) int {
	if c := compare(b.slack, a.slack); c != 0 {
		return c
	}
	return compare(a.sum, b.sum)
}

func compare(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// take returns an empty label.
func (b *beam) take() *label {
	if n := len(b.free); n > 0 {
		l := b.free[n-1]
		b.free = b.free[:n-1]
		l.hash = 0
		clear(l.set)
		return l
	}
	return &label{set: make([]uint64, (len(b.Tasks)+63)/64)}
}

// copyState copies o to s.
func (s *state) copyState(o *state) {
	s.last, s.done = o.last, o.done
	s.start = append(s.start[:0], o.start...)
	s.end = append(s.end[:0], o.end...)
	if o.end == nil {
		s.end = nil
	}
	if s.busy == nil {
		s.busy = make([][]use, len(o.busy))
	}
	for r := range o.busy {
		s.busy[r] = append(s.busy[r][:0], o.busy[r]...)
	}
	s.wet, s.dust = append(s.wet[:0], o.wet...), append(s.dust[:0], o.dust...)
}

func (l *label) has(i int) bool { return l.set[i/64]>>(i%64)&1 == 1 }

// ready reports whether all predecessors of a task are placed.
func (b *beam) ready(l *label, i int) bool {
	for k, w := range b.before[i] {
		if w&^l.set[k] != 0 {
			return false
		}
	}
	return true
}

// expand adds all extensions of a label that may lead to the target, and reports
// whether there is work left.
func (b *beam) expand(l *label, next *[]*label, known map[uint64][]*label) bool {
	for _, f := range b.ways(l) {
		b.steps += b.cost
		if b.over(b.steps, b.limit) {
			return false
		}
		c := b.take()
		c.copyState(&l.state)
		copy(c.set, l.set)
		c.set[f.task/64] |= 1 << (f.task % 64)
		c.hash = l.hash ^ b.hashes[f.task]
		b.place(&c.state, f.task, f.mode, f.start)
		if !b.settle(c) || b.beaten(c, known) {
			b.free = append(b.free, c)
			continue
		}
		c.step = step{l.at, int32(f.task), int32(f.mode), f.start}
		known[c.hash] = append(known[c.hash], c)
		*next = append(*next, c)
	}
	return true
}

// ways returns the possible next placements. It omits a placement if another task could
// be completed before its start, since that task could then be placed first at no cost;
// a coat only if it would also have dried.
func (b *beam) ways(l *label) []fit {
	b.fits = b.fits[:0]
	until, from := Never, Never // some task can be done from from until until
	for w, word := range l.set {
		for rest := ^word; rest != 0; rest &= rest - 1 {
			i := w*64 + bits.TrailingZeros64(rest)
			if i >= len(b.Tasks) || !b.ready(l, i) {
				continue
			}
			some := false
			for m := range b.Tasks[i].Modes {
				start := b.fit(&l.state, i, m)
				end := b.cal.Advance(start, b.Tasks[i].Modes[m].Time)
				if start > b.late[i].start || end > b.late[i].end {
					continue
				}
				some = true
				b.fits = append(b.fits, fit{i, m, start, end})
				dry := end
				if b.wet[i] {
					dry += b.Tasks[i].Dry
				}
				if dry < until || dry == until && start < from {
					until, from = dry, start
				}
			}
			if !some {
				return nil // it can no longer be placed in time
			}
		}
	}
	first := slices.IndexFunc(b.fits, func(f fit) bool { return f.start == l.last && f.end == f.start && !b.wet[f.task] })
	if first >= 0 { // a milestone that can be placed at once and holds nothing
		return b.fits[first : first+1]
	}
	return slices.DeleteFunc(b.fits, func(f fit) bool { return f.start >= until && f.start > from })
}

// settle computes the earliest starts of the remaining tasks, and reports whether the
// target may still be met according to them.
func (b *beam) settle(l *label) bool {
	if !b.forward(l) {
		return false
	}
	for range 3 {
		later, ok := b.keepApart(l)
		if !ok {
			return false
		}
		if !later {
			break
		}
		if !b.forward(l) {
			return false
		}
	}
	from := Never
	l.slack, l.sum = Never, 0
	for w, word := range l.set {
		for rest := ^word; rest != 0; rest &= rest - 1 {
			i := w*64 + bits.TrailingZeros64(rest)
			if i >= len(b.Tasks) {
				break
			}
			l.slack = min(l.slack, b.late[i].start-l.start[i])
			l.sum += l.start[i]
			if b.ready(l, i) {
				for m := range b.Tasks[i].Modes {
					from = min(from, b.fit(&l.state, i, m))
				}
			}
		}
	}
	if from < Never {
		l.last = from // no remaining task starts earlier
	}
	return b.fitsIn(l)
}

// forward propagates the earliest times of the remaining tasks to their successors.
func (b *beam) forward(l *label) bool {
	s := &l.state
	for _, i := range b.order {
		if l.has(i) {
			continue
		}
		start, end := max(s.start[i], s.last), int64(0)
		if s.end != nil {
			end = s.end[i]
		}
		for _, k := range b.Tasks[i].Links {
			if !l.has(k.Task) {
				x, y := b.bounds(k, s.start[k.Task], b.ends[k.Task])
				start, end = max(start, x), max(end, y)
			}
		}
		if b.dusty[i] {
			start = max(start, s.wet[b.Tasks[i].Zone])
		}
		if b.network.wet[i] {
			start = max(start, s.dust[b.Tasks[i].Zone])
		}
		w := b.from(i, start, end)
		if w.start > b.late[i].start || w.end > b.late[i].end {
			return false
		}
		s.start[i], b.ends[i] = w.start, w.end
		if s.end != nil {
			s.end[i] = end
		}
	}
	return true
}

// keepApart examines pairs of tasks that exclude each other: if one of them can no longer
// go first, the other does. later reports whether some start moved, and ok is false if
// neither can go first.
func (b *beam) keepApart(l *label) (later, ok bool) {
	s := &l.state
	for _, p := range b.apart {
		if l.has(p.a) || l.has(p.b) {
			continue
		}
		afterA, afterB := b.ends[p.a]+p.afterA, b.ends[p.b]+p.afterB
		aFirst, bFirst := afterA <= b.late[p.b].start, afterB <= b.late[p.a].start
		switch {
		case !aFirst && !bFirst:
			return false, false
		case !aFirst && afterB > s.start[p.a]:
			s.start[p.a], later = afterB, true
		case !bFirst && afterA > s.start[p.b]:
			s.start[p.b], later = afterA, true
		}
	}
	return later, true
}

// fitsIn reports whether the remaining work fits into the remaining capacity of the
// pools.
func (b *beam) fitsIn(l *label) bool {
	now := b.cal.Worked(l.last)
	for _, p := range b.pools {
		b.loads = b.loads[:0]
		for i, e := range p.energy {
			if e > 0 && !l.has(i) {
				b.loads = append(b.loads, load{p.capacity * b.cal.Worked(max(l.state.start[i], l.last)), p.capacity * b.lateW[i], e})
			}
		}
		for _, r := range p.resources {
			for _, u := range l.busy[r] {
				if w := b.cal.Worked(u.end); w > now {
					b.loads = append(b.loads, load{p.capacity * now, p.capacity * w, (w - now) * u.units * b.weight(r)})
				}
			}
		}
		slack, ok := fluid(b.loads, &b.queue)
		if !ok {
			return false
		}
		l.slack = min(l.slack, slack/p.capacity)
	}
	return true
}

// beaten reports whether a label with the same tasks dominates c, and marks those that c
// dominates.
func (b *beam) beaten(c *label, known map[uint64][]*label) bool {
	for _, o := range known[c.hash] {
		if o.dead || !slices.Equal(o.set, c.set) {
			continue
		}
		b.steps += int64(len(b.Tasks)) / 4
		if b.asGood(o, c) {
			return true
		}
		if b.asGood(c, o) {
			o.dead = true
		}
	}
	return false
}

// asGood reports whether every completion of c also completes a.
func (b *beam) asGood(a, c *label) bool {
	if a.last > c.last {
		return false
	}
	for w, word := range a.set {
		for rest := ^word; rest != 0; rest &= rest - 1 {
			i := w*64 + bits.TrailingZeros64(rest)
			if i >= len(b.Tasks) {
				break
			}
			if a.start[i] > max(c.start[i], c.last) || a.end != nil && a.end[i] > c.end[i] {
				return false
			}
		}
	}
	for r := range a.busy {
		if !less(a.busy[r], c.busy[r], c.last) {
			return false
		}
	}
	return true
}

// less reports whether from now on a never holds more than c.
func less(a, c []use, now int64) bool {
	held := int64(0) // in a less in c, from the end backward
	k := len(c) - 1
	for i := len(a) - 1; i >= 0 && a[i].end > now; i-- {
		for ; k >= 0 && c[k].end >= a[i].end; k-- {
			held -= c[k].units
		}
		if held += a[i].units; held > 0 {
			return false
		}
	}
	return true
}
