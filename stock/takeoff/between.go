package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// interval is all positions from lo to hi, inclusive.
type interval struct{ lo, hi measure.Length }

// overlapping returns the intersection of two lists, each of disjoint ascending intervals.
func overlapping(a, b []interval) []interval {
	var both []interval
	for len(a) > 0 && len(b) > 0 {
		if lo, hi := max(a[0].lo, b[0].lo), min(a[0].hi, b[0].hi); lo <= hi {
			both = append(both, interval{lo, hi})
		}
		if a[0].hi < b[0].hi {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return both
}

// placeBetween splices a run that needs no stud, but only at positions in the free intervals:
// with the fewest splices, then with the longest parts from the left. It returns false if no
// positions will do. For each number of splices it computes from the right all positions from
// which the rest of the run can be made.
func placeBetween(r stock.SpliceRule, length, longest measure.Length, free []interval) (at []measure.Length, ok bool) {
	early := r.Overlap / 2
	late := r.Overlap - early
	part, end := max(1, r.MinPart), max(1, r.Clear)
	first := interval{max(end, part-early), longest - early}
	last := interval{length - (longest - late), length - max(end, part-late)}
	lo, hi := max(1, part-r.Overlap), longest-r.Overlap
	free = overlapping(free, []interval{{max(end, 1), length - end}})

	const most = 1000 // splices; far above any real run
	reach := [][]interval{overlapping(free, []interval{last})}
	for len(overlapping(reach[len(reach)-1], []interval{first})) == 0 {
		var before []interval
		for _, v := range reach[len(reach)-1] {
			v = interval{v.lo - hi, v.hi - lo}
			if n := len(before); n > 0 && v.lo <= before[n-1].hi {
				before[n-1].hi = v.hi
			} else if v.lo <= v.hi {
				before = append(before, v)
			}
		}
		before = overlapping(free, before)
		if len(before) == 0 || len(reach) == most {
			return nil, false
		}
		reach = append(reach, before)
	}
	next := first
	for k := len(reach) - 1; k >= 0; k-- {
		can := overlapping(reach[k], []interval{next})
		x := can[len(can)-1].hi
		at = append(at, x)
		next = interval{x + lo, x + hi}
	}
	return at, true
}
