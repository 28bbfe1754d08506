package optimize

import "slices"

// WithoutProof returns a copy of the plan without its proof, for a reader who wants to
// cut and not to verify. The
// proof's kind is [ProofOmitted], and neither the plan nor one of its goals is Proven
// any longer; Bound and Stop stay as claims. [Check] still verifies the cuts, the
// purchases and the cost, and [Audit] says that nothing of the bound was shown.
//
// A plan whose proof is of kind [ProofNone] claims nothing, and is copied as it is. The
// copy shares its slices with the plan, except Goals.
func (p *Plan) WithoutProof() *Plan {
	q := *p
	if p.Proof.kind == ProofNone {
		return &q
	}
	q.Proof = Proof{kind: ProofOmitted}
	q.Proven = false
	q.Goals = slices.Clone(p.Goals)
	for k := range q.Goals {
		q.Goals[k].Proven = false
	}
	return &q
}
