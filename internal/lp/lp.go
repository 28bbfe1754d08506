// Package lp is a small revised simplex method for restricted master problems:
//
//	minimize c*x  subject to  lo <= A x <= hi (rows),  l <= x <= u (columns)
//
// Columns and rows come and go while a search runs, and every solve starts
// from the basis of the one before. A start that is not feasible is repaired by
// minimizing the sum of infeasibilities (the composite phase 1 with the long
// step rule), so that there are no artificial variables and the dual values of
// an infeasible problem are a Farkas ray that column generation can price.
//
// The numbers that come out are floating point: a guide to good columns and
// good bounds, never a proof of either. Products are written so that no
// processor may fuse them with a sum: the path of the method is the same
// everywhere.
package lp

import (
	"math"

	"example.com/longpoint/internal/meter"
)

// Status is how a solve ended.
type Status uint8

const (
	Optimal Status = iota + 1
	Infeasible
	Stopped // the meter ran out, or numbers would not settle
)

const (
	feasTol  = 1e-9
	dualTol  = 1e-9
	pivotTol = 1e-7
)

// where says where a variable rests.
type where int32

const (
	atLower where = -1
	atUpper where = -2
	atZero  where = -3 // free, nonbasic
	// >= 0: position in the basis
)

// LP is a problem with its basis. The zero value has no rows and no columns.
type LP struct {
	rlo, rhi []float64 // row bounds
	rstat    []where   // of the row activities ("logicals")

	cost, lo, hi []float64 // columns
	idx          [][]int32
	val          [][]float64
	weight       []float64 // static pricing weight
	cstat        []where

	head  []int32   // basis position -> column j, or ^r for the logical of row r
	binv  []float64 // inverse of the basis, row-major
	x     []float64 // basic values
	y     []float64 // row duals
	alpha []float64
	cb    []float64
	work  []float64
	brk   []breakpoint

	pivots    int  // since the last refactorization
	factored  bool // binv belongs to head
	objective float64
}

type breakpoint struct {
	t, slope float64
	pos      int32
	upper    bool // the variable comes to rest at its upper bound
}

// Rows returns the number of rows.
func (p *LP) Rows() int { return len(p.rlo) }

// Columns returns the number of columns.
func (p *LP) Columns() int { return len(p.cost) }

// AddRow adds a row with the given bounds and a coefficient of one in each of
// the columns cols, and returns its index.
func (p *LP) AddRow(lo, hi float64, cols []int32) int {
	r := len(p.rlo)
	p.rlo, p.rhi = append(p.rlo, lo), append(p.rhi, hi)
	p.rstat = append(p.rstat, where(len(p.head)))
	p.head = append(p.head, ^int32(r))
	for _, j := range cols {
		p.idx[j] = append(p.idx[j], int32(r))
		p.val[j] = append(p.val[j], 1)
	}
	p.factored = false
	return r
}

// Basis is a copy of where each variable rests.
type Basis struct {
	head         []int32
	rstat, cstat []where
}

// Save copies the basis into b.
func (p *LP) Save(b *Basis) {
	b.head = append(b.head[:0], p.head...)
	b.rstat = append(b.rstat[:0], p.rstat...)
	b.cstat = append(b.cstat[:0], p.cstat...)
}

// Restore goes back to a saved basis; rows added since are removed, columns
// added since rest at their lower bounds.
func (p *LP) Restore(b *Basis) {
	rows := len(b.rstat)
	if len(p.rlo) > rows {
		for j := range p.idx {
			k := len(p.idx[j])
			for k > 0 && int(p.idx[j][k-1]) >= rows {
				k--
			}
			p.idx[j], p.val[j] = p.idx[j][:k], p.val[j][:k]
		}
		p.rlo, p.rhi = p.rlo[:rows], p.rhi[:rows]
	}
	p.head = append(p.head[:0], b.head...)
	p.rstat = append(p.rstat[:0], b.rstat...)
	n := copy(p.cstat, b.cstat)
	for j := n; j < len(p.cstat); j++ {
		p.cstat[j] = atLower
	}
	p.factored = false
}

// AddColumn adds a column with bounds [0, +Inf) and returns its index. The row
// indices must be distinct and in increasing order.
func (p *LP) AddColumn(cost float64, idx []int32, val []float64) int {
	j := len(p.cost)
	p.cost = append(p.cost, cost)
	p.lo, p.hi = append(p.lo, 0), append(p.hi, math.Inf(1))
	p.idx = append(p.idx, append([]int32(nil), idx...))
	p.val = append(p.val, append([]float64(nil), val...))
	w := 1.0
	for _, v := range val {
		w += float64(v * v)
	}
	p.weight = append(p.weight, 1/w)
	p.cstat = append(p.cstat, atLower)
	return j
}

// SetRow changes the bounds of a row.
func (p *LP) SetRow(r int, lo, hi float64) {
	p.rlo[r], p.rhi[r] = lo, hi
	if p.rstat[r] < 0 {
		p.rstat[r] = rest(lo, hi, p.rstat[r])
	}
}

// SetColumn changes the bounds of a column.
func (p *LP) SetColumn(j int, lo, hi float64) {
	p.lo[j], p.hi[j] = lo, hi
	if p.cstat[j] < 0 {
		p.cstat[j] = rest(lo, hi, p.cstat[j])
	}
}

// SetCost changes the cost of a column.
func (p *LP) SetCost(j int, c float64) { p.cost[j] = c }

// Bounds returns the bounds of a column.
func (p *LP) Bounds(j int) (lo, hi float64) { return p.lo[j], p.hi[j] }

func rest(lo, hi float64, w where) where {
	switch {
	case w == atUpper && !math.IsInf(hi, 1):
		return atUpper
	case !math.IsInf(lo, -1):
		return atLower
	case !math.IsInf(hi, 1):
		return atUpper
	}
	return atZero
}

// Dual returns the dual value of row r after a solve: of the objective when
// the status was Optimal, of the infeasibility when it was Infeasible.
func (p *LP) Dual(r int) float64 { return p.y[r] }

// Objective returns the objective after an optimal solve.
func (p *LP) Objective() float64 { return p.objective }

// Value returns the value of column j.
func (p *LP) Value(j int) float64 {
	if w := p.cstat[j]; w >= 0 {
		return p.x[w]
	}
	return p.resting(p.lo[j], p.hi[j], p.cstat[j])
}

// Basic reports whether column j is in the basis.
func (p *LP) Basic(j int) bool { return p.cstat[j] >= 0 }

func (p *LP) resting(lo, hi float64, w where) float64 {
	switch w {
	case atLower:
		return lo
	case atUpper:
		return hi
	}
	return 0
}

func (p *LP) bounds(v int32) (lo, hi float64) {
	if v >= 0 {
		return p.lo[v], p.hi[v]
	}
	return p.rlo[^v], p.rhi[^v]
}

func (p *LP) setStat(v int32, w where) {
	if v >= 0 {
		p.cstat[v] = w
	} else {
		p.rstat[^v] = w
	}
}

// refactor inverts the basis anew by Gauss-Jordan elimination with partial
// pivoting. Columns that depend on the others give way to logicals. It reports
// false when the meter ran out.
func (p *LP) refactor(mt *meter.Meter) bool {
	p.factored = false
	m := len(p.rlo)
	grow := func(s *[]float64, n int) []float64 {
		if cap(*s) < n {
			*s = make([]float64, n, n+n/2)
		}
		*s = (*s)[:n]
		return *s
	}
	binv := grow(&p.binv, m*m)
	clear(binv)
	grow(&p.x, m)
	grow(&p.y, m)
	grow(&p.alpha, m)
	grow(&p.cb, m)

	// Logicals need no elimination: each has its own row. What is left is the
	// square of the structural columns on the other rows.
	owner := make([]int32, m) // row -> basis position that has its logical
	for r := range owner {
		owner[r] = -1
	}
	var structural []int32 // basis positions
	for pos, v := range p.head {
		if v < 0 {
			owner[^v] = int32(pos)
		} else {
			structural = append(structural, int32(pos))
		}
	}
	var rows []int32 // rows without a basic logical
	local := make([]int32, m)
	for r := range m {
		local[r] = -1
		if owner[r] < 0 {
			local[r] = int32(len(rows))
			rows = append(rows, int32(r))
		}
	}
	k := len(structural)
	// Build [S | I], S the k by k part, and eliminate.
	w := grow(&p.work, 2*k*k)
	clear(w)
	n := 2 * k
	for c, pos := range structural {
		j := p.head[pos]
		for t, r := range p.idx[j] {
			if l := local[r]; l >= 0 {
				w[int(l)*n+c] = p.val[j][t]
			}
		}
	}
	for i := range k {
		w[i*n+k+i] = 1
	}
	rowOf := make([]int32, k) // column c -> local row of its pivot
	used := make([]bool, k)
	for c := range k {
		if !mt.Spend(int64(k * k / 2)) {
			return false
		}
		piv, best := -1, 1e-8
		for i := range k {
			if !used[i] {
				if a := math.Abs(w[i*n+c]); a > best {
					piv, best = i, a
				}
			}
		}
		rowOf[c] = int32(piv)
		if piv < 0 {
			continue
		}
		used[piv] = true
		pr := w[piv*n : piv*n+n]
		f := 1 / pr[c]
		for t := range pr {
			if pr[t] != 0 {
				pr[t] *= f
			}
		}
		for i := range k {
			if i == piv {
				continue
			}
			ir := w[i*n : i*n+n]
			f := ir[c]
			if f == 0 {
				continue
			}
			for t, v := range pr {
				if v != 0 {
					ir[t] -= float64(f * v)
				}
			}
		}
	}
	for c, l := range rowOf {
		if l >= 0 {
			continue
		}
		// Column c depends on the others: the logical of a row without pivot
		// takes its place, and the elimination starts over.
		for i := range k {
			if !used[i] {
				used[i] = true
				pos := structural[c]
				p.setStat(p.head[pos], rest(p.lo[p.head[pos]], p.hi[p.head[pos]], atLower))
				p.head[pos] = ^rows[i]
				p.rstat[rows[i]] = where(pos)
				break
			}
		}
	}
	for _, l := range rowOf {
		if l < 0 {
			return p.refactor(mt)
		}
	}
	// The inverse: for structural positions the rows of S^-1, for logicals
	// -(e_r - A_r S^-1).
	for c, pos := range structural {
		src := w[int(rowOf[c])*n+k:]
		dst := binv[int(pos)*m:]
		for l, r := range rows {
			dst[r] = src[l]
		}
	}
	for r := range m {
		if pos := owner[r]; pos >= 0 {
			binv[int(pos)*m+r] = -1
		}
	}
	for _, pos := range structural {
		j := p.head[pos]
		src := binv[int(pos)*m : int(pos)*m+m]
		for t, r := range p.idx[j] {
			if o := owner[r]; o >= 0 {
				f := p.val[j][t]
				dst := binv[int(o)*m : int(o)*m+m]
				for _, q := range rows {
					dst[q] += float64(f * src[q])
				}
			}
		}
	}
	p.pivots = 0
	p.factored = true
	return true
}

// place computes the basic values from where the others rest.
func (p *LP) place() {
	m := len(p.rlo)
	b := p.alpha[:m]
	for r := range b {
		b[r] = 0
		if w := p.rstat[r]; w < 0 {
			b[r] = p.resting(p.rlo[r], p.rhi[r], w)
		}
	}
	for j, w := range p.cstat {
		if w >= 0 {
			continue
		}
		v := p.resting(p.lo[j], p.hi[j], w)
		if v == 0 {
			continue
		}
		for t, r := range p.idx[j] {
			b[r] -= float64(v * p.val[j][t])
		}
	}
	for i := range m {
		row := p.binv[i*m : i*m+m]
		s := 0.0
		for r, v := range row {
			if v != 0 {
				s += float64(v * b[r])
			}
		}
		p.x[i] = s
	}
}

// Solve finds an optimal basis from the current one.
func (p *LP) Solve(m *meter.Meter) Status {
	rows := len(p.rlo)
	if !p.factored && !p.refactor(m) {
		return Stopped
	}
	p.place()
	limit := 200 + 60*rows + 2*len(p.cost)
	fresh := p.pivots == 0 // values come straight from a refactorization
	dualsOK := false
	for iter, stall := 0, 0; iter < limit; iter++ {
		if !m.Spend(int64(2*rows*rows + 6*len(p.cost) + 20)) {
			return Stopped
		}
		if p.pivots >= 50+rows/4 {
			if !p.refactor(m) {
				return Stopped
			}
			p.place()
			dualsOK, fresh = false, true
		}
		infeasible := false
		for i, v := range p.head {
			lo, hi := p.bounds(v)
			tol := feasTol * (1 + math.Abs(p.x[i]))
			switch {
			case p.x[i] < lo-tol:
				p.cb[i], infeasible = -1, true
			case p.x[i] > hi+tol:
				p.cb[i], infeasible = 1, true
			default:
				p.cb[i] = 0
			}
		}
		if infeasible || !dualsOK {
			clear(p.y)
			for i, v := range p.head {
				c := p.cb[i]
				if !infeasible && v >= 0 {
					c = p.cost[v]
				}
				if c != 0 {
					row := p.binv[i*rows : i*rows+rows]
					for r, b := range row {
						if b != 0 {
							p.y[r] += float64(c * b)
						}
					}
				}
			}
			dualsOK = !infeasible
		}
		enter, d := p.price(infeasible, stall > 4*rows+40)
		if enter == none {
			if !fresh && infeasible {
				// Do not call a problem infeasible on stale numbers.
				if !p.refactor(m) {
					return Stopped
				}
				p.place()
				dualsOK, fresh = false, true
				continue
			}
			if infeasible {
				return Infeasible
			}
			p.objective = 0
			for j := range p.cost {
				if p.cstat[j] >= 0 || p.lo[j] > 0 || p.cstat[j] == atUpper {
					p.objective += float64(p.cost[j] * p.Value(j))
				}
			}
			return Optimal
		}
		moved, ok := p.step(enter, d, infeasible, &dualsOK)
		if !ok {
			if fresh {
				return Stopped
			}
			if !p.refactor(m) {
				return Stopped
			}
			p.place()
			dualsOK, fresh = false, true
			continue
		}
		fresh = false
		if moved {
			stall = 0
		} else {
			stall++
		}
	}
	return Stopped
}

const none = math.MinInt32

// price picks the variable to enter: the steepest by static weights, or under
// bland the first. It returns it with its reduced cost.
func (p *LP) price(phase1, bland bool) (int32, float64) {
	best, enter, bestD := 0.0, int32(none), 0.0
	consider := func(v int32, d, weight float64, w where) bool {
		if !((w != atUpper && d < -dualTol) || (w != atLower && d > dualTol)) {
			return false
		}
		if s := float64(d*d) * weight; s > best {
			best, enter, bestD = s, v, d
		}
		return bland
	}
	for r, w := range p.rstat {
		if w >= 0 || p.rlo[r] == p.rhi[r] {
			continue
		}
		if consider(^int32(r), p.y[r], 0.5, w) {
			return enter, bestD
		}
	}
	for j, w := range p.cstat {
		if w >= 0 || p.lo[j] == p.hi[j] {
			continue
		}
		d := 0.0
		if !phase1 {
			d = p.cost[j]
		}
		val := p.val[j]
		for t, r := range p.idx[j] {
			d -= float64(p.y[r] * val[t])
		}
		if consider(int32(j), d, p.weight[j], w) {
			return enter, bestD
		}
	}
	return enter, bestD
}

// step moves the entering variable as far as it helps and changes the basis.
// It reports whether the point moved, and false when the numbers are too poor
// to go on.
func (p *LP) step(enter int32, d float64, phase1 bool, dualsOK *bool) (moved, ok bool) {
	m := len(p.rlo)
	alpha := p.alpha[:m]
	if enter >= 0 {
		idx, val := p.idx[enter], p.val[enter]
		for i := range m {
			row := p.binv[i*m : i*m+m]
			s := 0.0
			for t, r := range idx {
				s += float64(row[r] * val[t])
			}
			alpha[i] = s
		}
	} else {
		r := int(^enter)
		for i := range m {
			alpha[i] = -p.binv[i*m+r]
		}
	}
	dir := 1.0
	if d > 0 {
		dir = -1
	}
	elo, ehi := p.bounds(enter)
	span := ehi - elo // of a bound flip; +Inf when there is none
	if math.IsNaN(span) {
		span = math.Inf(1)
	}

	leave, t, upper := -1, span, false
	if phase1 {
		// Long step: pass breakpoints while the sum of infeasibilities falls.
		p.brk = p.brk[:0]
		for i, v := range p.head {
			g := dir * alpha[i] // x_i falls at this rate
			if math.Abs(g) < pivotTol {
				continue
			}
			lo, hi := p.bounds(v)
			x := p.x[i]
			if g > 0 {
				if p.cb[i] > 0 {
					p.brk = append(p.brk, breakpoint{(x - hi) / g, g, int32(i), true})
				}
				if p.cb[i] >= 0 && !math.IsInf(lo, -1) {
					p.brk = append(p.brk, breakpoint{max(x-lo, 0) / g, g, int32(i), false})
				}
			} else {
				if p.cb[i] < 0 {
					p.brk = append(p.brk, breakpoint{(x - lo) / g, -g, int32(i), false})
				}
				if p.cb[i] <= 0 && !math.IsInf(hi, 1) {
					p.brk = append(p.brk, breakpoint{max(hi-x, 0) / -g, -g, int32(i), true})
				}
			}
		}
		slope := -math.Abs(d)
		// Selection by repeated minimum: few are passed in most steps.
		for n := len(p.brk); n > 0; n-- {
			k := 0
			for i := 1; i < n; i++ {
				a, b := &p.brk[i], &p.brk[k]
				if a.t < b.t || (a.t == b.t && (a.slope > b.slope || (a.slope == b.slope && a.pos < b.pos))) {
					k = i
				}
			}
			b := p.brk[k]
			p.brk[k] = p.brk[n-1]
			if b.t >= span {
				break
			}
			leave, t, upper = int(b.pos), b.t, b.upper
			slope += b.slope
			if slope >= 0 {
				break
			}
		}
		if leave < 0 && math.IsInf(span, 1) {
			return false, false
		}
	} else {
		// Two passes after P. M. J. Harris (1973): among the ratios within
		// tolerance of the least, the largest pivot.
		limit := math.Inf(1)
		for i, v := range p.head {
			g := dir * alpha[i]
			if math.Abs(g) < pivotTol {
				continue
			}
			lo, hi := p.bounds(v)
			if g > 0 && !math.IsInf(lo, -1) {
				limit = min(limit, (p.x[i]-lo+feasTol)/g)
			} else if g < 0 && !math.IsInf(hi, 1) {
				limit = min(limit, (hi-p.x[i]+feasTol)/-g)
			}
		}
		big := 0.0
		if limit < span {
			for i, v := range p.head {
				g := dir * alpha[i]
				a := math.Abs(g)
				if a < pivotTol || a <= big {
					continue
				}
				lo, hi := p.bounds(v)
				if g > 0 && !math.IsInf(lo, -1) {
					if r := (p.x[i] - lo) / g; r <= limit {
						leave, t, upper, big = i, max(r, 0), false, a
					}
				} else if g < 0 && !math.IsInf(hi, 1) {
					if r := (hi - p.x[i]) / -g; r <= limit {
						leave, t, upper, big = i, max(r, 0), true, a
					}
				}
			}
		}
		if leave < 0 && math.IsInf(span, 1) {
			return false, false // no bound in sight: poor numbers
		}
	}

	for i := range m {
		if alpha[i] != 0 {
			p.x[i] -= float64(float64(t*dir) * alpha[i])
		}
	}
	if leave < 0 { // from one bound to the other
		if dir > 0 {
			p.setStat(enter, atUpper)
		} else {
			p.setStat(enter, atLower)
		}
		return true, true
	}
	var w where
	if enter >= 0 {
		w = p.cstat[enter]
	} else {
		w = p.rstat[^enter]
	}
	value := p.resting(elo, ehi, w) + float64(t*dir)

	// The inverse changes by one elementary row transformation.
	piv := p.binv[leave*m : leave*m+m]
	f := 1 / alpha[leave]
	if *dualsOK {
		g := float64(d * f)
		for r, v := range piv {
			if v != 0 {
				p.y[r] += float64(g * v)
			}
		}
	}
	for r := range piv {
		if piv[r] != 0 {
			piv[r] *= f
		}
	}
	for i := range m {
		a := alpha[i]
		if i == leave || a == 0 {
			continue
		}
		row := p.binv[i*m : i*m+m]
		for r, v := range piv {
			row[r] -= float64(a * v)
		}
	}
	out := p.head[leave]
	if upper {
		p.setStat(out, atUpper)
	} else {
		p.setStat(out, atLower)
	}
	p.head[leave] = enter
	p.setStat(enter, where(leave))
	p.x[leave] = value
	p.pivots++
	return t > 1e-12, true
}
