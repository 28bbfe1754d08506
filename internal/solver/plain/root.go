package plain

import "example.com/longpoint/internal/solver/master"

// known returns what is known of the relaxation.
func (r *solver) known() (to master.Relaxed) {
	for _, c := range r.master.Basics() {
		to.Basis = append(to.Basis, *c.Fill)
	}
	for _, d := range append([]master.Duals{r.root}, r.alternatives...) {
		if d.Scale > 0 {
			to.Duals = append(to.Duals, d)
		}
	}
	if leaf := &r.leaves[0]; len(to.Duals) == 0 && leaf.Scale > 0 {
		d, ok := r.materialDuals(leaf.Dual, leaf.Scale)
		if !ok {
			d, ok = r.master.DualsOf(leaf.Dual, leaf.Scale, r.mt)
		}
		if ok {
			to.Duals = append(to.Duals, d)
		}
	}
	return to
}

// materialDuals returns the duals if their values are in proportion to size, as those of the material bound are: then
// a pattern is worth at most its bin, and no knapsack has to be solved.
func (r *solver) materialDuals(value []int64, scale int64) (d master.Duals, ok bool) {
	items := r.p.Items
	per := value[0] / items[0].Size
	for i, it := range items {
		if value[i] != per*it.Size {
			return d, false
		}
	}
	d.Scale, d.Item = scale, value
	for _, bin := range r.p.Bins {
		if per > 0 && bin.Cap >= (1<<60)/per {
			return d, false
		}
		d.Best = append(d.Best, per*bin.Cap)
	}
	return d, true
}
