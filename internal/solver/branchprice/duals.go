package branchprice

import (
	"math"
	"slices"

	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
)

// duals is one dual solution of the relaxation with what follows from them: the bound of any box within the
// one that they were worked out in.
type duals struct {
	scale    int64
	value    []int64
	weight   [rules.Criteria]int64
	best     []int64 // per bin: no pattern gains more
	assembly []int64 // per run: no assembly costs less

	found int // columns, when an enumeration by them gave up
}

// duals returns what the last solve's bound rests on.
func (m *master) duals() duals {
	return duals{scale: m.scale, value: slices.Clone(m.bestDual), weight: m.bestCriterionDual,
		best: slices.Clone(m.bestPatternValue), assembly: slices.Clone(m.bestAssemblyCost)}
}

// numeratorOf returns the scale of duals times what it shows for a box, offset included.
func (m *master) numeratorOf(s *duals, b box) wide.Int {
	v, w, gain, least, in := m.dual, m.criterionDual, m.patternValue, m.assemblyCost, m.box
	m.dual, m.criterionDual, m.patternValue, m.assemblyCost, m.box = s.value, s.weight, s.best, s.assembly, b
	n := m.numerator(s.scale)
	m.dual, m.criterionDual, m.patternValue, m.assemblyCost, m.box = v, w, gain, least, in
	n.AddMul(s.scale, offset)
	return n
}

// boundOf returns what duals show for a box within theirs.
func (m *master) boundOf(s *duals, b box) int64 {
	n := m.numeratorOf(s, b)
	return n.CeilDiv(s.scale) - offset
}

// reducedCostFilter says what a column must gain by some duals to be part of a plan that costs less
// than some cutoff.
type reducedCostFilter struct {
	*duals
	need []int64 // per bin
	most []int64 // per run: what an assembly costs at most
}

// filterOf returns the filter that duals give in a box, or that they rule out such plans by
// themselves.
func (m *master) filterOf(s *duals, b box, cutoff int64) (g reducedCostFilter, closed bool) {
	left := m.numeratorOf(s, b)
	left.AddMul(s.scale, -(cutoff - 1 + offset))
	r, ok := left.Int64()
	if !ok || r < -(1<<60) {
		r = -(1 << 60) // no plan is known: every column may be in one
	}
	gap := -r
	if gap < 0 {
		return g, true
	}
	g = reducedCostFilter{s, make([]int64, len(m.p.Bins)), make([]int64, len(m.p.Runs))}
	for i := range m.p.Bins {
		c := m.classOf[i]
		g.need[i] = max(0, s.best[i]) - gap
		if b.lo[c] == 0 && b.hi[c] > 0 {
			g.need[i] += m.openingCost(s, c, b.hi[c])
		}
	}
	for i := range m.p.Runs {
		g.most[i] = s.assembly[i] + gap
	}
	return g, false
}

// reducedGain returns what a column gains by the duals: less than nothing for an assembly, which
// costs.
func (s *duals) reducedGain(p *rules.Problem, c *rules.Column) int64 {
	v := int64(0)
	for k, w := range s.weight {
		v -= w * c.Cost[k]
	}
	if c.Fill == nil {
		for _, u := range p.Runs[c.Run].Uses(c.Path) {
			v -= u.N * s.value[u.Item]
		}
		return v
	}
	for _, u := range c.Fill.Uses {
		v += u.N * s.value[u.Item]
	}
	return v
}

// accepts reports whether a column gains enough.
func (g *reducedCostFilter) accepts(p *rules.Problem, c *rules.Column) bool {
	v := g.reducedGain(p, c)
	if c.Fill == nil {
		return -v <= g.most[c.Run]
	}
	return v >= g.need[c.Fill.Bin]
}

// alternativesHere returns duals of the present box at several of the relaxation's optima, as far
// apart as demands that are perturbed a little take them: a plan must be content with all of them, so
// that lists of columns are short.
func (r *solver) alternativesHere() (found []duals) {
	m := r.m
	here, bound, num := m.duals(), m.bound, m.num
	var basis lp.Basis
	m.lp.Save(&basis)
	m.toOptimality = true
	for k := range 4 {
		m.perturb(r.rng.Demands(k, len(r.p.Items)))
		if m.solve(rules.NoCost, r.mt.Sub(perturbedWork)) == converged && m.scale > 0 {
			found = append(found, m.duals())
		}
	}
	m.toOptimality = false
	m.perturb(nil)
	m.lp.Restore(&basis)
	m.lp.Solve(r.mt)
	m.bound, m.num, m.scale, m.bestCriterionDual = bound, num, here.scale, here.weight
	copy(m.bestDual, here.value)
	copy(m.bestPatternValue, here.best)
	copy(m.bestAssemblyCost, here.assembly)
	return found
}

// perturb adds so much to the demand of each item in the relaxation alone, nil for nothing. Bounds
// still hold: they reckon with the demand itself.
func (m *master) perturb(by []float64) {
	for i := range m.p.Items {
		d := float64(m.p.Items[i].Demand) - lp.Slack(i)
		if by != nil {
			d += by[i]
		}
		m.lp.SetRow(i, d, math.Inf(1))
	}
}
