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

// limit makes relaxations end at duals that show the cutoff if no column is missing.
func (g *generation) limit() {
	m := g.Master
	above := m.Value() - float64(m.LP.Objective()*m.costUnit) // what the LP does not count
	m.LP.Limit = (float64(g.cutoff) - above) / m.costUnit
	m.LP.Save(&g.start)
}

// improve prices until it finds columns. It returns how Solve ends, 0 if it goes on.
func (g *generation) improve(st lp.Status, mt *meter.Meter) Status {
	m := g.Master
	// Duals between those of the relaxation and the best so far swing less
	// (P. Wentges, Weighted Dantzig-Wolfe decomposition for linear
	// mixed-integer programming, 1997). If they find nothing, the
	// relaxation's own decide.
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
				// The basis at the start is nearly optimal with the new columns too, this one is far from it.
				m.LP.Restore(&g.start)
			}
			return 0
		case beyond && (smooth == 0 || end == Converged):
			m.LP.Limit = 0 // rounding keeps the bound below the cutoff
			return 0
		case smooth == 0 && g.farkas:
			return Stopped // infeasible to the eye, not proven
		case smooth == 0:
			return Converged
		}
	}
}

// slack is what in floating point is nothing.
func (m *Master) slack() float64 { return float64(1e-9 * m.costUnit) }

// generation is what a Solve knows beside the master.
type generation struct {
	*Master
	cutoff   int64
	farkas   bool    // the relaxation is infeasible
	hasBound bool    // this Solve has one
	center   float64 // the bound at the stability center
	start    lp.Basis
}

// round prices at the present duals, keeps the bound if it is the best and adds columns. It returns how Solve ends,
// 0 where it goes on.
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
		return Converged // the bound, rounded up, has met the relaxation
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
