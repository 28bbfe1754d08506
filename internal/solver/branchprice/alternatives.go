package branchprice

import (
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// alternativesHere returns several optimal duals of the relaxation in the present box, found by perturbed demands. Each
// of them filters the columns of better plans, so lists become short.
func (r *solver) alternativesHere() (found []master.Duals) {
	m := r.m
	here, value, num := m.Duals.Clone(), m.Bound, m.Num
	var basis lp.Basis
	m.LP.Save(&basis)
	m.ToOptimality = true
	for k := range 4 {
		m.Perturb(r.rng.Demands(k, len(r.p.Items)))
		if m.Solve(rules.NoCost, r.mt.Sub(perturbedWork)) == master.Converged && m.Duals.Scale > 0 {
			found = append(found, m.Duals.Clone())
		}
	}
	m.ToOptimality = false
	m.Perturb(nil)
	m.LP.Restore(&basis)
	m.LP.Place(r.mt)
	m.Bound, m.Num, m.Duals = value, num, here
	return found
}
