package master

import (
	"math"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
)

// offset keeps numerators above zero: wide.Int.CeilDiv does not accept numbers below.
const offset = 1 << 40

// NoBound is less than every bound.
const NoBound = -offset

// BoundOf returns the bound that duals prove for a box within theirs.
func (f *Families) BoundOf(d *Duals, b bound.Box) int64 {
	return ceil(f.Numerator(d, b), d.Scale)
}

// ceil rounds a bound up to whole units of the cost.
func ceil(num wide.Int, scale int64) int64 {
	num.AddMul(scale, offset)
	return num.CeilDiv(scale) - offset
}

// Numerator returns the bound that duals prove for a box within theirs, times their scale; if it is
// positive for a Farkas ray, the box contains no plan.
func (f *Families) Numerator(d *Duals, b bound.Box) wide.Int { return f.numerator(d, f.demand, b) }

func (f *Families) numerator(d *Duals, demand []int64, b bound.Box) wide.Int {
	var n wide.Int
	p := f.P
	for i, k := range demand {
		n.AddMul(d.Item[i], k)
	}
	for _, v := range d.Best[len(p.Bins):] {
		if v <= -rules.NoCost {
			n.AddMul(rules.NoCost, 2) // no way at all
		} else {
			n.AddMul(v, -1)
		}
	}
	for k := range rules.Criteria {
		if f.Objective.Capped[k] && (k != f.Objective.Main || d.Scale == 0) {
			n.AddMul(-d.Weight[k], f.Objective.Limit[k])
		}
	}
	var sold []wide.Int
	if len(p.Suppliers) > 0 {
		sold = make([]wide.Int, len(p.Suppliers))
	}
	for c := range p.Classes {
		lo, hi := f.Range(b, c)
		v, ok := f.least(d, c, lo, hi)
		if !ok {
			n.AddMul(rules.NoCost, 2)
		}
		if g := f.supplierOf[c]; g >= 0 {
			sold[g] = sum(sold[g], v)
		} else {
			n = sum(n, v)
		}
	}
	for g := range sold {
		v := sold[g]
		v.AddMul(d.Weight[rules.Price], p.Suppliers[g].Charge)
		switch b.On[g] {
		case bound.Yes:
			n = sum(n, v)
		case bound.Open:
			// Not used, or used.
			must := false
			for _, c := range p.Suppliers[g].Classes {
				must = must || b.Lo[c] > 0
			}
			if must || v.Sign() < 0 {
				n = sum(n, v)
			}
		}
	}
	return n
}

func sum(a, b wide.Int) wide.Int { return a.Sub(wide.Int{}.Sub(b)) }

// least returns the least contribution of lo to hi sticks of a class to a bound: their cost minus
// the gain of their bins. It reports false if there is none.
func (f *Families) least(d *Duals, c int, lo, hi int64) (v wide.Int, ok bool) {
	cl := &f.P.Classes[c]
	each := d.Weight[rules.Sticks]*cl.Count + d.Weight[rules.Salvage]*cl.Idle
	for _, b := range cl.Bins {
		if hi > 0 {
			each -= max(0, d.Best[b])
		}
	}
	if f.folded[c] {
		each += d.Weight[rules.Price] * f.each[c][rules.Price]
		if each >= 0 {
			hi = lo
		}
		v.AddMul(each, hi)
		return v, true
	}
	if each <= 0 {
		v, where := cl.Least(lo, hi, d.Weight[rules.Price], each)
		return v, where >= 0
	}
	// A cost that never falls, and a price on top: as few as may be.
	_, cost := cl.Extra(lo)
	if cost == rules.NoCost {
		return v, false
	}
	v.AddMul(d.Weight[rules.Price], cost)
	v.AddMul(each, lo)
	return v, true
}

// setDuals mixes the duals of the relaxation with the stability center, rounds them down to
// integers and returns their scale, 0 for a Farkas ray.
func (m *Master) setDuals(farkas bool, smooth float64) int64 {
	unit, top := m.costUnit, m.scale
	if farkas {
		unit, top = 1/max(m.LP.LargestDual(), 1e-300), 1<<40
	}
	for r := range m.floatDual {
		m.floatDual[r] = m.LP.Dual(r) * unit
		if smooth > 0 {
			m.floatDual[r] = float64((1-smooth)*m.floatDual[r]) + float64(smooth*m.stabilityCenter[r])
		}
	}
	return m.roundDuals(farkas, top)
}

// roundDuals turns m.floatDual into integers and returns their scale, 0 for a Farkas ray.
func (m *Master) roundDuals(farkas bool, top int64) int64 {
	scale, factor := bound.Factor(m.mostWorth(farkas), top, m.most)
	d := &m.prices
	for i := range d.Item {
		d.Item[i] = int64(max(m.floatDual[i], 0) * factor)
	}
	d.Weight = [rules.Criteria]int64{}
	for k := range rules.Criteria {
		if m.Objective.Capped[k] {
			d.Weight[k] = int64(max(0, -m.floatDual[m.place.capped[k]]) * factor)
		}
	}
	if farkas {
		scale = 0
	} else {
		d.Weight[m.Objective.Main] = scale
	}
	for b := range m.P.Bins {
		d.Need[b] = m.need(b, factor)
	}
	for r := range m.P.Runs {
		d.Need[len(m.P.Bins)+r] = -int64(m.floatDual[m.place.run+r] * factor)
	}
	m.now.Scale, m.now.Weight = scale, d.Weight
	return scale
}

// need returns the gain from which a pattern of a bin is of use to the relaxation.
func (m *Master) need(b int, factor float64) int64 {
	c := m.classOf[b]
	if m.Box.Hi[c] == 0 {
		return pricing.Closed
	}
	v := m.floatDual[m.place.bin+b] * factor
	if !m.folded[c] {
		return int64(max(0, -v))
	}
	need := -int64(min(max(v, -(1<<60)), 1<<60))
	for k, w := range m.prices.Weight {
		need += w * m.each[c][k]
	}
	return need
}

// mostWorth returns an upper bound on the dual value of a column at the current duals.
func (m *Master) mostWorth(farkas bool) float64 {
	p := m.P
	var weight [rules.Criteria]float64
	for k := range rules.Criteria {
		if m.Objective.Capped[k] {
			weight[k] = max(0, -m.floatDual[m.place.capped[k]])
		}
		if k == m.Objective.Main && !farkas {
			weight[k] = 1
		}
	}
	worth := 0.0
	for _, o := range m.oracles {
		worth = max(worth, o.Worth(m.floatDual, m.prices.Limit, &weight))
	}
	if m.Plain != nil {
		return worth // patterns cost nothing by themselves
	}
	most := [rules.Criteria]float64{rules.Price: 1, rules.Sticks: 1, rules.Salvage: 1, rules.Cuts: 1, rules.Splices: 1}
	for b := range p.Bins {
		k := &p.Kinds[p.Bins[b].Kind]
		for c := range rules.Criteria {
			most[c] = max(most[c], math.Abs(float64(p.Bins[b].Own[c])))
		}
		if n := len(k.Salvage); n > 0 {
			most[rules.Salvage] += float64(k.Salvage[n-1].Value)
		}
		most[rules.Cuts] = max(most[rules.Cuts], float64(1<<17))
	}
	for c := range p.Classes {
		most[rules.Salvage] = max(most[rules.Salvage], math.Abs(float64(p.Classes[c].Idle)))
		if m.Objective.Capped[rules.Price] {
			most[rules.Price] = max(most[rules.Price], float64(m.each[c][rules.Price]))
		}
	}
	for c := range rules.Criteria {
		worth += float64(weight[c] * most[c])
	}
	for b := range p.Bins {
		worth = max(worth, math.Abs(m.floatDual[m.place.bin+b]))
	}
	return worth
}

// ScaledDuals returns the duals of the last relaxation, which must have an optimum, as integers,
// and their scale.
func (m *Master) ScaledDuals() (value []int64, scale int64) {
	scale = m.setDuals(false, 0)
	return append([]int64(nil), m.prices.Item...), scale
}

// Material sets the bound that follows from sizes alone, and the duals that prove it: a unit of
// size is worth its cost on the sticks in which the total ends if the cheapest sticks for their
// size are used first.
func (m *Master) Material() {
	if m.Objective.Main != rules.Price {
		return
	}
	p, d := m.Plain, &m.Duals
	if p == nil {
		p = m.bySize()
	}
	var per int64
	per, d.Scale, m.Bound, _ = bound.Material(p)
	d.Weight = [rules.Criteria]int64{rules.Price: d.Scale}
	for i, it := range p.Items {
		d.Item[i] = per * it.Size
	}
	for b := range m.P.Bins {
		d.Best[b] = per * m.P.Bins[b].Cap
	}
	if m.Plain != nil {
		return
	}
	prices := pricing.Prices{Item: d.Item, Weight: d.Weight}
	for _, o := range m.oracles {
		if x, ok := o.(*pricing.Paths); ok {
			x.Build(&prices, d.Best, nil, nil)
		}
	}
	m.Num = m.Numerator(d, m.Root)
	m.Bound = ceil(m.Num, d.Scale)
}

// bySize returns the problem in which only sizes count: items, and whole sticks at their lowest
// price.
func (m *Master) bySize() *model.Problem {
	p, size := m.P, m.leastSizes()
	q := &model.Problem{Items: make([]model.Item, len(p.Items)), Bins: make([]model.Bin, len(p.Classes))}
	for i := range p.Items {
		q.Items[i] = model.Item{Size: size[i], Demand: p.Items[i].Demand}
	}
	for c := range p.Classes {
		bin := model.Bin{Cost: rules.NoCost, Limit: m.Root.Hi[c]}
		for _, b := range p.Classes[c].Bins {
			bin.Cap += p.Bins[b].Cap
		}
		for _, t := range p.Classes[c].Tiers {
			bin.Cost = min(bin.Cost, t.Price)
		}
		q.Bins[c] = bin
	}
	return q
}

// leastSizes returns the least capacity that each item takes of a bin, 0 if it takes a whole stick.
func (m *Master) leastSizes() []int64 {
	size := make([]int64, len(m.P.Items))
	for _, o := range m.oracles[:1] {
		for i := range size {
			if x, ok := o.(*pricing.Knapsack); ok && !m.P.Items[i].Alone {
				size[i] = x.LeastSize(i)
			}
		}
	}
	return size
}
