package rcpsp

import "slices"

// pool is a set of resources among which some tasks can choose. Every choice uses some
// of the pool's total capacity, in units of a resource times their weight.
type pool struct {
	resources []int
	capacity  int64
	energy    []int64 // least energy of each task: 0 if a mode does not use the pool
}

// maxPools limits the work at each partial plan.
const maxPools = 16

// pools returns a pool for each resource, and one for each set of resources among which a
// task can choose.
func (g *network) pools() []pool {
	var sets [][]int
	add := func(set []int) {
		if len(set) > 0 && len(sets) < maxPools && !slices.ContainsFunc(sets, func(o []int) bool { return slices.Equal(o, set) }) {
			sets = append(sets, set)
		}
	}
	last := make([]int, len(g.Capacity)) // last task that used a resource, from 1
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

// energyOf returns the least amount of a set of resources that a task takes.
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

// load is energy to spend in a window, in which the pool offers end-start.
type load struct{ start, end, energy int64 }

// fluid reports whether the loads fit if the pool can be divided among them arbitrarily,
// and the least slack before an end. It sorts the loads.
//
// The most urgent load goes first, which fits if any order does. With one unit this is the
// preemptive bound of Jackson and Carlier for one machine with heads and tails (from
// memory).
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
