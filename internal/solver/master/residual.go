package master

import (
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/rules"
)

// Fixed describes the residual problem of fixed columns.
type Fixed struct {
	Most    []int64               // per item: greatest count in a further pattern
	Need    []int64               // per item: count left to cut
	Used    []int64               // per bin: fixed patterns
	Hi      []int64               // per class: greatest count of sticks, including those used; nil: that of the box
	Cost    [rules.Criteria]int64 // of the fixed columns, without purchases
	Settled []bool                // per run: it has an assembly
	Enough  int64                 // a relaxation that costs no more need not be solved to the end
}

// residual is the state of a master with fixed columns.
type residual struct {
	Fixed
	on    bool
	box   bound.Box
	whole bound.Box // the box before, if purchases are not folded
}

// SetFixed sets the fixed columns, nil for none. The caller sets their bounds in LP. Bounds then
// say nothing about the whole problem, and Solve does not keep them.
func (m *Master) SetFixed(f *Fixed) {
	r := &m.residual
	if f == nil {
		r.on = false
		copy(m.prices.Limit, m.limit)
		if r.whole.Lo != nil {
			m.SetBox(r.whole)
			r.whole = bound.Box{}
		}
		return
	}
	r.on, r.Fixed = true, *f
	copy(m.prices.Limit, f.Most)
	sticks := m.P.Counts(f.Used)
	r.box = bound.Box{Lo: sticks, Hi: f.Hi, On: m.Box.On}
	if f.Hi == nil {
		r.box.Hi = m.Box.Hi
	}
	if m.Plain != nil {
		return
	}
	if r.whole.Lo == nil {
		r.whole = m.Box
	}
	// Sticks already used count at their exact cost, not at that of the envelope.
	b := r.whole.Clone()
	for c, n := range sticks {
		b.Lo[c] = max(b.Lo[c], n)
		if g := m.supplierOf[c]; g >= 0 && n > 0 {
			b.On[g] = bound.Yes
		}
	}
	r.box.On = b.On
	m.SetBox(b)
}

// residualBound returns a bound on the cost of the fixed columns with the best plan for the rest.
func (m *Master) residualBound() int64 {
	r, d := &m.residual, &m.now
	n := m.numerator(d, r.Need, r.box)
	for b, k := range r.Used {
		n.AddMul(max(0, d.Best[b]), k) // fixed patterns gain nothing more
	}
	for q, settled := range r.Settled {
		if settled {
			n.AddMul(d.Best[len(m.P.Bins)+q], 1)
		}
	}
	for k, w := range d.Weight {
		n.AddMul(w, r.Cost[k])
	}
	return ceil(n, d.Scale)
}
