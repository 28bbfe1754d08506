package setcover

import (
	"math"

	"example.com/longpoint/internal/solver/lp"
)

// perturb fixes more columns if the relaxation has many optimal duals. It slightly raises some demands
// and lowers others, so that the simplex method finds other duals, by which other columns cost too
// much. Bounds use the unchanged demands and stay valid.
func (s *search) perturb(depth int) (closed, ok bool) {
	top := float64(s.cutoff-1-s.p.Base) / s.unit
	if s.p.Exact || top-s.lp.Objective() > nearTop || len(s.active[depth+1]) <= len(s.p.Items) {
		return false, true
	}
	var basis lp.Basis
	s.lp.Save(&basis)
	for k := range 2 {
		for i := range s.p.Items {
			lo, _ := s.demand(i)
			s.lp.SetRow(i, lo+s.shift(k, i), math.Inf(1))
		}
		if closed, ok = s.relax(s.active[depth+1], depth); closed || !ok && !s.mt.Left() {
			break
		}
	}
	for i := range s.p.Items {
		lo, hi := s.demand(i)
		s.lp.SetRow(i, lo, hi)
	}
	s.lp.Restore(&basis)
	if closed {
		return true, true
	}
	return s.relax(s.active[depth+1], depth)
}

// nearTop is how close to the cutoff a relaxation must be for that, as a share of the largest cost.
const nearTop = 0.01

// shift returns the k-th change of an item's demand: for k = 0 by its length, then random.
func (s *search) shift(k, i int) float64 {
	if k == 0 { // makes short items expensive
		if i < len(s.p.Items)/2 {
			return -1e-3
		}
		return 1e-3
	}
	s.rng = s.rng*6364136223846793005 + 1442695040888963407
	return float64(1e-8 * float64(s.rng>>44))
}
