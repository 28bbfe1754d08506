package optimize_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
)

var forgedGoals = 240

// worse returns plans for a problem with goals that have the least cost but are not the best by a later
// goal, found by solving the problem with other goals.
func worse(p *optimize.Problem, least []int64) (plans []*optimize.Plan) {
	for _, g := range []optimize.Goal{optimize.GoalSticks, optimize.GoalCuts, optimize.GoalLongestOffcut, optimize.GoalSplices, optimize.GoalOffcutValue, optimize.GoalPatterns} {
		q := *p
		q.Rules.Goals = []optimize.Goal{optimize.GoalCost, g}
		if g == optimize.GoalOffcutValue && len(p.Rules.OffcutValues) == 0 {
			continue
		}
		other := solveOrNil(q)
		if other == nil {
			continue
		}
		plan, err := optimize.Evaluate(context.Background(), *p, other)
		if err != nil || plan.Cost != least[0] {
			continue
		}
		plans = append(plans, plan)
	}
	return plans
}

func moreIsBetter(g optimize.Goal) bool {
	return g == optimize.GoalOffcutValue || g == optimize.GoalLongestOffcut
}

// TestForgedGoalProofs forges proofs of the bounds of goals after the cost: no bound that some plan
// beats is accepted as verified.
func TestForgedGoalProofs(t *testing.T) {
	t.Parallel()
	jobs := forgedGoals
	if testing.Short() {
		jobs /= 4
	}
	tried, honest, taken, untrue := 0, 0, 0, 0
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 72))
		p := bothAdded(int(seed)%len(features), r.IntN(len(features)), seed)
		if len(p.Rules.Goals) == 0 {
			p.Rules.Goals = laterGoals(&p, seed)
		}
		least, ok := bruteSolve(&p)
		right := solveOrNil(p)
		if !ok || right == nil {
			continue
		}
		for _, plan := range append(worse(&p, least), right) {
			for k := 1; k < len(least) && k < len(plan.Goals) && plan.Goals[k-1].Value == least[k-1]; k++ {
				g := plan.Goals[k].Goal
				leaves := optimize.Unseal(right.Goals[k].Proof)
				if len(leaves.Leaves) > 0 && plan == right {
					honest++
				}
				claims := []int64{plan.Goals[k].Value}
				for _, by := range []int64{1, 2, 64} {
					if v := least[k] - by; moreIsBetter(g) && v >= plan.Goals[k].Value {
						claims = append(claims, v)
					} else if v := least[k] + by; !moreIsBetter(g) && v <= plan.Goals[k].Value {
						claims = append(claims, v)
					}
				}
				for _, bound := range claims {
					if moreIsBetter(g) && bound < least[k] || !moreIsBetter(g) && bound > least[k] {
						bare := withGoal(plan, k, bound, optimize.Proof{})
						if a, err := optimize.Audit(context.Background(), p, bare); err != nil || !slices.ContainsFunc(a.Open(), func(s string) bool { return strings.HasSuffix(s, g.String()) }) {
							t.Fatalf("seed %d: the bound %d of the goal %v is open, the best is %d: %v, %v\n%s", seed, bound, g, least[k], a, err, written(&p))
						}
					}
				}
				for f := range forgeries {
					pr := &optimize.OpenProof{Unit: max(1, leaves.Unit)}
					for j := range leaves.Leaves {
						pr.Leaves = append(pr.Leaves, copied(&leaves.Leaves[j]))
					}
					if len(pr.Leaves) == 0 || r.IntN(3) == 0 {
						l := rootLeaf(&p)
						n, _, _ := optimize.Numbers(&p)
						l.Values = make([]int64, n+k)
						pr.Leaves = []optimize.Leaf{l}
					}
					forgeries[f].make(r, &p, pr)
					for _, bound := range claims {
						tried++
						passed := moreIsBetter(g) && bound < least[k] || !moreIsBetter(g) && bound > least[k]
						if passed {
							untrue++
						}
						if !takesGoal(&p, plan, k, bound, pr) {
							continue
						}
						taken++
						if passed {
							t.Fatalf("seed %d, %s: Check accepts the bound %d of the goal %v, but the best is %d\n%+v\n%+v\n%s",
								seed, forgeries[f].name, bound, g, least[k], pr, plan, written(&p))
						}
					}
				}
			}
		}
	}
	if honest < jobs/4 || taken < jobs || untrue < 20*jobs {
		t.Errorf("%d valid proofs, %d of %d accepted, %d of false bounds: this tests little", honest, taken, tried, untrue)
	}
}

// takesGoal reports whether Check takes a proof for the bound of a goal.
func takesGoal(p *optimize.Problem, plan *optimize.Plan, k int, bound int64, pr *optimize.OpenProof) bool {
	pr.Kind, pr.LeafBound = optimize.ProofDual, bound
	if len(pr.Leaves) > 1 {
		pr.Kind = optimize.ProofTree
	}
	proof, err := pr.Sealed()
	if err != nil {
		return false
	}
	return optimize.Check(context.Background(), *p, withGoal(plan, k, bound, proof)) == nil
}

// withGoal returns a plan with no other proof than that of a goal's bound.
func withGoal(plan *optimize.Plan, k int, bound int64, proof optimize.Proof) *optimize.Plan {
	pl := *plan.WithoutProof()
	pl.Stop = optimize.StopUnknown
	pl.Goals = slices.Clone(pl.Goals)
	pl.Goals[k].Bound, pl.Goals[k].Proof = bound, proof
	sound := pl.Proof.Kind() != optimize.ProofOmitted
	for j := range pl.Goals {
		sound = sound && pl.Goals[j].Value == pl.Goals[j].Bound
		pl.Goals[j].Proven = sound
	}
	return &pl
}
