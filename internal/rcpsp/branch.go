package rcpsp

import "slices"

// branching searches without an order of starts, for links that let a task start before its
// predecessor. Every task starts as early as its links allow. If tasks together exceed a
// resource, or dust meets a wet coat, one of them must end before another starts, and the
// search tries each such order. In any plan, some two of these tasks do not overlap, since
// intervals that overlap in pairs have a common moment. Bartusch, Möhring and Radermacher,
// "Scheduling project networks with resource constraints and time windows" (1988, from
// memory).
type branching struct {
	*network
	r            *Result
	steps, limit int64
	mode         []int // of each task; -1: not chosen yet
	decided      []order
}

// order is the constraint that task b starts at least after later than the end of task
// a.
type order struct {
	a, b  int
	after int64
}

// branch runs the exhaustive search, and reports whether it completed within the limit.
func (g *network) branch(r *Result, limit int64) bool {
	b := &branching{network: g, r: r, limit: limit, mode: make([]int, len(g.Tasks))}
	for i, t := range g.Tasks {
		if len(t.Modes) > 1 {
			b.mode[i] = -1
		}
	}
	done := b.try(g.earliest())
	r.Steps += b.steps
	return done
}

// try searches for a better plan in which no task is earlier than in the given windows.
func (b *branching) try(w []window) bool {
	if b.r.Done == b.r.Bound {
		return true
	}
	w, ok := b.push(w)
	if b.over(b.steps, b.limit) {
		return false
	}
	if !ok {
		return true
	}
	if i := slices.Index(b.mode, -1); i >= 0 {
		defer func() { b.mode[i] = -1 }()
		for m := range b.Tasks[i].Modes {
			b.mode[i] = m
			if !b.try(w) {
				return false
			}
		}
		return true
	}
	ways := b.conflict(w)
	if ways == nil {
		plan := make([]Start, len(w))
		for i := range w {
			plan[i] = Start{b.mode[i], w[i].start, w[i].end}
		}
		b.r.take(plan)
	}
	for _, o := range ways {
		b.decided = append(b.decided, o)
		ok := b.try(w)
		b.decided = b.decided[:len(b.decided)-1]
		if !ok {
			return false
		}
	}
	return true
}

// push returns the earliest windows of all tasks, and false if they are too late for a
// better plan. Decided orders may form cycles with links, so push propagates until nothing
// moves; times only increase, so it terminates.
func (b *branching) push(w []window) ([]window, bool) {
	w = slices.Clone(w)
	for moved := true; moved; {
		moved = false
		b.steps += int64(len(w) + len(b.decided))
		if b.over(b.steps, b.limit) {
			return nil, false
		}
		for _, o := range b.decided {
			w[o.b].start = max(w[o.b].start, w[o.a].end+o.after)
		}
		for _, i := range b.order {
			start, end := w[i].start, int64(0)
			for _, l := range b.Tasks[i].Links {
				x, y := b.bounds(l, w[l.Task].start, w[l.Task].end)
				start, end = max(start, x), max(end, y)
			}
			now := b.fromIn(i, start, end)
			if now.end >= b.r.Done {
				return nil, false
			}
			moved = moved || now != w[i]
			w[i] = now
		}
	}
	return w, true
}

// fromIn is from, in the chosen mode if there is one.
func (b *branching) fromIn(i int, start, end int64) window {
	m := b.mode[i]
	if m < 0 {
		return b.from(i, start, end)
	}
	d := b.Tasks[i].Modes[m].Time
	s := b.cal.at(start, d)
	if end > 0 {
		s = max(s, b.cal.StartToEnd(end, d))
	}
	return window{s, b.cal.Advance(s, d)}
}

// conflict returns the orders that resolve the first conflict, or nil if there is none.
func (b *branching) conflict(w []window) []order {
	for i, t := range b.Tasks {
		for j, o := range b.Tasks {
			if b.dusty[i] && b.wet[j] && t.Zone == o.Zone && w[i].start < w[j].end+o.Dry && w[j].start < w[i].end {
				return []order{{i, j, 0}, {j, i, o.Dry}}
			}
		}
	}
	for r, c := range b.Capacity {
		for i := range b.Tasks {
			var set []int // tasks that hold the resource when i starts
			held := int64(0)
			for j := range b.Tasks {
				if n := b.units(j, r); n > 0 && w[j].start <= w[i].start && w[i].start < w[j].end {
					if set, held = append(set, j), held+n; held > c {
						break
					}
				}
			}
			if held <= c {
				continue
			}
			var ways []order
			for _, x := range set {
				for _, y := range set {
					if x != y {
						ways = append(ways, order{x, y, 0})
					}
				}
			}
			return ways
		}
	}
	return nil
}

// units returns the number of units of a resource that a task holds.
func (b *branching) units(i, r int) (n int64) {
	for _, need := range b.Tasks[i].Modes[b.mode[i]].Need {
		if need.Resource == r {
			n += need.Units
		}
	}
	return n
}
