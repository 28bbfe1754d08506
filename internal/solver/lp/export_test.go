package lp

import "example.com/longpoint/internal/meter"

// Dually runs the dual simplex method alone, however many values are out of bounds. It reports whether
// all are within bounds at the end.
func (p *LP) Dually(m *meter.Meter) bool {
	if !p.factored && !p.refactor(m) {
		return false
	}
	p.place()
	done, ok := p.dual(m)
	return done && ok
}

// Few reports whether Solve would begin with it.
func (p *LP) Few() bool {
	if !p.factored && !p.refactor(new(meter.Meter)) {
		return false
	}
	p.place()
	return p.few()
}

// Inside reports whether all basic values are within their bounds.
func (p *LP) Inside() bool {
	for i, v := range p.head {
		lo, hi := p.bounds(v)
		if tol := within(p.x[i]); p.x[i] < lo-tol || p.x[i] > hi+tol {
			return false
		}
	}
	return true
}

// SetCost changes the cost of a column.
func (p *LP) SetCost(j int, c float64) { p.cost[j] = c }

// Bounds returns the bounds of a column.
func (p *LP) Bounds(j int) (lo, hi float64) { return p.lo[j], p.hi[j] }
