package plain

import (
	"math"

	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/residual"
)

// residual is for demands that are large compared with the number of items. It fixes the integer part of the
// relaxation, minus a few sticks of each pattern, and solves the residual problem, whose size does not grow
// with the demand.
func (r *solver) residual() {
	whole, work := r.p.Pieces(), int64(residualRunWork)
	for _, back := range []float64{0, 1, 3} {
		if r.done() {
			return
		}
		m := r.master
		if m.Solve(math.MaxInt64, r.mt) != master.Converged {
			return
		}
		left := r.p.Demands()
		var fixed []model.PatternCount
		for j := range m.Columns {
			pat := m.Columns[j].Fill
			n := int64(math.Floor(m.LP.Value(m.Col(j)) + 1e-6 - back))
			for _, u := range pat.Uses {
				n = min(n, left[u.Item]/u.N)
			}
			if n <= 0 {
				continue
			}
			for _, u := range pat.Uses {
				left[u.Item] -= n * u.N
			}
			fixed = append(fixed, model.PatternCount{Pattern: *pat, Count: n})
		}
		rest := residual.Of(r.p, fixed)
		if rest == nil || rest.Pieces() > whole/2 || rest.Spent >= r.cost {
			return
		}
		r.runRest(rest, &solver{mt: r.mt.Sub(work), cost: r.cost - rest.Spent, nested: true})
	}
}
