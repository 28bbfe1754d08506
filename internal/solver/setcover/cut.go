package setcover

import "math"

// Cuts: patterns must hold each item as often as demanded. So if some items have an odd total demand D,
// half the sum of their rows, with coefficients rounded up, is at least D/2 rounded up (V. Chvatal,
// R. E. Gomory; A. Caprara, M. Fischetti, {0, 1/2}-Chvatal-Gomory cuts, Mathematical Programming 74
// (1996) 221-235; with three items, subset-row cuts: M. Jepsen, B. Petersen, S. Spoorendonk,
// D. Pisinger, Subset-row inequalities applied to the vehicle-routing problem with time windows,
// Operations Research 56 (2008) 497-511). Since the patterns are listed here, a cut costs nothing but
// its row.
const (
	cutRounds     = 15   // at the root
	cutsPerRound  = 25   // at most
	cutItems      = 10   // per cut: longer cuts fill the basis, and a pivot takes several times as long
	leastViolated = 0.05 // cuts violated by less save no node
)

// half returns half the number of copies of the items in a column, rounded up.
func (s *search) half(items []int32, j int32) int64 {
	n := int64(0)
	for k := s.begin[j]; k < s.items[j]; k++ {
		for _, i := range items {
			if s.rows[k] == i {
				n += s.coef[k]
			}
		}
	}
	return (n + 1) >> 1
}

// cut adds violated cuts and solves again, as long as that pays.
func (s *search) cut(depth int) (closed, ok bool) {
	rounds := cutRounds
	if depth > 0 {
		rounds = 1
	}
	n, idle, own := len(s.p.Items), 0, len(s.added)
	for range rounds {
		before, active := s.lp.Objective(), len(s.active[depth+1])
		if len(s.added) > 2*n {
			return false, true
		}
		if added, ok := s.separate(depth); added == 0 || !ok {
			return false, ok
		}
		if closed, ok = s.relax(s.active[depth+1], depth); closed || !ok {
			return closed, ok
		}
		s.drop(own)
		gap := float64(s.cutoff-1-s.p.Base)/s.unit - before
		if s.lp.Objective()-before < float64(0.01*gap) && float64(len(s.active[depth+1])) > 0.98*float64(active) {
			if idle++; idle == 3 {
				break
			}
		} else {
			idle = 0
		}
	}
	return false, true
}

// add adds the cut of the items to the relaxation.
func (s *search) add(items []int32, depth int) {
	d := int64(0)
	for _, i := range items {
		d += s.p.Items[i].Demand
	}
	q := row{a: -1, lo: (d + 1) >> 1, hi: Free, cut: items}
	for _, j := range s.active[depth+1] {
		if v := s.half(items, j); v != 0 {
			q.members = append(q.members, j)
			q.coef = append(q.coef, v)
			q.most = max(q.most, v, -v)
		}
	}
	var cols []int32
	var val []float64
	for c, j := range s.of {
		if v := s.half(items, j); v != 0 {
			cols, val = append(cols, int32(c)), append(val, float64(v))
		}
	}
	s.added = append(s.added, q)
	s.lp.AddRow(float64(q.lo), math.Inf(1), cols, val)
}

// drop removes the slack cuts from the given row on.
func (s *search) drop(from int) {
	kept := s.lp.Drop(s.first() + from)
	n := from
	for k, keep := range kept {
		if keep {
			s.added[n] = s.added[from+k]
			n++
		}
	}
	s.added = s.added[:n]
}
