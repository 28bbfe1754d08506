package lp

import (
	"math"

	"example.com/longpoint/internal/meter"
)

// tinyEntry is the size below which a column's entry in the pivot row is ignored.
const tinyEntry = 1e-9

// ratio is a nonbasic variable whose reduced cost changes sign during the dual step.
type ratio struct {
	v    int32   // column j, or ^r for the logical of row r
	a    float64 // absolute value of its entry in the row
	d    float64 // absolute value of its reduced cost
	span float64 // distance between its bounds
}

// dual continues from a basis whose reduced costs have the right signs but whose values are out of
// bounds, as after a change of rows and bounds. It is the dual simplex method for bounded variables (C.
// E. Lemke, The dual method of solving the linear programming problem, Naval Research Logistics
// Quarterly 1 (1954) 36-47) with the long step rule, which moves variables from one bound to the other
// as long as the row's infeasibility allows (A. Koberstein, The dual simplex method, techniques for a
// fast and stable implementation, dissertation, Paderborn 2005, chapters 3 and 6), and devex weights of
// the rows (J. J. Forrest, D. Goldfarb, Steepest-edge simplex algorithms for linear programming,
// Mathematical Programming 57 (1992) 341-374).
//
// It reports whether all values are now within their bounds; duals and reduced costs then belong to the
// basis. Otherwise - it stops after a number of steps, at Limit, and at a row that no variable can repair - it
// leaves a valid basis for the primal method, which determines the status. ok is false if the meter ran
// out.
func (p *LP) dual(m *meter.Meter) (done, ok bool) {
	p.beyond = false
	n := len(p.cost)
	if !m.Spend(p.lu.ops() + int64(5*n)) {
		return false, false
	}
	p.setDuals(false)
	switch flips, ok := p.lined(); {
	case !ok:
		return false, true
	case flips:
		p.place()
	}
	p.steep = resized(p.steep, len(p.head))
	for i := range p.steep {
		p.steep[i] = 1
	}
	for range 20 + len(p.head) {
		if !m.Spend(3*p.lu.ops() + int64(9*n) + 20) {
			return false, false
		}
		if p.stale() {
			if !p.refactor(m) {
				return false, false
			}
			p.place()
			p.setDuals(false)
		}
		leave, by, low := p.worst()
		if leave < 0 {
			return true, true
		}
		if p.Limit != 0 {
			if p.setObjective(); p.objective >= p.Limit {
				p.beyond = true
				return false, true
			}
		}
		p.byPos[leave] = 1
		p.lu.btran(p.byPos, p.rho)
		clear(p.byPos)
		p.ratios(low)
		enter, passed := p.longest(by, within(p.x[leave]), m)
		if enter < 0 || !p.turn(leave, low, p.rat[enter].v, p.rat[:passed], m) {
			return false, true
		}
		m.Tally().Pivots++
	}
	return false, true
}

// solveDual calls dual. It returns whether the duals belong to the basis, and Beyond or Stopped if the
// dual method ended so, otherwise zero.
//
// If there is a Limit, the method runs even if some reduced costs have the wrong sign: the costs of these
// columns, which were added since the basis was optimal, are raised while it runs.
func (p *LP) solveDual(m *meter.Meter) (dualsOK bool, end Status) {
	var raised []raise
	if p.Limit != 0 {
		raised = p.raiseCosts()
	}
	dualsOK, ok := p.dual(m)
	for _, r := range raised {
		p.cost[r.column] = r.cost
	}
	switch {
	case !ok:
		return false, Stopped
	case p.beyond:
		return false, Beyond
	}
	return dualsOK && len(raised) == 0, 0
}

// raise is a column whose cost is raised, with its own cost.
type raise struct {
	column int
	cost   float64
}

// raiseCosts raises the cost of each column that could enter at a profit, and that has no upper bound to
// rest at, until it could not.
func (p *LP) raiseCosts() (raised []raise) {
	p.setDuals(false)
	for j, w := range p.cstat {
		if w == atLower && p.d[j] < -dualTol && math.IsInf(p.hi[j], 1) {
			raised = append(raised, raise{j, p.cost[j]})
			p.cost[j] -= p.d[j]
		}
	}
	return raised
}

// few reports whether some basic values are out of bounds, but no more than an eighth. If more are, as
// at the first relaxation, the primal method takes fewer steps.
func (p *LP) few() bool {
	n := 0
	for i, v := range p.head {
		lo, hi := p.bounds(v)
		if tol := within(p.x[i]); p.x[i] < lo-tol || p.x[i] > hi+tol {
			n++
		}
	}
	return n > 0 && 8*n <= len(p.head)
}

// lined moves each nonbasic variable to the bound that suits the sign of its reduced cost. It reports
// whether any moved; ok is false, and nothing moves, if some variable has no such bound.
func (p *LP) lined() (flips, ok bool) {
	// asks returns where a variable should rest, and whether it has to move there.
	asks := func(w where, d, lo, hi float64) (to where, moves, ok bool) {
		switch {
		case w >= 0 || lo == hi:
		case d < -dualTol && w != atUpper:
			return atUpper, true, !math.IsInf(hi, 1)
		case d > dualTol && w != atLower:
			return atLower, true, !math.IsInf(lo, -1)
		}
		return w, false, true
	}
	for r, w := range p.rstat {
		if _, moves, ok := asks(w, p.y[r], p.rlo[r], p.rhi[r]); !ok {
			return false, false
		} else if moves {
			flips = true
		}
	}
	for j, w := range p.cstat {
		if _, moves, ok := asks(w, p.d[j], p.lo[j], p.hi[j]); !ok {
			return false, false
		} else if moves {
			flips = true
		}
	}
	if flips {
		for r, w := range p.rstat {
			p.rstat[r], _, _ = asks(w, p.y[r], p.rlo[r], p.rhi[r])
		}
		for j, w := range p.cstat {
			p.cstat[j], _, _ = asks(w, p.d[j], p.lo[j], p.hi[j])
		}
	}
	return flips, true
}

// worst picks the leaving position: the value farthest out of bounds, by the weights. It returns the
// distance, and whether the value is too low.
func (p *LP) worst() (leave int, by float64, low bool) {
	leave = -1
	best := 0.0
	for i, v := range p.head {
		lo, hi := p.bounds(v)
		e := lo - p.x[i]
		below := e > 0
		if !below {
			e = p.x[i] - hi
		}
		if e <= within(p.x[i]) {
			continue
		}
		if s := float64(e*e) / p.steep[i]; s > best {
			best, leave, by, low = s, i, e, below
		}
	}
	return leave, by, low
}

// ratios multiplies p.rho by the columns, which gives p.row, and lists the variables that may enter if
// the leaving value is too low, or too high.
func (p *LP) ratios(low bool) {
	p.rat = p.rat[:0]
	p.row = resized(p.row, len(p.cost))
	add := func(v int32, w where, a, d, lo, hi float64) {
		if low {
			a = -a
		}
		switch {
		case a > tinyEntry && w != atUpper:
		case a < -tinyEntry && w != atLower:
			a, d = -a, -d
		default:
			return
		}
		if w == atZero {
			d = 0
		}
		p.rat = append(p.rat, ratio{v, a, max(d, 0), hi - lo})
	}
	for r, w := range p.rstat {
		if w < 0 && p.rlo[r] != p.rhi[r] && p.rho[r] != 0 {
			add(^int32(r), w, -p.rho[r], p.y[r], p.rlo[r], p.rhi[r])
		}
	}
	for j, w := range p.cstat {
		p.row[j] = 0
		if w >= 0 || p.lo[j] == p.hi[j] {
			continue
		}
		a := 0.0
		val := p.val[j]
		for t, r := range p.idx[j] {
			a += float64(p.rho[r] * val[t])
		}
		if p.row[j] = a; a != 0 {
			add(int32(j), w, a, p.d[j], p.lo[j], p.hi[j])
		}
	}
}

// longest chooses the longest dual step that repairs a value that is out of bounds by the distance by,
// within the tolerance slack. It passes variables that can flip to their other bounds, in groups that
// Harris's tolerance cannot distinguish, and returns the largest entry of the last group. The first
// passed entries of p.rat are the flips. enter is -1 if all variables can flip and the value is still
// out of bounds, or if no entry is large enough for a pivot.
func (p *LP) longest(by, slack float64, m *meter.Meter) (enter, passed int) {
	enter = -1
	for from := 0; from < len(p.rat); {
		rest := p.rat[from:]
		limit := math.Inf(1)
		for k := range rest {
			limit = min(limit, (rest[k].d+dualTol)/rest[k].a)
		}
		size, top := 0, 0
		for k := range rest {
			if rest[k].d > float64(limit*rest[k].a) {
				continue
			}
			rest[k], rest[size] = rest[size], rest[k]
			by -= float64(rest[size].a * rest[size].span)
			if rest[size].a > rest[top].a {
				top = size
			}
			size++
		}
		if size == 0 {
			break // the entries are not numbers
		}
		if rest[top].a >= pivotTol {
			enter, passed = from+top, from
		}
		if !(by > slack) {
			return enter, passed
		}
		from += size
		m.Spend(int64(2 * len(rest)))
	}
	return -1, 0
}

// turn makes a pivot: the variable at position leave goes to the bound that it violates, enter takes
// its place, and the variables in flips go to their other bounds. It reports false, and changes
// nothing, if numerical errors prevent the pivot.
func (p *LP) turn(leave int, low bool, enter int32, flips []ratio, m *meter.Meter) bool {
	alpha := p.alpha[:len(p.head)]
	clear(p.byRow)
	var w where
	var d, entry float64
	if enter >= 0 {
		for t, r := range p.idx[enter] {
			p.byRow[r] = p.val[enter][t]
		}
		w, d, entry = p.cstat[enter], p.d[enter], p.row[enter]
	} else {
		p.byRow[^enter] = -1
		w, d, entry = p.rstat[^enter], p.y[^enter], -p.rho[^enter]
	}
	p.lu.ftran(p.byRow, alpha)
	pivot := alpha[leave]
	if math.Abs(pivot) < pivotTol || math.Abs(pivot-entry) > float64(1e-6*math.Abs(pivot)) {
		return false
	}
	if len(flips) > 0 {
		p.flip(flips)
		m.Spend(p.lu.ops())
	}
	out := p.head[leave]
	lo, hi := p.bounds(out)
	to, rests := lo, atLower
	if !low {
		to, rests = hi, atUpper
	}
	step := (p.x[leave] - to) / pivot
	lo, hi = p.bounds(enter)
	value := p.resting(lo, hi, w) + step
	weight := p.steep[leave]
	for i, a := range alpha {
		if a == 0 || i == leave {
			continue
		}
		p.x[i] -= float64(step * a)
		q := a / pivot
		p.steep[i] = max(p.steep[i], float64(float64(q*q)*weight))
	}
	p.steep[leave] = max(weight/float64(pivot*pivot), 1)
	p.x[leave] = value

	p.shiftDuals(d/pivot, out, enter)
	p.lu.exchange(leave, alpha)
	p.setStat(out, rests)
	p.head[leave] = enter
	p.setStat(enter, where(leave))
	p.pivots++
	return true
}

// flip moves columns and rows from one bound to the other.
func (p *LP) flip(flips []ratio) {
	clear(p.byRow)
	for _, f := range flips {
		lo, hi := p.bounds(f.v)
		if f.v >= 0 {
			move, to := hi-lo, atUpper
			if p.cstat[f.v] == atUpper {
				move, to = -move, atLower
			}
			p.cstat[f.v] = to
			for t, r := range p.idx[f.v] {
				p.byRow[r] -= float64(move * p.val[f.v][t])
			}
			continue
		}
		move, to := hi-lo, atUpper
		if p.rstat[^f.v] == atUpper {
			move, to = -move, atLower
		}
		p.rstat[^f.v] = to
		p.byRow[^f.v] += move
	}
	p.shift = resized(p.shift, len(p.head))
	p.lu.ftran(p.byRow, p.shift)
	for i, v := range p.shift {
		p.x[i] += v
	}
}

// shiftDuals updates the duals and the reduced costs, so that the entering variable's becomes zero.
func (p *LP) shiftDuals(g float64, out, enter int32) {
	for r, v := range p.rho {
		if v != 0 {
			p.y[r] += float64(g * v)
		}
	}
	if g != 0 {
		for j, a := range p.row {
			if a != 0 {
				p.d[j] -= float64(g * a)
			}
		}
	}
	if out >= 0 {
		p.d[out] = -g
	}
	if enter >= 0 {
		p.d[enter] = 0
	}
}
