package setcover

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/wide"
)

// relax solves the node's relaxation over the active columns and fixes those that no better plan can
// use. It reports whether an exact bound closes the node.
func (s *search) relax(active []int32, depth int) (closed, ok bool) {
	for {
		st := s.lp.Solve(s.mt)
		if st == lp.Stopped {
			return false, false
		}
		farkas := st == lp.Infeasible
		scale := s.roundDuals(farkas)
		num := s.rowsBound(scale)
		if !s.mt.Spend(s.reducedCosts(active, scale)) {
			return false, false
		}
		// All active columns, whether in the LP or not.
		s.improving = s.improving[:0]
		tol := int64(1) << 16
		if !farkas {
			tol = max((1<<26)/(s.scale/scale), 1)
		}
		for _, j := range active {
			rc := s.rc[j]
			if rc < 0 {
				num.AddMul(rc, s.hi[j])
				if rc < -tol && s.col[j] < 0 && s.hi[j] > 0 {
					s.improving = append(s.improving, j)
				}
			} else if s.lo[j] > 0 {
				num.AddMul(rc, s.lo[j])
			}
		}
		s.num, s.numScale = num, scale
		if s.closed() {
			s.recordLeaf(s.vector(active))
			return true, true
		}
		if len(s.improving) == 0 {
			if !farkas {
				s.recordVector(active)
				s.fix(active, depth)
			}
			return false, !farkas
		}
		slices.SortFunc(s.improving, func(a, b int32) int { return cmp.Or(cmp.Compare(s.rc[a], s.rc[b]), cmp.Compare(a, b)) })
		for _, j := range s.improving[:min(len(s.improving), perRound)] {
			s.enter(j)
		}
	}
}

// closed reports whether the exact bound of the last relaxation rules out a plan below the cutoff.
func (s *search) closed() bool {
	if s.numScale == 0 {
		return s.num.Sign() > 0
	}
	n := s.num
	n.AddMul(s.numScale, offset)
	return n.CeilDiv(s.numScale)-offset >= s.cutoff
}

// rowsBound returns the part of the bound due to the limits of the rows and the base, with the current
// duals.
func (s *search) rowsBound(scale int64) wide.Int {
	var num wide.Int
	n := len(s.p.Items)
	for i, it := range s.p.Items {
		num.AddMul(s.dual[i], it.Demand)
	}
	weigh := func(v, lo, hi int64) {
		if v > 0 {
			num.AddMul(v, lo)
		} else if v < 0 {
			num.AddMul(v, hi)
		}
	}
	for r := range s.limit {
		weigh(s.dual[n+r], s.limit[r].Lo, s.limit[r].Hi)
	}
	for r := range s.added {
		weigh(s.dual[s.first()+r], s.added[r].lo, s.added[r].hi)
	}
	num.AddMul(scale, s.p.Base)
	return num
}

// roundDuals rounds the duals to integers, small enough that the reduced cost of every column fits in
// int64, and returns their scale, 0 for a Farkas ray.
func (s *search) roundDuals(farkas bool) int64 {
	n := len(s.p.Items)
	unit, top := s.unit, s.scale
	if farkas {
		unit, top = 1/max(s.lp.LargestDual(), 1e-300), 1<<40
	}
	s.floatDual = s.floatDual[:0]
	extra := 0.0
	for r := range s.lp.Rows() {
		v := s.lp.Dual(r) * unit
		s.floatDual = append(s.floatDual, v)
		most := int64(1)
		switch {
		case r < n && v > 0:
			most = s.takes[r]
		case r < n:
			most = s.copies[r]
		case r < s.first():
			most = s.most[r-n]
		default:
			most = max(most, s.added[r-s.first()].most)
		}
		extra += float64(math.Abs(v) * float64(most))
	}
	s.dual = append(s.dual[:0], make([]int64, len(s.floatDual))...)
	scale := bound.RoundDuals(s.dual, s.floatDual, s.p.Items, s.copies, s.p.Cap, extra, top)
	for r, v := range s.floatDual {
		if r < n && (v >= 0 || !s.p.Exact) {
			continue
		}
		s.dual[r] = int64(max(-(1 << 60), min(1<<60, v*float64(scale))))
		// The dual of a missing limit is zero.
		switch {
		case r < n:
		case r >= s.first():
			if s.added[r-s.first()].cut != nil {
				s.dual[r] = max(s.dual[r], 0)
			}
		default:
			if s.limit[r-n].Lo == -Free {
				s.dual[r] = min(s.dual[r], 0)
			}
			if s.limit[r-n].Hi == Free {
				s.dual[r] = max(s.dual[r], 0)
			}
		}
	}
	if farkas {
		return 0
	}
	return scale
}

// reducedCosts computes the reduced costs of the active columns by the current duals and returns the
// number of operations.
func (s *search) reducedCosts(active []int32, scale int64) int64 {
	for _, j := range active {
		rc := s.p.Columns[j].Cost * scale
		for k := s.begin[j]; k < s.begin[j+1]; k++ {
			rc -= s.dual[s.rows[k]] * s.coef[k]
		}
		s.rc[j] = rc
	}
	ops := int64(6 * len(active))
	for r := range s.added {
		if v := s.dual[s.first()+r]; v != 0 {
			q := &s.added[r]
			for t, j := range q.members {
				if q.coef != nil {
					s.rc[j] -= v * q.coef[t]
				} else {
					s.rc[j] -= v
				}
			}
			ops += int64(len(q.members))
		}
	}
	return ops
}

// fix sets the active columns of the children: it removes columns whose reduced cost raises the bound
// to the cutoff, from the list and from the relaxation.
func (s *search) fix(active []int32, depth int) {
	for len(s.active) <= depth+1 {
		s.active = append(s.active, nil)
	}
	for len(s.fixed) <= depth {
		s.fixed = append(s.fixed, nil)
	}
	next := s.active[depth+1][:0]
	var least wide.Int
	least.AddMul(s.cutoff-1, s.numScale)
	gap, fits := least.Sub(s.num).Int64()
	for _, j := range active {
		if int(j) >= s.p.Always && (s.hi[j] == 0 || fits && s.rc[j] > gap && s.lo[j] == 0) {
			if c := s.col[j]; c >= 0 && s.hi[j] > 0 && !s.lp.Basic(int(c)) {
				s.lp.SetColumn(int(c), 0, 0)
				s.fixed[depth] = append(s.fixed[depth], j)
			}
			continue
		}
		next = append(next, j)
	}
	if len(next) < len(active) {
		s.recordFix()
	}
	s.active[depth+1] = next
}

// unfix undoes the effect of fix on the relaxation.
func (s *search) unfix(depth int) {
	if depth >= len(s.fixed) {
		return
	}
	for _, j := range s.fixed[depth] {
		s.setColumn(j)
	}
	s.fixed[depth] = s.fixed[depth][:0]
}
