package trimjob

const (
	inch = 16
	foot = 12 * inch

	shortest = 2 * inch
	longest  = 15 * foot
)

// snap rounds a length to the precision of its measurement.
func (r *source) snap(l int64) int64 {
	step := int64(1)
	switch p := r.between(1, 100); {
	case p <= 40: // sixteenths
	case p <= 70:
		step = inch / 8
	case p <= 90:
		step = inch / 4
	default:
		step = inch / 2
	}
	return (l + step/2) / step * step
}

// length draws one piece, with the mix of lengths of a house.
func (r *source) length() int64 {
	var l int64
	switch p := r.between(1, 100); {
	case p <= 12: // returns, closets, short jogs
		l = r.between(2*inch, 12*inch)
	case p <= 40: // between openings, heads, stools
		l = r.between(12*inch, 48*inch)
	case p <= 55: // legs of openings
		l = r.between(78*inch, 86*inch)
	case p <= 90: // usual walls
		l = r.between(4*foot, 12*foot)
	default: // long walls that one stick can still span
		l = r.between(12*foot, 15*foot)
	}
	return max(shortest, min(longest, r.snap(l)))
}

// distinct draws n lengths that are not in seen, and adds them to it.
func (r *source) distinct(n int64, seen map[int64]bool) []int64 {
	var out []int64
	for int64(len(out)) < n {
		if l := r.length(); !seen[l] {
			seen[l] = true
			out = append(out, l)
		}
	}
	return out
}

// spread gives every length one piece and distributes the rest unevenly.
func (r *source) spread(lengths []int64, total int64) map[int64]int64 {
	demand := map[int64]int64{}
	weight := make([]int64, len(lengths))
	var sum int64
	for i, l := range lengths {
		demand[l] = 1
		// Two draws, the first on the left: their order is part of the job.
		a := r.between(0, 3)
		b := r.between(0, 3)
		weight[i] = 1 + a*b
		if l >= 78*inch && l <= 86*inch {
			weight[i] *= 4 // legs come in pairs, and many openings are equal
		}
		sum += weight[i]
	}
	for k := int64(len(lengths)); k < total; k++ {
		x := r.between(0, sum-1)
		for i := range weight {
			if x < weight[i] {
				demand[lengths[i]]++
				break
			}
			x -= weight[i]
		}
	}
	return demand
}
