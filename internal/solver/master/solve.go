package master

import (
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
)

// Value returns the objective of the relaxation in cost units, what the box asks for at least
// included; a float and a guide only.
func (m *Master) Value() float64 {
	v := float64(m.LP.Objective() * m.costUnit)
	for c := range m.P.Classes {
		if m.folded[c] {
			continue
		}
		switch k := m.Objective.Main; k {
		case rules.Price:
			v += float64(m.stock.base[c])
		case rules.Sticks, rules.Salvage:
			v += float64(m.each[c][k] * m.Box.Lo[c])
		}
	}
	return v
}

// Solve generates columns until none is missing, or until no plan in the box
// can cost less than cutoff.
func (m *Master) Solve(cutoff int64, mt *meter.Meter) Status {
	if !m.residual.on {
		m.Bound, m.Num = m.floor, wide.Int{}
		m.Duals.Scale, m.Duals.Weight = 0, [rules.Criteria]int64{}
		clear(m.Duals.Item)
		clear(m.Duals.Best)
	}
	hasBound, center := false, math.Inf(-1)
	for {
		mt.Pause()
		st := m.LP.Solve(mt)
		if st == lp.Stopped {
			return Stopped
		}
		farkas := st == lp.Infeasible
		slack := float64(1e-9 * m.costUnit)
		if m.residual.on && !farkas && m.Value() <= float64(m.residual.enough)+slack {
			return Converged
		}
		// Duals between those of the relaxation and the best so far swing less
		// (P. Wentges, Weighted Dantzig-Wolfe decomposition for linear
		// mixed-integer programming, 1997). Where they find nothing, the
		// relaxation's own decide.
		smooth := m.smooth
		if !hasBound || farkas {
			smooth = 0
		}
		for {
			scale := m.setDuals(farkas, smooth)
			before := len(m.Columns)
			if !m.price(mt) {
				return Stopped
			}
			num := m.Numerator(&m.now, m.Box)
			if farkas {
				if num.Sign() > 0 {
					m.keep(num)
					return Infeasible
				}
			} else if m.residual.on {
				if m.residualBound() >= cutoff {
					return Pruned
				}
			} else {
				if v := num.Float() / float64(scale); m.smooth > 0 && v > center {
					center = v
					copy(m.stabilityCenter, m.floatDual)
				}
				b := max(ceil(num, scale), m.floor)
				if !hasBound || b > m.Bound || m.ToOptimality && b == m.Bound || b == m.Bound && scale == m.Duals.Scale && num.Cmp(m.Num) > 0 {
					hasBound = true
					m.keep(num)
					m.Bound = b
					if m.Bound >= cutoff {
						return Pruned
					}
				}
			}
			if hasBound && !farkas && !m.ToOptimality && float64(m.Bound) >= m.Value()-slack {
				return Converged // the bound, rounded up, has met the relaxation
			}
			if m.generate(mt); len(m.Columns) > before {
				break
			}
			if smooth > 0 {
				smooth = 0
				continue
			}
			if farkas {
				return Stopped // infeasible to the eye, not proven
			}
			return Converged
		}
	}
}

func (m *Master) keep(num wide.Int) {
	m.Num = num
	m.Duals.Scale, m.Duals.Weight = m.now.Scale, m.now.Weight
	copy(m.Duals.Item, m.now.Item)
	copy(m.Duals.Best, m.now.Best)
}

// residualBound is a bound for what is fixed with the best that what is left can cost.
func (m *Master) residualBound() int64 {
	r := &m.residual
	return r.spent + ceil(m.numerator(&m.now, r.demand, r.box), m.now.Scale)
}

// price asks the oracles what the columns gain at most at the present duals.
func (m *Master) price(mt *meter.Meter) bool {
	for _, o := range m.oracles {
		if !o.Build(&m.prices, m.now.Best, m.offer, mt) {
			return false
		}
	}
	return true
}

// Columns of a reduced cost within that much of zero are none: a billionth of the dearest stick at the finest scale
// without rules, and that of a Farkas ray.
const (
	tolerance       = 1 << 26
	farkasTolerance = 1 << 16
)

// generate adds columns of negative reduced cost.
func (m *Master) generate(mt *meter.Meter) {
	tol := int64(farkasTolerance)
	if m.now.Scale > 0 {
		tol = max(m.tolerance/(m.scale/m.now.Scale), 1)
	}
	before := len(m.Columns)
	for _, o := range m.oracles {
		o.Columns(tol, m.offer, mt)
	}
	mt.Tally().Columns += int64(len(m.Columns) - before)
}
