package engine

import (
	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/lp"
)

// sharpen finds values that leave the patterns little room: those of the
// relaxation to the end, and where it has several best ones some that lie far
// apart. A plan that would be better must be content with all of them, so that
// a list of patterns that any of them makes short is short.
func (r *run) sharpen() {
	m := r.master
	r.root = rootState(m)
	r.sharp = []state{r.root}
	if !r.whole() {
		return
	}
	m.Fully = true
	var basis lp.Basis
	m.LP.Save(&basis)
	work := r.mt.Sub(100_000_000 + r.mt.Used()/10)
	for k := range 4 {
		if k > 0 {
			m.Lean(r.lean(k))
		}
		st := m.Solve(r.cost, work)
		if st == colgen.Pruned {
			r.show(st)
		}
		if st != colgen.Converged {
			break
		}
		r.sharp = append(r.sharp, rootState(m))
	}
	m.Fully = false
	m.Lean(nil)
	m.LP.Restore(&basis)
}

// lean returns the way to lean for the k-th values.
func (r *run) lean(k int) []float64 {
	by := make([]float64, len(r.p.Items))
	for i := range by {
		switch k {
		case 1: // dear short items
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
