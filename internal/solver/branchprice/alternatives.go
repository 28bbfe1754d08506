package branchprice

import (
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
)

// findAlternatives finds optimal duals of the relaxation under which few patterns have a small
// reduced cost: those of the relaxation solved to the end and, if there are several optima, some
// that lie far apart. A better plan must satisfy all of them, so its list of patterns is short if
// it is short under any of them.
func (k *oneKind) findAlternatives() {
	m := k.m
	k.rootDuals = m.Duals.Clone()
	k.rootValue, k.rootScale = k.rootDuals.Item, k.rootDuals.Scale
	k.alternatives = []master.Duals{k.rootDuals}
	if !k.whole() {
		return
	}
	m.ToOptimality = true
	var basis lp.Basis
	m.LP.Save(&basis)
	work := k.mt.Sub(alternativesWork + k.mt.Used()/alternativesShare)
	for n := range 4 {
		if n > 0 {
			m.Perturb(k.rng.Demands(n, len(k.p.Items)))
		}
		st := m.Solve(k.cost, work)
		if st == master.Pruned {
			k.takeBound(st)
		}
		if st != master.Converged {
			break
		}
		k.alternatives = append(k.alternatives, m.Duals.Clone())
	}
	m.ToOptimality = false
	m.Perturb(nil)
	m.LP.Restore(&basis)
}
