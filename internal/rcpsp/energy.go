package rcpsp

import "slices"

// pool is resources between which some tasks have the choice. Whatever they choose takes
// some of what the pool has together, in units of a resource times their weight.
type pool struct {
	resources []int
	capacity  int64
	energy    []int64 // of each task, at least: 0 if a mode does without the pool
}

// maxPools keeps the work at each partial plan down.
const maxPools = 16

// pools returns one for each resource, and one for each set of them that a task chooses from.
func (g *network) pools() []pool {
	var sets [][]int
	add := func(set []int) {
		if len(set) > 0 && len(sets) < maxPools && !slices.ContainsFunc(sets, func(o []int) bool { return slices.Equal(o, set) }) {
			sets = append(sets, set)
		}
	}
	last := make([]int, len(g.Capacity)) // task that a resource is of, from 1
	for i, t := range g.Tasks {
		var set []int
		for _, m := range t.Modes {
			for _, n := range m.Need {
				if last[n.Resource] <= i {
					last[n.Resource] = i + 1
					set = append(set, n.Resource)
				}
			}
		}
		slices.Sort(set)
		add(set)
	}
	for r := range g.Capacity {
		add([]int{r})
	}
	var all []pool
	for _, set := range sets {
		p := pool{resources: set, energy: make([]int64, len(g.Tasks))}
		in := make([]bool, len(g.Capacity))
		for _, r := range set {
			in[r] = true
			p.capacity += g.Capacity[r] * g.weight(r)
		}
		some := false
		for i := range g.Tasks {
			p.energy[i] = g.energyOf(i, in)
			some = some || p.energy[i] > 0
		}
		if some {
			all = append(all, p)
		}
	}
	return all
}

func (g *network) weight(r int) int64 {
	if g.Weight == nil {
		return 1
	}
	return g.Weight[r]
}

// energyOf returns what a task takes of a set of resources at least.
func (g *network) energyOf(i int, in []bool) int64 {
	least := Never
	for _, m := range g.Tasks[i].Modes {
		e := int64(0)
		for _, n := range m.Need {
			if in[n.Resource] {
				e += n.Units * g.weight(n.Resource) * m.Time
			}
		}
		least = min(least, e)
	}
	return least
}

// load is energy that is to be spent in a window, in which the pool has end-start.
type load struct{ start, end, energy int64 }

// fluid reports whether loads fit when the pool can be divided among them at will, and the
// least that is left before an end. The loads are sorted by it.
//
// What is most urgent goes first: if anything fits, that does. With one unit this is the
// preemptive bound of Jackson and Carlier for one machine with heads and tails (from memory).
func fluid(loads []load, scratch *queue) (slack int64, ok bool) {
	slices.SortFunc(loads, func(a, b load) int {
		switch {
		case a.start < b.start:
			return -1
		case a.start > b.start:
			return 1
		}
		return 0
	})
	q := (*scratch)[:0]
	now, slack := int64(0), Never
	for k := 0; k < len(loads) || len(q) > 0; {
		if len(q) == 0 {
			now = max(now, loads[k].start)
		}
		for k < len(loads) && loads[k].start <= now {
			q.push(item{loads[k].end, k})
			k++
		}
		top := &loads[q[0].task]
		spend := top.energy
		if k < len(loads) {
			spend = min(spend, loads[k].start-now)
		}
		now += spend
		if top.energy -= spend; top.energy == 0 {
			if now > top.end {
				*scratch = q
				return 0, false
			}
			slack = min(slack, top.end-now)
			q.pop()
		}
	}
	*scratch = q
	return slack, true
}
