package master

import (
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
)

// Value returns the objective of the relaxation in cost units, including the least counts of the box. It is a
// floating-point number, and only a guide.
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

// Solve generates columns until none is missing, or until the bound reaches the cutoff.
func (m *Master) Solve(cutoff int64, mt *meter.Meter) Status {
	if !m.residual.on {
		m.Bound, m.Num = m.floor, wide.Int{}
		m.Duals.Scale, m.Duals.Weight = 0, [rules.Criteria]int64{}
		clear(m.Duals.Item)
		clear(m.Duals.Best)
	}
	g := generation{Master: m, cutoff: cutoff, center: math.Inf(-1)}
	if m.LP.Warm && m.Plain == nil && !m.residual.on && cutoff < rules.NoCost {
		g.limit()
		defer func() { m.LP.Limit = 0 }()
	}
	for {
		mt.Pause()
		st := m.LP.Solve(mt)
		if st == lp.Stopped {
			return Stopped
		}
		if g.farkas = st == lp.Infeasible; !g.farkas && m.residual.on && m.Value() <= float64(m.residual.Enough)+m.slack() {
			return Converged
		}
		if end := g.improve(st, mt); end != 0 {
			return end
		}
	}
}

// limit lets the LP stop at duals whose bound reaches the cutoff if no column is missing.
func (g *generation) limit() {
	m := g.Master
	above := m.Value() - float64(m.LP.Objective()*m.costUnit) // costs outside the LP
	m.LP.Limit = (float64(g.cutoff) - above) / m.costUnit
	m.LP.Save(&g.start)
}

// improve prices until it finds columns. It returns how Solve ends, 0 if Solve continues.
func (g *generation) improve(st lp.Status, mt *meter.Meter) Status {
	m := g.Master
	// Duals between those of the relaxation and the stability center vary less (P. Wentges, Weighted
	// Dantzig-Wolfe decomposition for linear mixed-integer programming, 1997). If pricing finds no column by
	// them, the relaxation's own duals decide.
	smooth := m.smooth
	if !g.hasBound || g.farkas {
		smooth = 0
	}
	for beyond := st == lp.Beyond; ; smooth = 0 {
		before := len(m.Columns)
		end := g.round(smooth, mt)
		switch {
		case end != 0 && !(beyond && end == Converged):
			return end
		case len(m.Columns) > before:
			if beyond {
				// The start basis remains nearly optimal with the new columns. The present basis is far from
				// it.
				m.LP.Restore(&g.start)
			}
			return 0
		case beyond && (smooth == 0 || end == Converged):
			m.LP.Limit = 0 // rounding keeps the bound below the cutoff
			return 0
		case smooth == 0 && g.farkas:
			return Stopped // infeasible numerically, but not proven
		case smooth == 0:
			return Converged
		}
	}
}

// slack returns the difference of costs that floating point does not resolve.
func (m *Master) slack() float64 { return float64(1e-9 * m.costUnit) }

// generation is the state of one Solve.
type generation struct {
	*Master
	cutoff   int64
	farkas   bool    // the relaxation is infeasible
	hasBound bool    // this Solve has a bound
	center   float64 // the bound at the stability center
	start    lp.Basis
}

// round prices at the present duals, keeps the bound if it is the best so far, and adds columns. It returns
// how Solve ends, 0 if Solve continues.
func (g *generation) round(smooth float64, mt *meter.Meter) Status {
	m := g.Master
	scale := m.setDuals(g.farkas, smooth)
	if !m.price(mt) {
		return Stopped
	}
	num := m.Numerator(&m.now, m.Box)
	switch {
	case g.farkas:
		if num.Sign() > 0 {
			m.keep(num)
			return Infeasible
		}
	case m.residual.on:
		if m.residualBound() >= g.cutoff {
			return Pruned
		}
	default:
		if v := num.Float() / float64(scale); m.smooth > 0 && v > g.center {
			g.center = v
			copy(m.stabilityCenter, m.floatDual)
		}
		b := max(ceil(num, scale), m.floor)
		if !g.hasBound || b > m.Bound || m.ToOptimality && b == m.Bound || b == m.Bound && scale == m.Duals.Scale && num.Cmp(m.Num) > 0 {
			g.hasBound = true
			m.keep(num)
			m.Bound = b
			if m.Bound >= g.cutoff {
				return Pruned
			}
		}
	}
	if g.hasBound && !g.farkas && !m.ToOptimality && float64(m.Bound) >= m.Value()-m.slack() {
		return Converged // the bound, rounded up, has reached the relaxation's value
	}
	m.generate(mt)
	return 0
}

func (m *Master) keep(num wide.Int) {
	m.Num = num
	m.Duals.Scale, m.Duals.Weight = m.now.Scale, m.now.Weight
	copy(m.Duals.Item, m.now.Item)
	copy(m.Duals.Best, m.now.Best)
}

// price computes the greatest gain of a column at the present duals, by the oracles. It reports false if that
// takes too much work.
func (m *Master) price(mt *meter.Meter) bool {
	for _, o := range m.oracles {
		if !o.Build(&m.prices, m.now.Best, m.offer, mt) {
			return false
		}
	}
	return true
}

// A reduced cost within the tolerance counts as zero. The first is a billionth of the most expensive stick at
// the finest scale without rules, the second is for Farkas rays.
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
