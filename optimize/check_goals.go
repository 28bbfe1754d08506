package optimize

// weights is by how much a leaf lets what a plan comes to count.
type weights struct{ cost, splices int64 }

// weights returns by how much a leaf lets what a plan comes to count.
func (e *ruleEvidence) weights(l *leaf) (w weights) {
	w.cost = l.Scale
	return w
}
