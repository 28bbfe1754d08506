package master

import (
	"math"
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/rules"
)

// stock has the columns that pay for sticks, per class.
type stock struct {
	segments [][]purchase // purchases of the present box
	bought   [][]purchase // all purchases
	base     []int64      // cost of the least count of the box; 0 if folded
	charge   []int32      // supplier -> its column
}

// purchase is a column that buys sticks of a class for a price each.
type purchase struct {
	col   int32
	slope float64
}

// addCharges adds the columns of the charges of suppliers.
func (m *Master) addCharges() {
	p := m.P
	n := len(p.Classes)
	m.stock = stock{segments: make([][]purchase, n), bought: make([][]purchase, n), base: make([]int64, n)}
	for g := range p.Suppliers {
		m.idx, m.val = m.idx[:0], m.val[:0]
		for _, c := range slices.Sorted(slices.Values(p.Suppliers[g].Classes)) {
			if m.place.link[c] >= 0 {
				m.idx = append(m.idx, m.place.link[c])
				m.val = append(m.val, -float64(max(m.Root.Hi[c], 1)))
			}
		}
		m.stock.charge = append(m.stock.charge, m.enter(&[rules.Criteria]int64{rules.Price: p.Suppliers[g].Charge}))
	}
}

// SetBox restricts the counts of sticks of each class, and the suppliers.
func (m *Master) SetBox(b bound.Box) {
	m.Box = b
	fixed := [rules.Criteria]int64{}
	for g, j := range m.stock.charge {
		lo, hi := 0.0, 1.0
		switch b.On[g] {
		case bound.Yes:
			lo = 1
		case bound.No:
			hi = 0
		}
		m.LP.SetColumn(int(j), lo, hi)
	}
	for c := range m.P.Classes {
		if m.folded[c] {
			m.setBin(c)
			continue
		}
		m.setPurchases(c)
		fixed[rules.Price] += m.stock.base[c]
		lo, _ := m.Range(b, c)
		fixed[rules.Sticks] += m.each[c][rules.Sticks] * lo
		fixed[rules.Salvage] += m.each[c][rules.Salvage] * lo
	}
	for k := range rules.Criteria {
		if m.Objective.Capped[k] {
			m.LP.SetRow(int(m.place.capped[k]), math.Inf(-1), float64(m.Objective.Limit[k]-fixed[k])+1e-7)
		}
	}
}

// setBin bounds the number of patterns of a folded class, unless the demand bounds it anyway.
func (m *Master) setBin(c int) {
	cl := &m.P.Classes[c]
	from, to := math.Inf(-1), math.Inf(1)
	lo, hi := m.Range(m.Box, c)
	if lo > 0 {
		from = float64(lo)
	}
	if hi < cl.Limit-cl.Settled || cl.Most == 0 || hi < cl.Most {
		to = float64(hi)
	}
	m.LP.SetRow(m.place.bin+cl.Bins[0], from, to)
}

// setPurchases sets the purchases of a class.
func (m *Master) setPurchases(c int) {
	for _, s := range m.stock.segments[c] {
		m.LP.SetColumn(int(s.col), 0, 0)
	}
	m.stock.segments[c] = m.stock.segments[c][:0]
	cl := &m.P.Classes[c]
	lo, hi := m.Range(m.Box, c)
	_, m.stock.base[c] = cl.Extra(lo)
	for _, bin := range cl.Bins {
		m.LP.SetRow(m.place.bin+bin, math.Inf(-1), float64(lo))
	}
	if m.place.link[c] >= 0 {
		m.LP.SetRow(int(m.place.link[c]), math.Inf(-1), -float64(lo))
	}
	for _, s := range convexEnvelope(cl, lo, hi) {
		m.stock.segments[c] = append(m.stock.segments[c], m.purchase(c, s))
	}
}

// segment is a piece of the convex envelope of a class's cost.
type segment struct {
	length int64
	slope  float64
}

// convexEnvelope returns the pieces of the lower convex envelope of a class's cost from lo to hi.
func convexEnvelope(c *rules.StockClass, lo, hi int64) []segment {
	type point struct{ n, cost int64 }
	var pts []point
	for _, n := range c.Breakpoints(lo, hi) {
		_, v := c.Extra(n)
		if v == rules.NoCost {
			continue
		}
		p := point{n, v}
		for len(pts) >= 2 {
			a, b := pts[len(pts)-2], pts[len(pts)-1]
			if float64(b.cost-a.cost)*float64(p.n-b.n) >= float64(p.cost-b.cost)*float64(b.n-a.n) {
				pts = pts[:len(pts)-1]
				continue
			}
			break
		}
		pts = append(pts, p)
	}
	var segs []segment
	for i := 1; i < len(pts); i++ {
		d := pts[i].n - pts[i-1].n
		segs = append(segs, segment{d, float64(pts[i].cost-pts[i-1].cost) / float64(d)})
	}
	return segs
}

// purchase returns a column that buys sticks of a class at the slope of a segment. It reuses a
// column of another box with that slope that this box does not use yet, so that columns do not pile
// up and a basis of another box remains valid.
func (m *Master) purchase(c int, s segment) purchase {
	for _, old := range m.stock.bought[c] {
		if old.slope == s.slope && !slices.Contains(m.stock.segments[c], old) {
			m.LP.SetColumn(int(old.col), 0, float64(s.length))
			return old
		}
	}
	m.idx, m.val = m.idx[:0], m.val[:0]
	for _, bin := range m.P.Classes[c].Bins {
		m.idx = append(m.idx, int32(m.place.bin+bin))
		m.val = append(m.val, -1)
	}
	slices.Sort(m.idx)
	if m.place.link[c] >= 0 {
		m.idx = append(m.idx, m.place.link[c])
		m.val = append(m.val, 1)
	}
	// Its price may be a fraction.
	cost := [rules.Criteria]float64{rules.Price: s.slope}
	for _, k := range [...]int{rules.Sticks, rules.Salvage} {
		cost[k] = float64(m.each[c][k])
	}
	for k, v := range cost {
		if m.Objective.Capped[k] && v != 0 {
			m.idx, m.val = append(m.idx, m.place.capped[k]), append(m.val, v)
		}
	}
	j := m.LP.AddColumn(cost[m.Objective.Main]/m.costUnit, m.idx, m.val)
	m.LP.SetColumn(j, 0, float64(s.length))
	bought := purchase{int32(j), s.slope}
	m.stock.bought[c] = append(m.stock.bought[c], bought)
	return bought
}

// Sticks returns the number of sticks of each class in the relaxation.
func (m *Master) Sticks() []float64 {
	n := make([]float64, len(m.P.Classes))
	for c := range n {
		if m.folded[c] {
			continue
		}
		lo, _ := m.Range(m.Box, c)
		n[c] = float64(lo)
		for _, s := range m.stock.segments[c] {
			n[c] += m.LP.Value(int(s.col))
		}
	}
	for j := range m.Columns {
		if f := m.Columns[j].Fill; f != nil && m.folded[m.classOf[f.Bin]] {
			n[m.classOf[f.Bin]] += m.LP.Value(m.Col(j))
		}
	}
	return n
}

// Charged reports whether the relaxation uses a supplier.
func (m *Master) Charged(g int) bool { return m.LP.Value(int(m.stock.charge[g])) >= 1e-9 }

// Paid returns the cost of the sticks of a class in the relaxation; n is their number as Sticks
// returns it.
func (m *Master) Paid(c int, n float64) float64 {
	if m.folded[c] {
		return float64(m.each[c][rules.Price]) * n
	}
	v := float64(m.stock.base[c])
	for _, s := range m.stock.segments[c] {
		v += float64(m.LP.Value(int(s.col)) * s.slope)
	}
	return v
}
