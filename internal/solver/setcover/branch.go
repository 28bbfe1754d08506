package setcover

import (
	"math"
	"slices"
)

// mostOfOne is the largest number of copies of an item in a column that branching distinguishes.
const mostOfOne = 64

// branch splits the node by the first of these that is fractional in the relaxation: the use of a kind
// of stick, whether a run passes a node, the number of columns that hold a pair, the use of a column.
// Columns come before pairs if the numbers of sticks are fixed: then only the columns distinguish
// nodes.
func (s *search) branch(depth int) {
	pick, whole := s.mostFractional()
	if whole && s.tryWhole() && s.closed() {
		s.recordLastLeaf()
		return
	}
	if s.branchOnPlace(depth) || s.branchOnNode(depth) {
		return
	}
	if pick >= 0 && !s.p.PairsFirst && (s.p.ColumnsFirst || s.settled()) {
		s.branchOnColumn(depth, pick)
		return
	}
	if s.branchOnPair(depth) {
		return
	}
	if pick < 0 {
		// Whole within tolerance, but not a plan: take any column that is not fixed.
		for c, j := range s.of {
			if int(j) >= s.p.Always && s.lp.Value(c) > intTol && s.lo[j] < s.hi[j] {
				pick = j
				break
			}
		}
	}
	if pick >= 0 {
		s.branchOnColumn(depth, pick)
	} else if !s.halvePlace(depth) {
		s.complete = false
	}
}

// fractional returns the distance of a value from the nearest whole number.
func fractional(x float64) float64 {
	f := x - math.Floor(x)
	return min(f, 1-f)
}

// mostFractional returns the column whose value is farthest from whole, -1 if all are whole.
func (s *search) mostFractional() (pick int32, whole bool) {
	pick, whole = -1, true
	most := 0.0
	for c, j := range s.of {
		x := s.lp.Value(c)
		if x <= intTol || int(j) < s.p.Always {
			continue
		}
		if f := fractional(x); f > intTol {
			whole = false
			if f > most {
				pick, most = j, f
			}
		}
	}
	return pick, whole
}

// branchOnPlace branches on the use of a kind of stick.
func (s *search) branchOnPlace(depth int) bool {
	sums := make([]float64, s.first())
	for c, j := range s.of {
		if int(j) < s.p.Always {
			continue
		}
		x := s.lp.Value(c)
		for k := s.items[j]; k < s.begin[j+1]; k++ {
			sums[s.rows[k]] += x // correct for rows whose coefficients are one, the only ones used
		}
	}
	pick, score, at := -1, 0.0, 0.0
	for k := range s.p.Places {
		q := &s.p.Places[k]
		x := 0.0
		if q.Column >= 0 {
			x = s.lp.Value(int(s.col[q.Column]))
		} else {
			x = sums[q.Row]
		}
		lo, hi := s.used(k)
		// A fixed place is not branched on again because of rounding errors.
		if x <= float64(*lo) || x >= float64(*hi) || *lo == *hi {
			continue
		}
		if f := fractional(x); f > sumTol+float64(1e-12*x) {
			if sc := f * float64(1+q.Cost); sc > score {
				pick, score, at = k, sc, x
			}
		}
	}
	if pick < 0 {
		return false
	}
	s.splitPlace(depth, pick, int64(math.Floor(at)), at-math.Floor(at) > 0.5)
	return true
}

// splitPlace searches with a place used more than down times, and at most down times.
func (s *search) splitPlace(depth, place int, down int64, upFirst bool) {
	lo, hi := s.used(place)
	oldLo, oldHi := *lo, *hi
	s.splitsPlace(place, down)
	s.two(depth, upFirst, func() {
		*lo = down + 1
		s.setPlace(place)
	}, func() {
		*hi = down
		s.setPlace(place)
	}, func() {
		*lo, *hi = oldLo, oldHi
		s.setPlace(place)
	})
}

// settled reports whether the use of every place is fixed.
func (s *search) settled() bool {
	for k := range s.p.Places {
		if lo, hi := s.used(k); *lo != *hi {
			return false
		}
	}
	return true
}

// halvePlace branches on a place that is not fixed.
func (s *search) halvePlace(depth int) bool {
	for k := range s.p.Places {
		if lo, hi := s.used(k); *lo < *hi {
			s.splitPlace(depth, k, *lo+(*hi-*lo)/2, false)
			return true
		}
	}
	return false
}

// branchOnNode branches on a node that, in the relaxation, some of a run's assemblies pass and others
// do not.
func (s *search) branchOnNode(depth int) bool {
	if len(s.p.Runs) == 0 {
		return false
	}
	pass := make([]float64, len(s.p.Runs))
	for c, j := range s.of {
		if x := s.lp.Value(c); x > noise {
			for _, v := range s.p.Columns[j].Passes {
				pass[v] += x
			}
		}
	}
	node, score := -1, sumTol
	for v, x := range pass {
		if f := min(x, 1-x); f > score {
			node, score = v, f
		}
	}
	if node < 0 {
		return false
	}
	var through, past []int32
	for _, j := range s.active[depth+1] {
		nodes := s.p.Columns[j].Passes
		if len(nodes) == 0 || s.p.Runs[nodes[0]] != s.p.Runs[node] || s.hi[j] == 0 {
			continue
		}
		if slices.Contains(nodes, int32(node)) {
			through = append(through, j)
		} else {
			past = append(past, j)
		}
	}
	bar := func(js []int32, hi int64) {
		for _, j := range js {
			s.hi[j] = hi
			s.setColumn(j)
		}
	}
	s.splitsNode(node)
	s.two(depth, true, func() { bar(past, 0) }, func() { bar(through, 0) }, func() {
		bar(past, 1)
		bar(through, 1)
	})
	return true
}

// branchOnPair branches on the number of columns that hold a pair of items, or a number of one item.
func (s *search) branchOnPair(depth int) bool {
	row, at := s.choosePair()
	if row.a < 0 {
		return false
	}
	down := int64(math.Floor(at))
	ceiling := int64(0)
	for k := range s.p.Places {
		_, hi := s.used(k)
		ceiling += *hi * s.p.Places[k].Bins
	}
	var cols []int32
	for c, j := range s.of {
		if s.holds(&row, j) {
			cols = append(cols, int32(c))
		}
	}
	for _, j := range s.active[depth+1] {
		if s.holds(&row, j) {
			row.members = append(row.members, j)
		}
	}
	if !s.mt.Spend(int64(6 * len(s.active[depth+1]))) {
		s.complete = false
		return true
	}
	added := len(s.added)
	s.splitsPair(&row, down)
	s.two(depth, true, func() {
		row.lo, row.hi = down+1, ceiling
		s.added = append(s.added[:added], row)
		s.lp.AddRow(float64(down+1), math.Inf(1), cols, nil)
	}, func() {
		row.lo, row.hi = 0, down
		s.added = append(s.added[:added], row)
		s.lp.AddRow(math.Inf(-1), float64(down), cols, nil)
	}, func() {
		s.added = s.added[:added]
	})
	return true
}

// choosePair returns the branching row of a pair that a fractional number of columns hold, preferring
// large items and values far from whole, and that number. If there is none, it returns a row for two or
// more of one item.
func (s *search) choosePair() (best row, at float64) {
	clear(s.pair)
	n := len(s.p.Items)
	type many struct {
		item int32
		n    int64
		x    float64
	}
	var manies []many
	for c, j := range s.of {
		x := s.lp.Value(c)
		if x <= noise || len(s.p.Columns[j].Passes) > 0 {
			continue
		}
		end := s.items[j]
		for t := s.begin[j]; t < end; t++ {
			for u := t + 1; u < end; u++ {
				s.pair[int(s.rows[t])*n+int(s.rows[u])] += x
			}
			for q := int64(2); q <= min(s.coef[t], mostOfOne); q++ {
				i := slices.IndexFunc(manies, func(m many) bool { return m.item == s.rows[t] && m.n == q })
				if i < 0 {
					manies = append(manies, many{s.rows[t], q, 0})
					i = len(manies) - 1
				}
				manies[i].x += x
			}
		}
	}
	best.a = -1
	score := 0.0
	consider := func(a, b int32, na, nb int64, x float64) {
		f := fractional(x)
		if f <= sumTol {
			return
		}
		if sc := f * float64(s.p.Items[a].Size+s.p.Items[b].Size); sc > score {
			score, at = sc, x
			best.a, best.b, best.na, best.nb = a, b, na, nb
		}
	}
	for a := range n {
		for b := a + 1; b < n; b++ {
			consider(int32(a), int32(b), 1, 1, s.pair[a*n+b])
		}
	}
	if best.a < 0 {
		for _, m := range manies {
			consider(m.item, m.item, m.n, m.n, m.x)
		}
	}
	return best, at
}

// branchOnColumn branches on the use of a column, first on the side nearer to the relaxation.
func (s *search) branchOnColumn(depth int, j int32) {
	lo, hi := s.lo[j], s.hi[j]
	x := s.lp.Value(int(s.col[j]))
	down := int64(math.Floor(x + intTol))
	down = max(lo, min(down, hi-1))
	s.splitsColumn(j, down)
	s.two(depth, x-float64(down) > 0.5, func() {
		s.lo[j] = down + 1
		s.setColumn(j)
	}, func() {
		s.hi[j] = down
		s.setColumn(j)
	}, func() {
		s.lo[j], s.hi[j] = lo, hi
		s.setColumn(j)
	})
}
