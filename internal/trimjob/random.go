package trimjob

// source is splitmix64, implemented here so that a job does not depend on a library's
// generator. After G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number
// generators, OOPSLA 2014 (the constants are from memory).
type source struct{ state uint64 }

func (r *source) next() uint64 {
	r.state += 0x9e3779b97f4a7c15
	z := r.state
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}

// between returns an integer in [lo, hi].
func (r *source) between(lo, hi int64) int64 { return lo + int64(r.next()%uint64(hi-lo+1)) }

// chance returns true in the given percentage of draws.
func (r *source) chance(percent int64) bool { return r.between(1, 100) <= percent }
