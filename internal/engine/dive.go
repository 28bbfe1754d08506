package engine

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/construct"
	"example.com/longpoint/internal/lp"
	"example.com/longpoint/internal/model"
)

// lastPieces is how many pieces a dive leaves to the search over a list.
const lastPieces = 24

// nearlyWhole is from where on a pattern is fixed with others, if roomOf a stick may be
// wasted.
const (
	nearlyWhole = 0.5
	roomOf      = 0.05
)

// goBacks is how often a dive that comes to nothing takes back a part of what it
// fixed.
const goBacks = 6

// backs is how often a dive into the problem is worth a step back.
func (r *run) backs() int {
	switch {
	case r.p.Pieces() > maxPieces: // residual is for that
		return 0
	case !r.whole():
		return 1
	}
	return goBacks
}

// dive rounds the relaxation to a plan: it fixes the patterns that are whole or
// nearly so, generates columns for what is left, and goes on. Where no better plan
// is left it takes back the last third and does without the first pattern of that,
// at most backs times. A seed above zero scatters the choices.
func (r *run) dive(scatter, backs int) {
	m := r.master
	var basis lp.Basis
	m.LP.Save(&basis)
	defer func() {
		m.SetLimits(r.p.Demands(), 0, nil, 0)
		for j := range m.Pats {
			m.LP.SetColumn(j, 0, math.Inf(1))
		}
		m.LP.Restore(&basis)
	}()
	left, pieces := r.p.Demands(), r.p.Pieces()
	var fixed []int64
	type fixing struct {
		j int
		n int64
	}
	var made []fixing
	barred := map[int]bool{}
	type share struct {
		j int
		x float64
	}
	var near []share
	spent := int64(0)
	put := func(j int, n int64) {
		for _, u := range m.Pats[j].Uses {
			left[u.Item] -= n * u.N
			pieces -= n * u.N
		}
		fixed[j] += n
		spent += n * r.p.Bins[m.Pats[j].Bin].Cost
	}
	fix := func(j int, n int64) {
		for _, u := range m.Pats[j].Uses {
			n = min(n, left[u.Item]/u.N)
		}
		if n > 0 {
			put(j, n)
			made = append(made, fixing{j, n})
		}
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
	bound := func() {
		bins := make([]int64, len(r.p.Bins))
		for b, bin := range r.p.Bins {
			bins[b] = bin.Limit
			if bin.Cost > 0 {
				bins[b] = min(bins[b], (r.cost-1-spent)/bin.Cost)
			}
		}
		m.SetLimits(left, spent, bins, r.bound)
		for j := range m.Pats {
			hi := math.Inf(1)
			if barred[j] {
				hi = float64(fixed[j])
			}
			for _, u := range m.Pats[j].Uses {
				if u.N > left[u.Item] {
					hi = float64(fixed[j])
					break
				}
			}
			m.LP.SetColumn(j, float64(fixed[j]), hi)
		}
	}
	back := func() bool {
		if backs == 0 || len(made) < 3 || !r.mt.Left() {
			return false
		}
		backs--
		keep := len(made) - (len(made)+2)/3
		barred[made[keep].j] = true
		for _, f := range made[keep:] {
			put(f.j, -f.n)
		}
		made = made[:keep]
		bound()
		return true
	}
	for pieces > 0 {
		if pieces <= lastPieces && spent > 0 {
			before := r.cost
			if r.finish(left, columns(), spent); r.cost < before || !back() {
				return
			}
		}
		st := m.Solve(r.cost, r.mt)
		for len(fixed) < len(m.Pats) {
			fixed = append(fixed, 0)
		}
		if st == colgen.Stopped && !r.mt.Left() {
			return
		}
		if st != colgen.Converged || m.Objective() > float64(r.cost-1)+1e-6 {
			if !back() {
				return
			}
			continue
		}
		before := pieces
		pick, most := -1, 0.0
		near = near[:0]
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
			if x >= nearlyWhole {
				near = append(near, share{j, x})
			}
		}
		if pieces == before {
			if len(near) > 1 && r.roomy() {
				slices.SortStableFunc(near, func(a, b share) int { return cmp.Compare(b.x, a.x) })
				for _, s := range near {
					fix(s.j, 1)
				}
			} else if pick >= 0 {
				fix(pick, 1)
			}
			if pieces == before {
				return
			}
		}
		bound()
	}
	if cols, ok := construct.Exact(r.p, columns()); ok {
		r.offer(cols)
	}
}

// roomy reports whether, with one kind of stick, the relaxation leaves a good part of a
// stick to waste in a plan that costs no more than the bound. A dive may then fix several
// patterns at a time; where next to nothing may be wasted, it misses if it does.
func (r *run) roomy() bool {
	if len(r.p.Bins) > 1 {
		return false
	}
	stick := float64(r.p.Bins[0].Cost)
	return float64(r.bound)-r.master.Objective() >= float64(roomOf*stick)
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
