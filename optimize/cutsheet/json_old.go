package cutsheet

import (
	"encoding/json"

	"example.com/longpoint/optimize"
)

// oldPlan is the plan of versions 1 and 2. Its proof had another form; only its kind is read.
type oldPlan struct {
	optimize.Plan
	Proof struct {
		Kind optimize.ProofKind `json:"kind"`
	} `json:"proof"`
}

// readOld reads a document of version 1 or 2, the plan without its proof.
func (d *document) readOld(data []byte) error {
	old := struct {
		*document
		Plan *oldPlan `json:"plan"`
	}{document: d}
	if err := json.Unmarshal(data, &old); err != nil || old.Plan == nil {
		return err
	}
	d.Plan = &old.Plan.Plan
	if d.Problem != nil {
		bought(d.Problem, d.Plan)
	}
	if old.Plan.Proof.Kind == optimize.ProofNone {
		return nil
	}
	// A proof of any kind, for WithoutProof to remove.
	if err := json.Unmarshal([]byte(`{"version":1,"kind":"exhausted search"}`), &d.Plan.Proof); err != nil {
		return err
	}
	d.Plan = d.Plan.WithoutProof()
	return nil
}
