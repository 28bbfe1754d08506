package optimize_test

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// A plan without its proof makes the same claims, but proves nothing of its bound, and changes of the
// rest are detected as before.
func TestWithoutProof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		if rapid.Bool().Draw(t, "rules") {
			p.Rules.MaxPieces = rapid.IntRange(2, 5).Draw(t, "most pieces")
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalLongestOffcut}
		}
		plan, err := optimize.Solve(t.Context(), p, &optimize.Options{Work: 2_000_000})
		if err != nil {
			t.Skip(err)
		}
		before := clonePlan(t, plan)
		bare := plan.WithoutProof()
		if d := cmp.Diff(before, plan); d != "" {
			t.Fatalf("the plan itself changed:\n%s", d)
		}
		if plan.Proof.Kind() == optimize.ProofNone {
			for k := range before.Goals {
				before.Goals[k].Proof = optimize.Proof{}
			}
			if d := cmp.Diff(before, bare); d != "" {
				t.Fatalf("a plan that claims nothing changed:\n%s", d)
			}
			return
		}
		if d := cmp.Diff(bare, clonePlan(t, bare)); d != "" {
			t.Fatalf("JSON does not read back:\n%s", d)
		}
		if bare.Proven || bare.Proof.Kind() != optimize.ProofOmitted || bare.Proof.Size() > 0 {
			t.Fatalf("proven %t by a proof %v of %d bytes", bare.Proven, bare.Proof.Kind(), bare.Proof.Size())
		}
		a, err := optimize.Audit(context.Background(), p, bare)
		if err != nil {
			t.Fatal(err)
		}
		if shown, complete := a.Bound(); shown > 0 || complete != (bare.Bound == 0) || slices.Contains(a.Open(), "nothing stored") != (bare.Bound > 0) {
			t.Fatalf("shown is %d of %d, open %q", shown, bare.Bound, a.Open())
		}
		// All but the proof is still there.
		back := *bare
		back.Proof, back.Proven, back.Goals = plan.Proof, plan.Proven, plan.Goals
		if d := cmp.Diff(plan, &back); d != "" {
			t.Fatalf("more than the proof was removed:\n%s", d)
		}

		for claim, spoil := range map[string]func(*optimize.Plan){
			"proven":           func(pl *optimize.Plan) { pl.Proven = true },
			"bound":            func(pl *optimize.Plan) { pl.Bound = pl.Cost + 1 },
			"cost":             func(pl *optimize.Plan) { pl.Cost++ },
			"proof.leaf_bound": func(pl *optimize.Plan) { forge(t, pl, func(pr *optimize.OpenProof) { pr.LeafBound = 1 }) },
			"proof.leaves": func(pl *optimize.Plan) {
				forge(t, pl, func(pr *optimize.OpenProof) { pr.Leaves = make([]optimize.Leaf, 1) })
			},
			"patterns[0].offcut": func(pl *optimize.Plan) { pl.Patterns[0].Offcut++ },
			"stop":               func(pl *optimize.Plan) { pl.Stop, pl.Bound = optimize.StopProven, pl.Cost-1 },
			"patterns":           func(pl *optimize.Plan) { pl.Patterns = pl.Patterns[:len(pl.Patterns)-1] },
		} {
			bad := clonePlan(t, bare)
			if spoil(bad); bad.Cost == 0 && claim == "stop" {
				continue
			}
			var ce *optimize.CheckError
			if err := optimize.Check(context.Background(), p, bad); !errors.As(err, &ce) {
				t.Fatalf("%s is wrong but accepted: %v", claim, err)
			} else if len(bad.Patterns) > 0 && !strings.HasPrefix(ce.Field, claim) && p.Rules.MaxPieces == 0 {
				t.Fatalf("%s is wrong, but the error is %v", claim, err)
			}
		}
	})
}

// forge changes the proof of a plan.
func forge(t interface{ Fatal(...any) }, plan *optimize.Plan, f func(*optimize.OpenProof)) {
	pr := optimize.Unseal(plan.Proof)
	f(pr)
	var err error
	if plan.Proof, err = pr.Sealed(); err != nil {
		t.Fatal(err)
	}
}

func clonePlan(t *rapid.T, plan *optimize.Plan) *optimize.Plan {
	b, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	out := new(optimize.Plan)
	if err := json.Unmarshal(b, out); err != nil {
		t.Fatal(err)
	}
	return out
}
