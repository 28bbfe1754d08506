package rcpsp

import (
	"cmp"
	"strconv"
)

// group is a set of tasks that can start at the same moment once their predecessors are
// done: they hold the same resources and share a zone.
type group struct {
	like  int   // one of them
	from  int64 // no task of the group can start earlier
	wait  queue // by the time at which they are ready
	ready queue // by priority
}

// rule is the priority rule of a pass.
type rule struct {
	rank    []int64 // of each task; the least goes first
	delay   int64   // how long the task that can start first may wait for another, in hundredths of its time
	patient bool    // wait for the mode that ends first, even if the task could start in another
}

// pass builds a plan by repeatedly placing the task with the least rank among those that
// can start first or a little later. It is the parallel generation scheme: without delays
// that of Kelley, "The critical-path method: resources planning and scheduling" (1963, from
// memory), with delays that of Bierwirth and Mattfeld, "Production scheduling and
// rescheduling with genetic algorithms" (1999, from memory). The plan is nil if it does not
// end within the calendar.
func (g *network) pass(by rule) []Start {
	s := g.newState()
	plan := make([]Start, len(g.Tasks))
	groups, of := g.groups()
	left := make([]int, len(g.Tasks))
	ready := func(i int) int64 {
		if s.end != nil && s.end[i] > 0 {
			return max(s.start[i], g.cal.StartToEnd(s.end[i], g.long[i]))
		}
		return s.start[i]
	}
	for i, t := range g.Tasks {
		if left[i] = len(t.Links); left[i] == 0 {
			groups[of[i]].wait.push(item{ready(i), i})
		}
	}
	for range g.Tasks {
		at := g.pick(s, groups, by)
		if at < 0 {
			return nil
		}
		i := groups[at].ready.pop().task
		mode, start := g.choose(s, i, by.patient)
		if start >= Never {
			return nil
		}
		end := g.place(s, i, mode, start)
		if end >= Never {
			return nil
		}
		plan[i] = Start{mode, start, end}
		for _, l := range g.after[i] {
			if left[l.Task]--; left[l.Task] == 0 {
				groups[of[l.Task]].wait.push(item{ready(l.Task), l.Task})
				groups[of[l.Task]].from = 0
			}
		}
	}
	return plan
}

// pick returns the group of the next task, or -1.
func (g *network) pick(s *state, groups []group, by rule) int {
	at, start := -1, Never
	for k := range groups {
		g.steps++
		if groups[k].from > start {
			continue
		}
		if t := g.next(s, &groups[k], by.rank, start); t < start ||
			t == start && at >= 0 && t < Never && groups[k].ready[0].before(groups[at].ready[0]) {
			at, start = k, t
		}
	}
	if at < 0 || by.delay == 0 {
		return at
	}
	limit := start + g.short[groups[at].ready[0].task]*by.delay/100
	for k := range groups {
		if groups[k].from > limit {
			continue
		}
		if t := g.next(s, &groups[k], by.rank, limit); t <= limit && groups[k].ready[0].before(groups[at].ready[0]) {
			at = k
		}
	}
	return at
}

// next returns the earliest start in a group, and moves the tasks that can then start to
// ready; if that is after the limit, it may return any later time.
func (g *network) next(s *state, at *group, rank []int64, limit int64) int64 {
	if len(at.wait)+len(at.ready) == 0 {
		at.from = Never
		return Never
	}
	from := int64(0)
	if len(at.ready) == 0 {
		if from = at.wait[0].key; from > limit {
			at.from = from
			return Never
		}
	}
	start := Never
	g.steps += int64(len(g.Tasks[at.like].Modes))
	for m := range g.Tasks[at.like].Modes {
		start = min(start, g.open(s, at.like, m, from))
	}
	at.from = start
	for len(at.wait) > 0 && at.wait[0].key <= start {
		i := at.wait.pop().task
		at.ready.push(item{rank[i], i})
	}
	return start
}

// choose returns the mode for a task, and its start in that mode.
func (g *network) choose(s *state, i int, patient bool) (mode int, start int64) {
	best, start := Never, Never
	for m := range g.Tasks[i].Modes {
		t := g.fit(s, i, m)
		end := g.cal.Advance(t, g.Tasks[i].Modes[m].Time)
		first, second := t, end
		if patient {
			first, second = end, t
		}
		if m == 0 || cmp.Or(cmp.Compare(first, start), cmp.Compare(second, best)) < 0 {
			mode, start, best = m, first, second
		}
	}
	return mode, g.fit(s, i, mode)
}

// groups groups tasks by their resources and their zone.
func (g *network) groups() (all []group, of []int) {
	known := map[string]int{}
	of = make([]int, len(g.Tasks))
	var key []byte
	for i, t := range g.Tasks {
		key = key[:0]
		if g.dusty[i] || g.wet[i] {
			key = strconv.AppendInt(strconv.AppendBool(key, g.wet[i]), int64(t.Zone), 10)
		}
		for _, m := range t.Modes {
			key = strconv.AppendBool(append(key, '|'), m.Time == 0)
			for _, n := range m.Need {
				key = strconv.AppendInt(append(strconv.AppendInt(append(key, ','), int64(n.Resource), 10), ':'), n.Units, 10)
			}
		}
		k, ok := known[string(key)]
		if !ok {
			k = len(all)
			known[string(key)] = k
			all = append(all, group{like: i})
		}
		of[i] = k
	}
	return all, of
}

// item is a task in a queue.
type item struct {
	key  int64
	task int
}

func (a item) before(b item) bool { return a.key < b.key || a.key == b.key && a.task < b.task }

// queue is a min-heap.
type queue []item

func (q *queue) push(x item) {
	h := append(*q, x)
	for i := len(h) - 1; i > 0; {
		up := (i - 1) / 2
		if !h[i].before(h[up]) {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
	*q = h
}

func (q *queue) pop() item {
	h := *q
	top, n := h[0], len(h)-1
	h[0] = h[n]
	h = h[:n]
	for i := 0; ; {
		k := 2*i + 1
		if k+1 < n && h[k+1].before(h[k]) {
			k++
		}
		if k >= n || !h[k].before(h[i]) {
			break
		}
		h[i], h[k] = h[k], h[i]
		i = k
	}
	*q = h
	return top
}
