package plain

import "example.com/longpoint/internal/solver/master"

// known returns the basis of the relaxation and its optimal duals.
func (r *solver) known() (to master.Relaxed) {
	for _, c := range r.master.Basics() {
		to.Basis = append(to.Basis, *c.Fill)
	}
	for _, d := range append([]master.Duals{r.root}, r.alternatives...) {
		if d.Scale > 0 {
			to.Duals = append(to.Duals, d)
		}
	}
	if len(to.Duals) == 0 && r.shown.Scale > 0 {
		to.Duals = append(to.Duals, r.shown)
	}
	return to
}
