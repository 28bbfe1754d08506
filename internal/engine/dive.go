package engine

import (
	"math"

	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/construct"
	"example.com/longpoint/internal/lp"
	"example.com/longpoint/internal/model"
)

// lastPieces is how many pieces a dive leaves to the search over a list.
const lastPieces = 24

// dive rounds the relaxation to a plan: it fixes the patterns that are whole or
// nearly so, generates columns for what is left, and goes on. A seed above zero
// scatters the choices.
func (r *run) dive(scatter int) {
	m := r.master
	var basis lp.Basis
	m.LP.Save(&basis)
	defer func() {
		m.SetLimits(r.p.Demands())
		for j := range m.Pats {
			m.LP.SetColumn(j, 0, math.Inf(1))
		}
		m.LP.Restore(&basis)
	}()
	left, pieces := r.p.Demands(), r.p.Pieces()
	var fixed []int64
	spent := int64(0)
	fix := func(j int, n int64) {
		for len(fixed) < len(m.Pats) {
			fixed = append(fixed, 0)
		}
		for _, u := range m.Pats[j].Uses {
			n = min(n, left[u.Item]/u.N)
		}
		if n <= 0 {
			return
		}
		for _, u := range m.Pats[j].Uses {
			left[u.Item] -= n * u.N
			pieces -= n * u.N
		}
		fixed[j] += n
		spent += n * r.p.Bins[m.Pats[j].Bin].Cost
	}
	columns := func() []model.Column {
		var cols []model.Column
		for j, n := range fixed {
			if n > 0 {
				cols = append(cols, model.Column{Pattern: m.Pats[j], Count: n})
			}
		}
		return cols
	}
	for pieces > 0 {
		if pieces <= lastPieces && spent > 0 {
			r.finish(left, columns(), spent)
			return
		}
		st := m.Solve(math.MaxInt64, r.mt)
		if st != colgen.Converged || m.Objective() > float64(r.cost-1)+1e-6 {
			return
		}
		for len(fixed) < len(m.Pats) {
			fixed = append(fixed, 0)
		}
		before := pieces
		pick, most := -1, 0.0
		for j := range m.Pats {
			x := m.LP.Value(j) - float64(fixed[j])
			if x < 1e-6 {
				continue
			}
			whole := math.Floor(x + 1e-6)
			if whole >= 1 {
				fix(j, int64(whole))
				continue
			}
			if scatter > 0 {
				x *= 1 + 0.4*float64(r.random(1000))/1000
			}
			if x > most {
				pick, most = j, x
			}
		}
		if pieces == before {
			if pick < 0 {
				return
			}
			fix(pick, 1)
			if pieces == before {
				return
			}
		}
		m.SetLimits(left)
		for j := range m.Pats {
			hi := math.Inf(1)
			for _, u := range m.Pats[j].Uses {
				if u.N > left[u.Item] {
					hi = float64(fixed[j])
					break
				}
			}
			m.LP.SetColumn(j, float64(fixed[j]), hi)
		}
	}
	if cols, ok := construct.Exact(r.p, columns()); ok {
		r.offer(cols)
	}
}

// finish completes a plan whose columns leave only some items to be cut.
func (r *run) finish(left []int64, cols []model.Column, spent int64) {
	rest := r.rest(left, cols)
	if rest == nil {
		return
	}
	if sub, ok := rest.solve(r.cost-spent, r.mt.Sub(20_000_000)); ok {
		r.offer(append(cols, sub...))
	}
}
