package master

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/rules"
)

// exchanges are dual inequalities of a problem with rules: columns that cut an item from the place of the
// next longer one, see SolveWithInequalities. Relaxations of boxes keep them, since most pivots only order
// the dual values of items by size: spliced runs have hundreds of parts that hardly any plan uses. They are
// closed while columns are rounded, since a solution with exchanges gives no plan.
type exchanges struct {
	order []int   // items, the longest first
	at    []int32 // the column in LP that cuts order[k+1] from the place of order[k]
	open  bool
}

// KeepExchanges adds exchanges to a master of a problem with rules. If a rule forbids an exchange in some pattern, the
// relaxation becomes weaker, but its bound still holds.
func (m *Master) KeepExchanges() {
	items, x := m.P.Items, &m.exchanges
	for i := range items {
		if len(items[i].Orientations) == 1 && !items[i].Alone && items[i].Offcut == 0 {
			x.order = append(x.order, i)
		}
	}
	slices.SortStableFunc(x.order, func(a, b int) int {
		return cmp.Compare(items[b].Orientations[0].Size, items[a].Orientations[0].Size)
	})
	x.open = true
	for k := 1; k < len(x.order); k++ {
		a, b, from := int32(x.order[k-1]), int32(x.order[k]), -1.0
		if a > b {
			a, b, from = b, a, 1
		}
		x.at = append(x.at, int32(m.LP.AddColumn(0, []int32{a, b}, []float64{from, -from})))
	}
}

// BasicExchanges returns the indices of the exchanges in the basis. They are the same in masters of the same items.
func (m *Master) BasicExchanges() (in []int) {
	for k, j := range m.exchanges.at {
		if m.LP.Basic(int(j)) {
			in = append(in, k)
		}
	}
	return in
}

// WithoutExchanges closes the exchanges and solves the LP, with the patterns that the exchanges of the present solution
// result in as further columns. The returned function opens them again and restores the basis.
func (m *Master) WithoutExchanges(mt *meter.Meter) (open func()) {
	x := &m.exchanges
	if !x.open {
		return func() {}
	}
	var basis lp.Basis
	m.LP.Save(&basis)
	m.addExchanged()
	x.set(&m.LP, false)
	m.LP.Warm = true
	m.LP.Solve(mt)
	m.LP.Warm = false
	return func() {
		x.set(&m.LP, true)
		m.LP.Restore(&basis)
		m.LP.Place(mt)
	}
}

// set opens or closes the exchanges.
func (x *exchanges) set(p *lp.LP, open bool) {
	x.open = open
	hi := 0.0
	if open {
		hi = math.Inf(1)
	}
	for _, j := range x.at {
		p.SetColumn(int(j), 0, hi)
	}
}

// addExchanged adds the patterns that the solution of the LP results in if each item is cut from the place that exchanges
// give it.
func (m *Master) addExchanged() {
	x := &m.exchanges
	type share struct {
		fill *rules.Pattern
		x    float64
	}
	var all []share
	holds := make([][]int, len(m.P.Items)) // of each item: the shares that hold it
	put := func(s share) {
		for _, u := range s.fill.Uses {
			holds[u.Item] = append(holds[u.Item], len(all))
		}
		all = append(all, s)
	}
	for j := range m.Columns {
		if v := m.LP.Value(m.Col(j)); v > leastShare && m.Columns[j].Fill != nil {
			put(share{m.Columns[j].Fill, v})
		}
	}
	known := len(all)
	for k, j := range x.at {
		flow := m.LP.Value(int(j))
		for h := 0; h < len(holds[x.order[k]]) && flow > leastShare; h++ {
			s := &all[holds[x.order[k]][h]]
			v := min(s.x, flow)
			if v <= leastShare {
				continue
			}
			s.x -= v
			flow -= v
			fill := exchanged(s.fill, x.order[k], x.order[k+1])
			put(share{&fill, v})
		}
	}
	for _, s := range all[known:] {
		if s.x <= leastShare {
			continue
		}
		if size, ok := m.P.Fill(s.fill); ok && m.P.Proper(s.fill) {
			m.AddColumn(rules.Column{Fill: s.fill, Cost: m.P.Costs(s.fill, &size)})
		}
	}
}

// exchanged returns a pattern with one of an item less and one of another more.
func exchanged(f *rules.Pattern, item, by int) rules.Pattern {
	out := rules.Pattern{Bin: f.Bin}
	for _, u := range f.Uses {
		if u.Item == item {
			u.N--
		}
		if u.N > 0 {
			out.Uses = append(out.Uses, u)
		}
	}
	return out.With(by, 0, 1)
}
