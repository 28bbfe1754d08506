// Package diversify makes one try differ from the next, in the same way on every machine: numbers
// that look like chance, and demands that are perturbed a little, whose relaxation has other optimal
// duals.
package diversify

// Stream is a sequence of numbers (G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom
// number generators, OOPSLA 2014). Its value is where it stands, zero as good as any.
type Stream uint64

// Start is where streams begin.
const Start Stream = 0x9e3779b97f4a7c15

// Int returns a number in [0, n).
func (s *Stream) Int(n int) int {
	*s += Start
	z := uint64(*s)
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return int((z ^ (z >> 31)) % uint64(n))
}

// Demands returns what to add to the demand of each of n items, in falling size, for the k-th optimal
// duals: for those of number 0 nothing, then what makes the short items dear, then whatever. It is too little to move the
// value of a relaxation, and bounds reckon with the demands themselves.
func (s *Stream) Demands(k, n int) []float64 {
	if k == 0 {
		return nil
	}
	by := make([]float64, n)
	for i := range by {
		switch k {
		case 1:
			by[i] = 1e-3
			if i < n/2 {
				by[i] = -1e-3
			}
		case 2:
			by[i] = 1e-5 * float64(s.Int(1000))
		default:
			by[i] = 3e-5 * float64(s.Int(2000)-1000)
		}
	}
	return by
}
