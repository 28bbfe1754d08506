package plain

import (
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
)

// findAlternatives finds optimal duals of the relaxation under which few patterns have a small
// reduced cost: those of the relaxation solved to the end and, if there are several optima, some
// that lie far apart. A better plan must satisfy all of them, so its list of patterns is short if
// it is short under any of them.
func (r *solver) findAlternatives() {
	m := r.master
	r.root = m.Duals.Clone()
	r.alternatives = []master.Duals{r.root}
	if !r.whole() {
		return
	}
	m.ToOptimality = true
	var basis lp.Basis
	m.LP.Save(&basis)
	work := r.mt.Sub(alternativesWork + r.mt.Used()/alternativesShare)
	for k := range 4 {
		if k > 0 {
			m.Perturb(r.rng.Demands(k, len(r.p.Items)))
		}
		st := m.Solve(r.cost, work)
		if st == master.Pruned {
			r.takeBound(st)
		}
		if st != master.Converged {
			break
		}
		r.alternatives = append(r.alternatives, m.Duals.Clone())
	}
	m.ToOptimality = false
	m.Perturb(nil)
	m.LP.Restore(&basis)
}
