// Package lp implements a small revised simplex method for restricted master problems:
//
//	minimize c*x  subject to  lo <= A x <= hi (rows),  l <= x <= u (columns)
//
// Columns and rows come and go during a search, and every solve starts from the basis of the previous
// one. An infeasible start is repaired by minimizing the sum of infeasibilities (the composite phase 1
// with the long step rule), so there are no artificial variables, and the dual values of an infeasible
// problem are a Farkas ray that column generation can price. If the caller says that the basis was
// optimal before bounds changed, Solve begins with the dual simplex method (dual.go).
//
// The results are floating-point numbers: they suggest good columns and good bounds, and prove neither.
// Products are written so that no processor may fuse them with a sum: the method takes the same path
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
	Beyond  // no solution has an objective below Limit
	Stopped // the meter ran out, or numerical errors prevent progress
)

const (
	feasTol  = 1e-9
	dualTol  = 1e-9
	pivotTol = 1e-7
)

// where says where a variable rests: at a bound, or in the basis.
type where int32

const (
	atLower where = -1
	atUpper where = -2
	atZero  where = -3 // free, nonbasic
	// >= 0: position in the basis
)

// LP is a problem with its basis. The zero value has no rows and no columns.
type LP struct {
	// Warm says that bounds of rows or columns have changed since the basis was optimal. If few values
	// are then out of bounds, Solve begins with the dual simplex method. Solve finds an optimum even if
	// Warm is set wrongly.
	Warm bool

	// If Limit is not zero, the dual simplex method ends at a basis whose objective is at least Limit, and Solve returns
	// Beyond. The dual values of this basis show that no solution has an objective below Limit, unless some
	// reduced costs had the wrong sign at the start.
	Limit float64

	rlo, rhi []float64 // row bounds
	rstat    []where   // of the row activities ("logicals")
	rweight  []float64 // devex weights of the logicals
	rowCols  [][]int32 // the columns with an entry in each row
	rowVals  [][]float64

	cost, lo, hi []float64 // columns
	idx          [][]int32
	val          [][]float64
	weight       []float64 // devex weights of the columns
	d            []float64 // reduced costs of the columns
	cstat        []where

	head  []int32 // basis position -> column j, or ^r for the logical of row r
	lu    factor
	x     []float64 // basic values
	y     []float64 // row duals
	alpha []float64 // the entering column times the basis inverse, by position
	rho   []float64 // a row of the basis inverse, by row
	cb    []float64
	byRow []float64 // scratch
	byPos []float64 // scratch, zero between uses
	brk   []breakpoint
	row   []float64 // a row of the basis inverse times the columns, see dual
	sum   []float64 // likewise, zero between uses, see reweighFew
	found []int32   // the columns with entries in sum, perhaps several times
	steep []float64 // devex weights of the rows, by position
	shift []float64 // changes of the basic values as other variables change bounds
	rat   []ratio

	product   int64 // steps of the last product of a row of the inverse with the columns, until they are counted
	pivots    int   // since the last refactorization
	factored  bool  // lu belongs to head
	objective float64
	beyond    bool // the dual simplex method has reached Limit
}

type breakpoint struct {
	t, slope float64
	pos      int32
	upper    bool // the variable comes to rest at its upper bound
}

// Slack returns by how much to loosen row i of a covering problem to avoid stalling: between half and
// all of a hundred-millionth, different for each row. Duals stay correct; values are off by at most
// that much.
func Slack(i int) float64 {
	// Scattered by the golden ratio.
	u := float64((uint32(i)+1)*2654435769>>8) / (1 << 25)
	return float64(1e-8 * (0.5 + float64(u)))
}

// Rows returns the number of rows.
func (p *LP) Rows() int { return len(p.rlo) }

// Columns returns the number of columns.
func (p *LP) Columns() int { return len(p.cost) }

// AddRow adds a row with the given bounds, and with coefficients val in the columns cols (all one if
// val is nil), and returns its index.
func (p *LP) AddRow(lo, hi float64, cols []int32, val []float64) int {
	r := len(p.rlo)
	p.rlo, p.rhi = append(p.rlo, lo), append(p.rhi, hi)
	p.rstat = append(p.rstat, where(len(p.head)))
	p.rweight = append(p.rweight, 1)
	p.head = append(p.head, ^int32(r))
	p.rowCols, p.rowVals = append(p.rowCols, nil), append(p.rowVals, nil)
	for k, j := range cols {
		v := 1.0
		if val != nil {
			v = val[k]
		}
		p.idx[j] = append(p.idx[j], int32(r))
		p.val[j] = append(p.val[j], v)
		p.rowCols[r], p.rowVals[r] = append(p.rowCols[r], j), append(p.rowVals[r], v)
	}
	p.factored = false
	return r
}

// Basis is a copy of where each variable rests. Its size is proportional to the number of rows.
type Basis struct {
	head  []int32
	upper []int32 // variables at their upper bounds, numbered as in head
}

// Save copies the basis into b.
func (p *LP) Save(b *Basis) {
	b.head = append(b.head[:0], p.head...)
	b.upper = b.upper[:0]
	for r, w := range p.rstat {
		if w == atUpper {
			b.upper = append(b.upper, ^int32(r))
		}
	}
	for j, w := range p.cstat {
		if w == atUpper {
			b.upper = append(b.upper, int32(j))
		}
	}
}

// Restore goes back to a saved basis. Rows added since then are removed; columns added since then rest
// at their lower bounds.
func (p *LP) Restore(b *Basis) {
	rows := len(b.head)
	if len(p.rlo) > rows {
		for j := range p.idx {
			k := len(p.idx[j])
			for k > 0 && int(p.idx[j][k-1]) >= rows {
				k--
			}
			p.idx[j], p.val[j] = p.idx[j][:k], p.val[j][:k]
		}
		p.rlo, p.rhi, p.rweight = p.rlo[:rows], p.rhi[:rows], p.rweight[:rows]
		p.rstat = p.rstat[:rows]
		p.rowCols, p.rowVals = p.rowCols[:rows], p.rowVals[:rows]
	}
	for r := range p.rstat {
		p.rstat[r] = rest(p.rlo[r], p.rhi[r], atLower)
	}
	for j := range p.cstat {
		p.cstat[j] = rest(p.lo[j], p.hi[j], atLower)
	}
	for _, v := range b.upper {
		lo, hi := p.bounds(v)
		p.setStat(v, rest(lo, hi, atUpper))
	}
	p.head = append(p.head[:0], b.head...)
	for pos, v := range p.head {
		if v != vacant {
			p.setStat(v, where(pos))
		}
	}
	p.factored = false
}

// Drop removes, after a solve, each slack row with an index of at least from: a row whose logical is
// basic. It reports for each of these rows whether it stays. Values stay as they are; duals are not
// valid until the next solve.
func (p *LP) Drop(from int) (stays []bool) {
	to := make([]int32, len(p.rlo)) // the new index of a row, -1 if it is removed
	rows := 0
	for r := range p.rlo {
		stay := r < from || p.rstat[r] < 0
		if r >= from {
			stays = append(stays, stay)
		}
		if !stay {
			to[r] = -1
			continue
		}
		to[r] = int32(rows)
		p.rlo[rows], p.rhi[rows], p.rstat[rows], p.rweight[rows] = p.rlo[r], p.rhi[r], p.rstat[r], p.rweight[r]
		p.rowCols[rows], p.rowVals[rows] = p.rowCols[r], p.rowVals[r]
		rows++
	}
	if rows == len(p.rlo) {
		return stays
	}
	p.rlo, p.rhi, p.rstat, p.rweight = p.rlo[:rows], p.rhi[:rows], p.rstat[:rows], p.rweight[:rows]
	p.rowCols, p.rowVals = p.rowCols[:rows], p.rowVals[:rows]
	for j, idx := range p.idx {
		n := 0
		for t, r := range idx {
			if to[r] >= 0 {
				idx[n], p.val[j][n] = to[r], p.val[j][t]
				n++
			}
		}
		p.idx[j], p.val[j] = idx[:n], p.val[j][:n]
	}
	pos := 0
	for k, v := range p.head {
		if v < 0 && v != vacant {
			if to[^v] < 0 {
				continue
			}
			v = ^to[^v]
		}
		if p.head[pos] = v; v != vacant {
			p.x[pos] = p.x[k]
			p.setStat(v, where(pos))
		}
		pos++
	}
	p.head = p.head[:pos]
	p.factored = false
	return stays
}

// AddColumn adds a column with bounds [0, +Inf) and returns its index. The row
// indices must be distinct and in increasing order.
func (p *LP) AddColumn(cost float64, idx []int32, val []float64) int {
	j := len(p.cost)
	p.cost = append(p.cost, cost)
	p.lo, p.hi = append(p.lo, 0), append(p.hi, math.Inf(1))
	p.idx = append(p.idx, append([]int32(nil), idx...))
	p.val = append(p.val, append([]float64(nil), val...))
	for t, r := range idx {
		p.rowCols[r], p.rowVals[r] = append(p.rowCols[r], int32(j)), append(p.rowVals[r], val[t])
	}
	p.weight = append(p.weight, 1)
	p.d = append(p.d, 0)
	p.cstat = append(p.cstat, atLower)
	return j
}

// Start makes a basis of the given columns, as far as they are independent, and logicals for the rest.
func (p *LP) Start(cols []int32) {
	for r := range p.rstat {
		p.rstat[r] = rest(p.rlo[r], p.rhi[r], atLower)
	}
	for j := range p.cstat {
		p.cstat[j] = rest(p.lo[j], p.hi[j], atLower)
	}
	for pos := range p.head {
		if pos < len(cols) {
			p.head[pos] = cols[pos]
			p.cstat[cols[pos]] = where(pos)
		} else {
			p.head[pos] = vacant
		}
	}
	p.factored = false
}

// vacant marks a basis position that the next refactorization gives to a logical.
const vacant = math.MinInt32

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

// Dual returns the dual value of row r after a solve: of the objective if the status was Optimal, of
// the sum of infeasibilities if it was Infeasible.
func (p *LP) Dual(r int) float64 { return p.y[r] }

// LargestDual returns the greatest absolute value of all duals.
func (p *LP) LargestDual() float64 {
	most := 0.0
	for r := range p.Rows() {
		most = max(most, math.Abs(p.y[r]))
	}
	return most
}

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

// refactor factors the basis again. It replaces columns that depend on others by logicals. It reports
// false if the meter ran out.
func (p *LP) refactor(mt *meter.Meter) bool {
	p.factored = false
	m := len(p.rlo)
	p.x, p.y, p.alpha = resized(p.x, m), resized(p.y, m), resized(p.alpha, m)
	p.cb, p.byRow, p.byPos, p.rho = resized(p.cb, m), resized(p.byRow, m), resized(p.byPos, m), resized(p.rho, m)
	var one [1]int32
	minus := [1]float64{-1}
	for {
		badPos, badRow, ok := p.lu.build(m, func(c int) ([]int32, []float64) {
			switch v := p.head[c]; {
			case v >= 0:
				return p.idx[v], p.val[v]
			case v == vacant:
				return nil, nil
			}
			one[0] = ^p.head[c]
			return one[:], minus[:]
		}, mt)
		if !ok {
			return false
		}
		if len(badPos) == 0 {
			break
		}
		for k, pos := range badPos {
			if v := p.head[pos]; v != vacant {
				lo, hi := p.bounds(v)
				p.setStat(v, rest(lo, hi, atLower))
			}
			p.head[pos] = ^badRow[k]
			p.rstat[badRow[k]] = where(pos)
		}
	}
	p.pivots = 0
	p.factored = true
	return true
}

// Place computes the values of the columns at the current basis, and the objective, as after a solve. It reports false
// if the meter ran out.
func (p *LP) Place(m *meter.Meter) bool {
	if !m.Spend(p.lu.ops()) || !p.factored && !p.refactor(m) {
		return false
	}
	p.place()
	p.setObjective()
	return true
}

// place computes the basic values from the nonbasic ones.
func (p *LP) place() {
	b := p.byRow
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
	p.lu.ftran(b, p.x)
}

// Solve finds an optimal basis, starting from the current one. Lower bounds must not exceed upper
// bounds.
func (p *LP) Solve(m *meter.Meter) Status {
	rows := len(p.rlo)
	if !p.factored && !p.refactor(m) {
		return Stopped
	}
	p.place()
	limit := 200 + 60*rows + 2*len(p.cost)
	dualsOK := false
	if p.Warm && p.few() {
		var end Status
		if dualsOK, end = p.solveDual(m); end != 0 {
			return end
		}
	}
	fresh := p.pivots == 0 // values come directly from a refactorization
	for iter, stall := 0, 0; iter < limit; iter++ {
		if !m.Spend(3*p.lu.ops() + int64(2*len(p.cost)) + 20) {
			return Stopped
		}
		if p.stale() {
			if !p.refactor(m) {
				return Stopped
			}
			p.place()
			dualsOK, fresh = false, true
		}
		infeasible := p.infeasible()
		if infeasible || !dualsOK {
			p.setDuals(infeasible)
			dualsOK = !infeasible
			m.Spend(productSteps * int64(len(p.cost)))
		}
		enter, d := p.price(stall > 4*rows+40)
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
			p.setObjective()
			return Optimal
		}
		moved, ok := p.step(enter, d, infeasible, &dualsOK)
		m.Spend(p.product)
		p.product = 0
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
		m.Tally().Pivots++
		if moved {
			stall = 0
		} else {
			stall++
		}
	}
	return Stopped
}

// infeasible determines which basic values are out of bounds, and reports whether any is.
func (p *LP) infeasible() (any bool) {
	for i, v := range p.head {
		lo, hi := p.bounds(v)
		tol := within(p.x[i])
		switch {
		case p.x[i] < lo-tol:
			p.cb[i], any = -1, true
		case p.x[i] > hi+tol:
			p.cb[i], any = 1, true
		default:
			p.cb[i] = 0
		}
	}
	return any
}

// setDuals computes the duals and the reduced costs of the basis, in phase 1 those of the sum of
// infeasibilities.
func (p *LP) setDuals(phase1 bool) {
	for i, v := range p.head {
		switch {
		case phase1:
			p.byPos[i] = p.cb[i]
		case v >= 0:
			p.byPos[i] = p.cost[v]
		default:
			p.byPos[i] = 0
		}
	}
	p.lu.btran(p.byPos, p.y)
	clear(p.byPos)
	p.reduce(phase1)
}

func (p *LP) setObjective() {
	p.objective = 0
	for j := range p.cost {
		if v := p.Value(j); v != 0 {
			p.objective += float64(p.cost[j] * v)
		}
	}
}

// stale reports whether the basis should be factored again.
func (p *LP) stale() bool {
	return p.pivots >= 64 || len(p.lu.eidx) > 3*(len(p.lu.lidx)+len(p.lu.uridx))+16*len(p.rlo)
}

// within returns the tolerance for a value outside its bounds.
func within(x float64) float64 {
	a := math.Abs(x)
	return float64(feasTol*(1+min(a, 100))) + float64(1e-12*a)
}

const none = math.MinInt32

// productSteps is about the number of steps for each column to multiply a row by it.
const productSteps = 7

// price picks the entering variable: the steepest by devex weights (P. M. J. Harris, Pivot selection
// methods of the Devex LP code, Mathematical Programming 5 (1973) 1-28), or the first if bland is set.
// It returns the variable with its reduced cost.
func (p *LP) price(bland bool) (int32, float64) {
	best, enter, bestD := 0.0, int32(none), 0.0
	for r, w := range p.rstat {
		if w >= 0 || p.rlo[r] == p.rhi[r] {
			continue
		}
		d := p.y[r]
		if !((w != atUpper && d < -dualTol) || (w != atLower && d > dualTol)) {
			continue
		}
		if s := float64(d*d) / p.rweight[r]; s > best {
			best, enter, bestD = s, ^int32(r), d
			if bland {
				return enter, bestD
			}
		}
	}
	for j, w := range p.cstat {
		d := p.d[j]
		if w >= 0 || (d >= -dualTol && d <= dualTol) {
			continue
		}
		if (d < 0 && w == atUpper) || (d > 0 && w == atLower) || p.lo[j] == p.hi[j] {
			continue
		}
		if s := float64(d*d) / p.weight[j]; s > best {
			best, enter, bestD = s, int32(j), d
			if bland {
				return enter, bestD
			}
		}
	}
	return enter, bestD
}

// reduce computes the reduced costs of all columns from the duals.
func (p *LP) reduce(phase1 bool) {
	for j, w := range p.cstat {
		if w >= 0 {
			p.d[j] = 0
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
		p.d[j] = d
	}
}

// reweigh updates reduced costs and devex weights after a change of basis: rho is the row of the old
// inverse at the leaving position, pivot the entering column's entry there, d its reduced cost and w
// its weight. It returns the number of steps.
func (p *LP) reweigh(rho []float64, pivot, d, w float64) int64 {
	inv, entries := 1/pivot, 0
	for r, v := range rho {
		if v == 0 {
			continue
		}
		entries += len(p.rowCols[r])
		if p.rstat[r] < 0 {
			a := float64(v * inv)
			p.rweight[r] = max(p.rweight[r], float64(float64(a*a)*w))
		}
	}
	if few := int64(3 * entries); few < productSteps*int64(len(p.cost)) {
		p.reweighFew(rho, inv, d, w)
		return few
	}
	p.reweighAll(rho, inv, d, w)
	return productSteps * int64(len(p.cost))
}

// reweighAll is the part of reweigh for the columns.
func (p *LP) reweighAll(rho []float64, inv, d, w float64) {
	for j := range p.cstat {
		if p.cstat[j] >= 0 || p.lo[j] == p.hi[j] {
			continue
		}
		a := 0.0
		val := p.val[j]
		for t, r := range p.idx[j] {
			a += float64(rho[r] * val[t])
		}
		p.reweighColumn(j, a, inv, d, w)
	}
}

// reweighFew is reweighAll for a rho with few entries: it multiplies them by the rows. The sums have the same order, so
// the results are the same.
func (p *LP) reweighFew(rho []float64, inv, d, w float64) {
	p.sum, p.found = resized(p.sum, len(p.cost)), p.found[:0]
	for r, v := range rho {
		if v == 0 {
			continue
		}
		val := p.rowVals[r]
		for t, j := range p.rowCols[r] {
			if p.sum[j] == 0 {
				p.found = append(p.found, j)
			}
			p.sum[j] += float64(v * val[t])
		}
	}
	for _, j := range p.found {
		a := p.sum[j]
		p.sum[j] = 0
		if p.cstat[j] < 0 && p.lo[j] != p.hi[j] {
			p.reweighColumn(int(j), a, inv, d, w)
		}
	}
}

// reweighColumn is reweigh for a nonbasic column whose product with rho is a.
func (p *LP) reweighColumn(j int, a, inv, d, w float64) {
	if a != 0 {
		a *= inv
		p.d[j] -= float64(d * a)
		p.weight[j] = max(p.weight[j], float64(float64(a*a)*w))
	}
}

// step moves the entering variable as far as it reduces the objective, and changes the basis. It
// reports whether the point moved; ok is false if numerical errors prevent the step.
func (p *LP) step(enter int32, d float64, phase1 bool, dualsOK *bool) (moved, ok bool) {
	m := len(p.rlo)
	alpha := p.alpha[:m]
	clear(p.byRow)
	if enter >= 0 {
		for t, r := range p.idx[enter] {
			p.byRow[r] = p.val[enter][t]
		}
	} else {
		p.byRow[^enter] = -1
	}
	p.lu.ftran(p.byRow, alpha)
	dir := 1.0
	if d > 0 {
		dir = -1
	}
	elo, ehi := p.bounds(enter)
	span := ehi - elo // the length of a bound flip; +Inf if there is none
	if math.IsNaN(span) {
		span = math.Inf(1)
	}

	leave, t, upper := 0, 0.0, false
	if phase1 {
		leave, t, upper = p.longStep(alpha, dir, d, span)
	} else {
		leave, t, upper = p.shortStep(alpha, dir, span)
	}
	if leave < 0 && math.IsInf(span, 1) {
		return false, false // no bound limits the step: numerical error
	}
	for i := range m {
		if alpha[i] != 0 {
			p.x[i] -= float64(float64(t*dir) * alpha[i])
		}
	}
	if leave < 0 { // a bound flip
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

	weight := 1.0
	if enter >= 0 {
		weight = p.weight[enter]
	} else {
		weight = p.rweight[^enter]
	}
	out := p.head[leave]
	if *dualsOK {
		p.moveDuals(leave, enter, d, weight, alpha)
	}
	p.setWeight(out, weight/float64(alpha[leave]*alpha[leave]))
	p.lu.exchange(leave, alpha)
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

// longStep is the ratio test of phase 1: it passes breakpoints while the sum of infeasibilities falls.
// It returns the position in the basis that leaves (-1 if the entering variable goes to its other
// bound), the length of the step, and whether the leaving variable ends at its upper bound.
func (p *LP) longStep(alpha []float64, dir, d, span float64) (leave int, t float64, upper bool) {
	leave, t = -1, span
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
	// Selection by repeated minimum: most steps pass few breakpoints.
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
	return leave, t, upper
}

// shortStep is the ratio test of phase 2, in two passes after P. M. J. Harris (1973): it chooses the
// largest pivot among the ratios within tolerance of the least. Its results are those of longStep.
func (p *LP) shortStep(alpha []float64, dir, span float64) (leave int, t float64, upper bool) {
	leave, t = -1, span
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
	if limit >= span {
		return leave, t, upper
	}
	big := 0.0
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
	return leave, t, upper
}

// moveDuals updates the duals with a row of the basis inverse.
func (p *LP) moveDuals(leave int, enter int32, d, weight float64, alpha []float64) {
	p.byPos[leave] = 1
	p.lu.btran(p.byPos, p.rho)
	clear(p.byPos)
	p.product = p.reweigh(p.rho, alpha[leave], d, weight)
	g := d / alpha[leave]
	for r, v := range p.rho {
		if v != 0 {
			p.y[r] += float64(g * v)
		}
	}
	if out := p.head[leave]; out >= 0 {
		p.d[out] = -g
	}
	if enter >= 0 {
		p.d[enter] = 0
	}
}

// setWeight sets the reference weight of the leaving variable, at least 1. If the weight is too large,
// it resets all weights.
func (p *LP) setWeight(out int32, weight float64) {
	weight = max(weight, 1)
	if weight > 1e8 { // a new reference framework
		for j := range p.weight {
			p.weight[j] = 1
		}
		for r := range p.rweight {
			p.rweight[r] = 1
		}
		weight = 1
	}
	if out >= 0 {
		p.weight[out] = weight
	} else {
		p.rweight[^out] = weight
	}
}
