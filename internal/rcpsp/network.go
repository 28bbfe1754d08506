package rcpsp

// network is a problem with what follows from its links alone.
type network struct {
	*Problem
	cal         *Calendar
	order       []int    // tasks, each after what it waits for
	after       [][]Link // what waits for a task: Link.Task is that
	short, long []int64  // time of the shortest, of the longest mode
	wet         []bool   // in whose zone there is dust as well
	dusty       []bool   // in whose zone something is wet as well
	choices     bool     // some task has several modes
	toFinish    bool     // there are links that hold ends
	steps       int64    // that passes took
	apart       []pair   // what has to be kept apart, neither after the other by links
}

// newNetwork returns nil where links make a cycle.
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

// airs finds the zones in which something is dusty and something wet.
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

// pair is two tasks of which one ends before the other starts, and how long after it ends
// the other waits then.
type pair struct {
	a, b           int
	afterA, afterB int64
}

// mostPairs keeps the work that goes into pairs in proportion.
const mostPairs = 2000

// pairs lists the tasks that exclude each other: dust and what is wet in one zone, and what
// cannot hold a resource together whatever the modes. It lists none if there are many.
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

// exclude reports whether two tasks need more of some resource than there is.
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

// reach returns what each task waits for, through others too, as a set.
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

// window is between when a task starts at the earliest and the latest, and when it ends.
type window struct{ start, end int64 }

// earliest returns when each task can start and end at the earliest if nothing but links
// and releases holds it. What cannot be within the calendar is Never.
func (g *network) earliest() []window { return g.earliestFrom(nil) }

// earliestFrom does so if tasks start no earlier than in the windows before, if there are any.
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

// bounds returns before which moments what waits may not start and not end.
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

// latest returns when each task must start and end at the latest if all are to end by t.
// A task that cannot has -1.
func (g *network) latest(t int64) []window { return g.latestTo(t, nil) }

// latestTo does so if tasks start and end no later than in the windows before, if there are any.
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
