package optimize

import "slices"

// WithoutProof returns a copy of the plan without its proof and those of its goals, for readers
// that do not verify plans. The proof's kind is [ProofOmitted], and neither the plan nor any of its
// goals is Proven; Bound and Stop remain as claims. [Check] still verifies the cuts, the purchases
// and the cost, and [Audit] reports that none of the bound was verified.
//
// A plan whose proof is of kind [ProofNone] claims no bound on its cost; it keeps that proof and
// its Proven fields. The copy shares its slices with the plan, except Goals. For a nil plan it is
// nil.
func (pl *Plan) WithoutProof() *Plan {
	if pl == nil {
		return nil
	}
	q := *pl
	q.Goals = slices.Clone(pl.Goals)
	for k := range q.Goals {
		q.Goals[k].Proof = Proof{}
	}
	if pl.Proof.kind == ProofNone {
		return &q
	}
	q.Proof = Proof{kind: ProofOmitted}
	q.Proven = false
	for k := range q.Goals {
		q.Goals[k].Proven = false
	}
	return &q
}
