package rcpsp

import "slices"

// windows returns the earliest and the latest start and end of each task in plans that end
// by t, from links and pairs of tasks that exclude each other; ok is false if there can be
// no such plan.
func (g *network) windows(t int64, early []window) (from, to []window, ok bool) {
	from, to = early, g.latest(t)
	for range 20 {
		for i, w := range from {
			if w.start > to[i].start || w.end > to[i].end {
				return nil, nil, false
			}
		}
		floor, ceiling := slices.Clone(from), slices.Clone(to)
		changed := false
		first := func(i, j int, lag int64) { // i goes before j
			if x := from[i].end + lag; x > floor[j].start {
				floor[j].start, changed = x, true
			}
			if x := to[j].start - lag; x < ceiling[i].end {
				ceiling[i].end, changed = x, true
			}
		}
		for _, p := range g.apart {
			aFirst := from[p.a].end+p.afterA <= to[p.b].start
			bFirst := from[p.b].end+p.afterB <= to[p.a].start
			switch {
			case !aFirst && !bFirst:
				return nil, nil, false
			case !aFirst:
				first(p.b, p.a, p.afterB)
			case !bFirst:
				first(p.a, p.b, p.afterA)
			}
		}
		if !changed {
			break
		}
		from, to = g.earliestFrom(floor), g.latestTo(t, ceiling)
	}
	return from, to, true
}

// refuted reports whether it is proven that no plan ends by t: a task's latest start is
// before its earliest, or the work required between two moments does not fit.
func (g *network) refuted(t int64, early []window, pools []pool) bool {
	early, late, ok := g.windows(t, early)
	if !ok {
		return true
	}
	var q queue
	loads := make([]load, 0, len(g.Tasks))
	for _, p := range pools {
		loads = loads[:0]
		for i, e := range p.energy {
			if e > 0 {
				loads = append(loads, load{p.capacity * g.cal.Worked(early[i].start), p.capacity * g.cal.Worked(late[i].end), e})
			}
		}
		if _, ok := fluid(loads, &q); !ok {
			return true
		}
	}
	return false
}

// lowerBound returns a lower bound on the end of every plan, at most done, at which a
// plan is known to end.
func (g *network) lowerBound(early []window, pools []pool, done int64) int64 {
	low := int64(0) // no plan ends before
	for _, w := range early {
		low = max(low, w.end)
	}
	for high := done; low < high; {
		mid := low + (high-low)/2
		if g.refuted(mid, early, pools) {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}
