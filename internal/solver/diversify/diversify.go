// Package diversify makes successive attempts differ, in the same way on every machine: by pseudorandom
// numbers, and by slightly perturbed demands, whose relaxation has other optimal duals.
package diversify

// Stream is a sequence of pseudorandom numbers (G. L. Steele, D. Lea, C. H. Flood, Fast
// splittable pseudorandom number generators, OOPSLA 2014). Its value is the state; any value is
// valid, zero included.
type Stream uint64

// Start is the initial state of streams.
const Start Stream = 0x9e3779b97f4a7c15

// Int returns a number in [0, n).
func (s *Stream) Int(n int) int {
	*s += Start
	z := uint64(*s)
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return int((z ^ (z >> 31)) % uint64(n))
}

// Demands returns the k-th perturbation of the demands of n items in decreasing size: zero for
// k = 0, then one that makes short items expensive, then random ones. Perturbations are too
// small to change the value of a relaxation, and bounds use the demands themselves.
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
