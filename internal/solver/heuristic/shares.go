package heuristic

import (
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
)

// shares visits the columns whose value in the relaxation exceeds the fixed copies.
func (d *Dive) shares(visit func(j int, x float64)) {
	m := d.Master
	if !m.HasInequalities() {
		for j := range m.Columns {
			if x := m.LP.Value(m.Col(j)) - float64(d.fixed[j]); x >= 1e-6 {
				visit(j, x)
			}
		}
		return
	}
	for _, s := range m.Shares(d.fixed) {
		// Places of items that are no longer needed go to the longest remaining items that fit.
		uses := slices.DeleteFunc(slices.Clone(s.Uses), func(u model.Use) bool { return d.Left[u.Item] == 0 })
		for k := range uses {
			uses[k].N = min(uses[k].N, d.Left[uses[k].Item])
		}
		uses = pricing.Fill(m.Plain.Items, d.Left, m.Plain.Bins[s.Bin].Cap-m.Plain.Size(uses), uses)
		if len(uses) > 0 {
			j, _ := m.Add(s.Bin, uses)
			d.growFixed()
			visit(j, s.X)
		}
	}
}

// muchSmaller reports whether the residual problem has less than half of the items, so that each step takes a
// fraction of the time.
func (d *Dive) muchSmaller() bool {
	if !d.Master.HasInequalities() {
		return false
	}
	items := 0
	for _, n := range d.Left {
		if n > 0 {
			items++
		}
	}
	return 2*items < len(d.Left)
}
