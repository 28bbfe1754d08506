package master

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

// SolveWithInequalities solves the relaxation, before Solve, with additional columns that put an item in the
// place of the next longer one. In the dual they require that a longer item has no lower value, which some
// optimal dual solution satisfies anyway. With them, column generation finds far fewer useless columns: if
// there are hundreds of items with a demand of one, nearly none. The bound is valid for the problem. Solve
// continues from the columns and the basis.
//
// J. M. Valerio de Carvalho, Using extra dual cuts to accelerate column generation, INFORMS Journal
// on Computing 17 (2005) 175-182; T. Gschwind, S. Irnich, Dual inequalities for stabilized column
// generation revisited, the same 28 (2016) 175-194.
func (m *Master) SolveWithInequalities(cutoff int64, mt *meter.Meter) Status {
	w := New(m.Plain)
	w.SetBox(m.Box)
	w.KeepInequalities()
	for j := range m.Columns {
		w.AddColumn(m.Columns[j])
	}
	st := w.Solve(cutoff, mt)
	m.Bound, m.Duals, m.Num = w.Bound, w.Duals, w.Num
	var start []int32
	for j := range w.Columns {
		c, _ := m.AddColumn(w.Columns[j])
		if w.LP.Basic(w.Col(j)) {
			start = append(start, int32(m.Col(c)))
		}
	}
	m.LP.Start(start)
	return st
}

// KeepInequalities adds the columns of SolveWithInequalities to a master without columns, permanently. The
// patterns in a solution of such a relaxation give no plan by themselves; see Shares.
func (m *Master) KeepInequalities() {
	for i := 1; i < len(m.P.Items); i++ {
		m.LP.AddColumn(0, []int32{int32(i - 1), int32(i)}, []float64{-1, 1})
	}
	m.first = m.LP.Columns()
}

// HasInequalities reports whether there are such columns.
func (m *Master) HasInequalities() bool { return m.first > 0 }

// Share is a pattern with its value in a relaxation.
type Share struct {
	model.Pattern
	X float64
}

// leastShare is the value up to which a share counts as zero.
const leastShare = 1e-7

// Shares returns the value of each pattern in the optimal relaxation, less the given count of each column,
// with each item in the place that the dual inequalities give it. A pattern with different items in one place
// becomes several shares.
func (m *Master) Shares(beyond []int64) []Share {
	var all []Share
	holds := make([][]int32, len(m.P.Items)) // per item: the shares that hold it
	put := func(s Share) {
		for _, u := range s.Uses {
			holds[u.Item] = append(holds[u.Item], int32(len(all)))
		}
		all = append(all, s)
	}
	for j := range m.Columns {
		x := m.LP.Value(m.Col(j))
		if j < len(beyond) {
			x -= float64(beyond[j])
		}
		if x > leastShare {
			put(Share{*m.Columns[j].Fill, x})
		}
	}
	if !m.HasInequalities() {
		return all
	}
	for i := range len(m.P.Items) - 1 {
		flow := m.LP.Value(i) // places of item i that the next item takes
		for k := 0; k < len(holds[i]) && flow > leastShare; k++ {
			s := &all[holds[i][k]]
			if s.X <= leastShare {
				continue
			}
			x := s.X
			if x > flow+leastShare {
				x = flow
			}
			s.X -= x
			flow -= x
			put(Share{model.Pattern{Bin: s.Bin, Uses: substituted(s.Uses, i)}, x})
		}
	}
	return gathered(all)
}

// gathered merges shares of the same pattern, and omits those that count as zero.
func gathered(all []Share) []Share {
	all = slices.DeleteFunc(all, func(s Share) bool { return s.X <= leastShare })
	slices.SortFunc(all, func(a, b Share) int {
		return cmp.Or(a.Bin-b.Bin, slices.CompareFunc(a.Uses, b.Uses, func(u, v model.Use) int {
			return cmp.Or(u.Item-v.Item, cmp.Compare(v.N, u.N))
		}))
	})
	out := all[:0]
	for _, s := range all {
		if k := len(out) - 1; k >= 0 && out[k].Bin == s.Bin && slices.Equal(out[k].Uses, s.Uses) {
			out[k].X += s.X
			continue
		}
		out = append(out, s)
	}
	return out
}

// substituted returns uses with one item less, and one more of the next item.
func substituted(uses []model.Use, item int) []model.Use {
	out := make([]model.Use, 0, len(uses)+1)
	for _, u := range uses {
		if u.Item == item {
			u.N--
		}
		if u.N > 0 {
			out = append(out, u)
		}
	}
	k, ok := slices.BinarySearchFunc(out, item+1, func(u model.Use, item int) int { return cmp.Compare(u.Item, item) })
	if ok {
		out[k].N++
		return out
	}
	return slices.Insert(out, k, model.Use{Item: item + 1, N: 1})
}
