package master

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

// SolveWithInequalities solves the relaxation, before Solve, with columns beside the patterns that
// put an item in the place of the next longer one. They ask of the duals that a longer item has no
// less, as it has in some optimal duals anyway, and take away most of the ways in which columns can
// be found that come to nothing: with hundreds of items wanted once each, that is nearly all of
// them. Its bound is one of the problem; its columns and its basis are where Solve goes on.
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

// KeepInequalities adds the columns of SolveWithInequalities to a master without columns, for good.
// What such a relaxation uses of its patterns is no plan by itself; see Shares.
func (m *Master) KeepInequalities() {
	for i := 1; i < len(m.P.Items); i++ {
		m.LP.AddColumn(0, []int32{int32(i - 1), int32(i)}, []float64{-1, 1})
	}
	m.first = m.LP.Columns()
}

// HasInequalities reports whether there are such columns.
func (m *Master) HasInequalities() bool { return m.first > 0 }

// Share is how often a relaxation uses a pattern.
type Share struct {
	model.Pattern
	X float64
}

// leastShare is less than anything that matters.
const leastShare = 1e-7

// Shares returns what the relaxation, an optimal one, uses of each pattern beyond so much of each
// column, with each item in the place that the dual inequalities give it. Of a pattern that puts
// different items into one place there are several.
func (m *Master) Shares(beyond []int64) []Share {
	var all []Share
	holds := make([][]int32, len(m.P.Items)) // of each item: the shares that hold it
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
		flow := m.LP.Value(i) // of places of item i that the next one takes
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

// gathered joins shares of the same pattern, and leaves out what is nothing.
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

// substituted returns uses with one of an item less, and one more of the next.
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
