package branchprice

import (
	"math"
	"slices"

	"example.com/longpoint/internal/lp"
	"example.com/longpoint/internal/wide"
)

// duals is one set of values of the relaxation's rows with what follows from them: the bound of any box within the
// one that they were worked out in.
type duals struct {
	scale  int64
	value  []int64
	weight [criteria]int64
	best   []int64 // per bin: no filling gains more
	way    []int64 // per run: no way costs less
}

// duals returns what the last solve's bound rests on.
func (m *master) duals() duals {
	return duals{m.scale, slices.Clone(m.value), m.weight, slices.Clone(m.best), slices.Clone(m.way)}
}

// numeratorOf returns the scale of duals times what it shows for a box, offset included.
func (m *master) numeratorOf(s *duals, b box) wide.Int {
	v, w, gain, least, in := m.v, m.w, m.gain, m.least, m.box
	m.v, m.w, m.gain, m.least, m.box = s.value, s.weight, s.best, s.way, b
	n := m.numerator(s.scale)
	m.v, m.w, m.gain, m.least, m.box = v, w, gain, least, in
	n.AddMul(s.scale, offset)
	return n
}

// boundOf returns what duals show for a box within theirs.
func (m *master) boundOf(s *duals, b box) int64 {
	n := m.numeratorOf(s, b)
	return n.CeilDiv(s.scale) - offset
}

// gauge says what a column must gain by some duals to be part of a plan that costs less
// than some cutoff.
type gauge struct {
	*duals
	need []int64 // per bin
	most []int64 // per run: what a way costs at most
}

// gaugeOf returns the gauge that duals give in a box, or that they rule out such plans by
// themselves.
func (m *master) gaugeOf(s *duals, b box, cutoff int64) (g gauge, closed bool) {
	left := m.numeratorOf(s, b)
	left.AddMul(s.scale, -(cutoff - 1 + offset))
	r, ok := left.Int64()
	if !ok || r < -(1<<60) {
		r = -(1 << 60) // no plan is known: every column may be in one
	}
	room := -r
	if room < 0 {
		return g, true
	}
	g = gauge{s, make([]int64, len(m.p.Bins)), make([]int64, len(m.p.Runs))}
	for i := range m.p.Bins {
		c := m.classOf[i]
		g.need[i] = max(0, s.best[i]) - room
		if b.lo[c] == 0 && b.hi[c] > 0 {
			g.need[i] += m.opening(s, c, b.hi[c])
		}
	}
	for i := range m.p.Runs {
		g.most[i] = s.way[i] + room
	}
	return g, false
}

// gain returns what a column gains by the duals: less than nothing for a way, which
// costs.
func (s *duals) gain(p *Problem, c *column) int64 {
	v := int64(0)
	for k, w := range s.weight {
		v -= w * c.cost[k]
	}
	if c.fill == nil {
		for _, u := range p.Runs[c.run].uses(c.path) {
			v -= u.N * s.value[u.Item]
		}
		return v
	}
	for _, u := range c.fill.Uses {
		v += u.N * s.value[u.Item]
	}
	return v
}

// takes reports whether a column gains enough.
func (g *gauge) takes(p *Problem, c *column) bool {
	v := g.gain(p, c)
	if c.fill == nil {
		return -v <= g.most[c.run]
	}
	return v >= g.need[c.fill.Bin]
}

// leanWork bounds what each further set of best values may take.
const leanWork = 20_000_000

// leaned returns duals of the present box at several of the relaxation's best values, as far
// apart as demands that lean a little take them: a plan must be content with all of them, so
// that lists of columns are short.
func (r *run) leaned() (found []duals) {
	m := r.m
	here, bound, num := m.duals(), m.bound, m.num
	var basis lp.Basis
	m.lp.Save(&basis)
	m.fully = true
	for k := range 4 {
		m.lean(r.leaning(k))
		if m.solve(noCost, r.mt.Sub(leanWork)) == converged && m.scale > 0 {
			found = append(found, m.duals())
		}
	}
	m.fully = false
	m.lean(nil)
	m.lp.Restore(&basis)
	m.lp.Solve(r.mt)
	m.bound, m.num, m.scale, m.weight = bound, num, here.scale, here.weight
	copy(m.value, here.value)
	copy(m.best, here.best)
	copy(m.way, here.way)
	return found
}

// leaning returns the way to lean for the k-th values, nil for none.
func (r *run) leaning(k int) []float64 {
	if k == 0 {
		return nil
	}
	by := make([]float64, len(r.p.Items))
	for i := range by {
		switch k {
		case 1:
			by[i] = 1e-3
			if i < len(by)/2 {
				by[i] = -1e-3
			}
		case 2:
			by[i] = 1e-5 * float64(r.random(1000))
		default:
			by[i] = 3e-5 * float64(r.random(2000)-1000)
		}
	}
	return by
}

// lean adds so much to the demand of each item in the relaxation alone, nil for nothing. Bounds
// still hold: they reckon with the demand itself.
func (m *master) lean(by []float64) {
	for i := range m.p.Items {
		d := float64(m.p.Items[i].Demand) - lp.Slack(i)
		if by != nil {
			d += by[i]
		}
		m.lp.SetRow(i, d, math.Inf(1))
	}
}
