package rcpsp

// refuted reports whether no plan ends by t: a task has no place between its earliest and
// its latest start, or the work that has to be done between two moments does not fit.
func (g *network) refuted(t int64, early []window, pools []pool) bool {
	late := g.latest(t)
	for i, w := range early {
		if w.start > late[i].start || w.end > late[i].end {
			return true
		}
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

// lowerBound returns a moment before which no plan ends, not after one at which one does.
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
