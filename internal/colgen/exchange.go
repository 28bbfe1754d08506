package colgen

import "example.com/longpoint/internal/meter"

// Exchange solves the relaxation, before Solve, with columns beside the patterns
// that put an item in the place of the next longer one. They ask of the values that
// a longer item is worth no less, as it is in some best values anyway, and take away
// most of the ways in which columns can be found that come to nothing: with hundreds
// of items wanted once each, that is nearly all of them. Its bound is one of the
// problem; its columns and its basis are where Solve goes on.
//
// J. M. Valerio de Carvalho, Using extra dual cuts to accelerate column generation,
// INFORMS Journal on Computing 17 (2005) 175-182; T. Gschwind, S. Irnich, Dual
// inequalities for stabilized column generation revisited, the same 28 (2016)
// 175-194.
func (m *Master) Exchange(cutoff int64, mt *meter.Meter) Status {
	w := New(m.P) // of which column first+j is pattern j
	w.SetBox(m.Box)
	for i := 1; i < len(m.P.Items); i++ {
		w.LP.AddColumn(0, []int32{int32(i - 1), int32(i)}, []float64{-1, 1})
	}
	first := w.LP.Columns()
	for _, pat := range m.Pats {
		w.Add(pat.Bin, pat.Uses)
	}
	st := w.Solve(cutoff, mt)
	m.Bound, m.Value, m.Best, m.Scale, m.Num = w.Bound, w.Value, w.Best, w.Scale, w.Num
	var start []int32
	for j, pat := range w.Pats {
		c, _ := m.Add(pat.Bin, pat.Uses)
		if w.LP.Basic(first + j) {
			start = append(start, int32(c))
		}
	}
	m.LP.Start(start)
	return st
}
