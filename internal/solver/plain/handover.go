package plain

import (
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
)

// shares goes through the columns that the relaxation uses beyond what is fixed.
func (d *diver) shares(visit func(j int, x float64)) {
	m := d.master
	if !m.HasInequalities() {
		for j := range m.Columns {
			if x := m.LP.Value(m.Col(j)) - float64(d.fixed[j]); x >= 1e-6 {
				visit(j, x)
			}
		}
		return
	}
	for _, s := range m.Shares(d.fixed) {
		// Places that nothing needs any more go to the longest that is left and fits.
		uses := slices.DeleteFunc(slices.Clone(s.Uses), func(u model.Use) bool { return d.left[u.Item] == 0 })
		for k := range uses {
			uses[k].N = min(uses[k].N, d.left[uses[k].Item])
		}
		uses = pricing.Fill(d.p.Items, d.left, d.p.Bins[s.Bin].Cap-d.p.Size(uses), uses)
		if len(uses) > 0 {
			j, _ := m.Add(s.Bin, uses)
			d.growFixed()
			visit(j, s.X)
		}
	}
}

// muchSmaller reports whether what is left is a much smaller problem than the whole, of which each
// step takes a fraction of the time.
func (d *diver) muchSmaller() bool {
	if !d.master.HasInequalities() {
		return false
	}
	items := 0
	for _, n := range d.left {
		if n > 0 {
			items++
		}
	}
	return 2*items < len(d.p.Items)
}

// handOver plans what is left in a run of its own, with the sticks that the master's box allows.
func (d *diver) handOver() {
	cols := d.columns()
	rest := residualOf(d.p, d.left, cols)
	hi := slices.Clone(d.master.Box.Hi)
	for _, c := range cols {
		hi[c.Bin] -= c.Count
	}
	for b := range rest.Bins {
		rest.Bins[b].Limit = max(min(rest.Bins[b].Limit, hi[b]), 0)
	}
	work := min(handOverWork*d.pieces, mostHandOverWork) * max(d.patience, 1)
	sub := &solver{
		p: &rest.Problem, mt: d.mt.Sub(work), cost: d.cost - d.spent,
		rng: d.rng, nested: true, startPatterns: d.hints(rest),
	}
	sub.solve()
	if sub.plan != nil {
		d.tryIncumbent(merged(append(cols, rest.original(sub.plan)...)))
	}
}

// hints returns what the relaxation uses of patterns, as far as it is left, in terms of the rest.
func (d *diver) hints(rest *residualProblem) []model.Pattern {
	at := make([]int, len(d.p.Items))
	for k, i := range rest.item {
		at[i] = k
	}
	var out []model.Pattern
	for _, j := range d.used {
		pat := *d.master.Columns[j].Fill
		var uses []model.Use
		for _, u := range pat.Uses {
			if n := min(u.N, d.left[u.Item]); n > 0 {
				uses = append(uses, model.Use{Item: at[u.Item], N: n})
			}
		}
		if len(uses) > 0 {
			out = append(out, model.Pattern{Bin: pat.Bin, Uses: uses})
		}
	}
	return out
}
