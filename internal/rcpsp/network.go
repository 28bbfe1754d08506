package rcpsp

// network is a problem with the data derived from its links.
type network struct {
	*Problem
	cal         *Calendar
	order       []int    // tasks in topological order
	after       [][]Link // links to the successors of a task; Link.Task is the successor
	short, long []int64  // times of the shortest and the longest mode
	wet         []bool   // wet tasks in zones that also have dust
	dusty       []bool   // dusty tasks in zones that also have wet tasks
	choices     bool     // some task has several modes
	toFinish    bool     // some links constrain ends
	steps       int64    // steps of the passes
	apart       []pair   // pairs that must not overlap and are not ordered by links

	ended  func() bool // reports that the caller does not wait any longer; nil: never
	asked  int         // number of calls of over
	isOver bool        // ended has reported it
}

// over reports whether a search has taken more steps than its limit, or must end because the
// caller does not wait any longer. It asks for that every so often.
func (g *network) over(steps, limit int64) bool {
	const every = 128
	if g.asked++; g.asked%every == 0 {
		g.stopped()
	}
	return steps > limit || g.isOver
}

// stopped asks whether the caller does not wait any longer.
func (g *network) stopped() bool {
	g.isOver = g.isOver || g.ended != nil && g.ended()
	return g.isOver
}

// newNetwork returns nil if links form a cycle.
func newNetwork(p *Problem) *network {
	n := len(p.Tasks)
	g := &network{Problem: p, cal: p.Calendar, after: make([][]Link, n), short: make([]int64, n), long: make([]int64, n),
		wet: make([]bool, n), dusty: make([]bool, n)}
	if g.cal == nil {
		g.cal = Always()
	}
	left := make([]int, n)
	for i := range p.Tasks {
		t := &p.Tasks[i]
		g.short[i], g.long[i] = t.shortest(), t.longest()
		g.choices = g.choices || len(t.Modes) > 1
		for _, l := range t.Links {
			g.after[l.Task] = append(g.after[l.Task], Link{i, l.Kind, l.Lag})
			left[i]++
			g.toFinish = g.toFinish || l.Kind.ToFinish()
		}
	}
	for i := range n {
		if left[i] == 0 {
			g.order = append(g.order, i)
		}
	}
	for k := 0; k < len(g.order); k++ {
		for _, l := range g.after[g.order[k]] {
			if left[l.Task]--; left[l.Task] == 0 {
				g.order = append(g.order, l.Task)
			}
		}
	}
	if len(g.order) < n {
		return nil
	}
	g.airs()
	g.pairs()
	return g
}

// airs finds the zones with both dusty and wet tasks.
func (g *network) airs() {
	dust, wet := make([]bool, g.Zones), make([]bool, g.Zones)
	isDusty := func(i int) bool { return g.Tasks[i].Dusty && g.long[i] > 0 }
	isWet := func(i int) bool { return g.Tasks[i].Wet && g.long[i]+g.Tasks[i].Dry > 0 }
	for i, t := range g.Tasks {
		dust[max(t.Zone, 0)] = dust[max(t.Zone, 0)] || isDusty(i)
		wet[max(t.Zone, 0)] = wet[max(t.Zone, 0)] || isWet(i)
	}
	for i, t := range g.Tasks {
		g.dusty[i] = isDusty(i) && wet[t.Zone]
		g.wet[i] = isWet(i) && dust[t.Zone]
	}
}

// pair is a pair of tasks that must not overlap, and how long each waits after the end of
// the other.
type pair struct {
	a, b           int
	afterA, afterB int64
}

// mostPairs limits the work on pairs.
const mostPairs = 2000

// pairs lists the pairs of tasks that exclude each other: dusty and wet tasks in one zone,
// and tasks that exceed a resource together in any modes. It lists none if there are too
// many.
func (g *network) pairs() {
	if len(g.Tasks) > mostTasks {
		return
	}
	reach := g.reach()
	after := func(i, j int) bool { return reach[i][j/64]>>(j%64)&1 == 1 }
	for k, i := range g.order {
		for _, j := range g.order[:k] {
			if after(i, j) {
				continue
			}
			p := pair{a: i, b: j}
			switch air := g.Tasks[i].Zone == g.Tasks[j].Zone; {
			case air && g.dusty[i] && g.wet[j]:
				p.afterB = g.Tasks[j].Dry
			case air && g.wet[i] && g.dusty[j]:
				p.afterA = g.Tasks[i].Dry
			case !g.exclude(i, j):
				continue
			}
			if len(g.apart) == mostPairs {
				g.apart = nil
				return
			}
			g.apart = append(g.apart, p)
		}
	}
}

// exclude reports whether two tasks together exceed the capacity of some resource.
func (g *network) exclude(i, j int) bool {
	for _, m := range g.Tasks[i].Modes {
		for _, o := range g.Tasks[j].Modes {
			if m.Time == 0 || o.Time == 0 || !g.collide(m, o) {
				return false
			}
		}
	}
	return true
}

func (g *network) collide(m, o Mode) bool {
	for _, a := range m.Need {
		for _, b := range o.Need {
			if a.Resource == b.Resource && a.Units+b.Units > g.Capacity[a.Resource] {
				return true
			}
		}
	}
	return false
}

// reach returns the set of direct and indirect predecessors of each task.
func (g *network) reach() [][]uint64 {
	words := (len(g.Tasks) + 63) / 64
	sets := make([][]uint64, len(g.Tasks))
	for _, i := range g.order {
		sets[i] = make([]uint64, words)
		for _, l := range g.Tasks[i].Links {
			for k, w := range sets[l.Task] {
				sets[i][k] |= w
			}
			sets[i][l.Task/64] |= 1 << (l.Task % 64)
		}
	}
	return sets
}

// window is a bound on the start and the end of a task: both earliest, or both latest.
type window struct{ start, end int64 }

// earliest returns the earliest start and end of each task from links and releases
// alone. A time outside the calendar is Never.
func (g *network) earliest() []window { return g.earliestFrom(nil) }

// earliestFrom is earliest with the constraint that tasks start no earlier than in the
// windows before, if there are any.
func (g *network) earliestFrom(before []window) []window {
	w := make([]window, len(g.Tasks))
	for _, i := range g.order {
		start, end := g.Tasks[i].Release, int64(0)
		if before != nil {
			start, end = before[i].start, before[i].end
		}
		for _, l := range g.Tasks[i].Links {
			s, e := g.bounds(l, w[l.Task].start, w[l.Task].end)
			start, end = max(start, s), max(end, e)
		}
		w[i] = g.from(i, start, end)
	}
	return w
}

// bounds returns the moments before which the waiting task of a link may not start and
// not end.
func (g *network) bounds(l Link, start, end int64) (from, to int64) {
	t := end
	if l.Kind.FromStart() {
		t = start
	}
	t = g.cal.Add(t, l.Lag)
	if l.Kind.ToFinish() {
		return 0, t
	}
	return t, 0
}

// from returns the earliest start and end of a task that may not start and not end before
// two moments, in the mode that suits best for each.
func (g *network) from(i int, start, end int64) window {
	s := g.cal.at(start, g.long[i])
	if g.short[i] == 0 {
		s = start
	}
	if end > 0 {
		s = max(s, g.cal.StartToEnd(end, g.long[i]))
	}
	return window{s, max(end, g.cal.Advance(g.cal.at(s, g.short[i]), g.short[i]))}
}

// latest returns the latest start and end of each task if all tasks are to end by t. A
// task for which that is impossible has -1.
func (g *network) latest(t int64) []window { return g.latestTo(t, nil) }

// latestTo is latest with the constraint that tasks start and end no later than in the
// windows before, if there are any.
func (g *network) latestTo(t int64, before []window) []window {
	w := make([]window, len(g.Tasks))
	for k := len(g.order) - 1; k >= 0; k-- {
		i := g.order[k]
		end, start := t, t
		if before != nil {
			start, end = before[i].start, before[i].end
		}
		for _, l := range g.after[i] {
			x := w[l.Task].start
			if l.Kind.ToFinish() {
				x = w[l.Task].end
			}
			if x < 0 {
				start, end = -1, -1
				break
			}
			x = g.cal.Sub(x, l.Lag)
			if l.Kind.FromStart() {
				start = min(start, x)
			} else {
				end = min(end, x)
			}
		}
		w[i] = g.until(i, start, end)
	}
	return w
}

// until returns the latest start and end of a task that may not start and not end after
// two moments.
func (g *network) until(i int, start, end int64) window {
	if start < 0 || end < 0 {
		return window{-1, -1}
	}
	s := g.cal.Retreat(end, g.short[i])
	if s >= 0 {
		s = min(s, g.cal.LatestStart(start, g.short[i]))
	}
	if s < 0 {
		return window{-1, -1}
	}
	return window{s, min(end, g.cal.Advance(s, g.long[i]))}
}
