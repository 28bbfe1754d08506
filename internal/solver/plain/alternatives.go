package plain

import (
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
)

// findAlternatives finds optimal duals that leave the patterns little gap: those of the
// relaxation to the end, and where it has several best ones some that lie far
// apart. A plan that would be better must be content with all of them, so that
// a list of patterns that any of them makes short is short.
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
