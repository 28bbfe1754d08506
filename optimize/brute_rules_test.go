package optimize_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
)

// Names of package brute that the tests here use all over.
const u = brute.U

var (
	bruteSolve = brute.Solve
	written    = brute.Written
	features   = brute.Features
	tinyBase   = brute.Base
	bothAdded  = brute.Both
	owned      = brute.Owned
	someStick  = brute.SomeStick
	miter      = brute.Miter
)

func oneOf[T any](r *rand.Rand, of ...T) T { return brute.OneOf(r, of...) }

// featuresNamed returns the places of rules in features.
func featuresNamed(names ...string) (which []int) {
	for k := range features {
		if slices.Contains(names, features[k].Name) {
			which = append(which, k)
		}
	}
	return which
}

var bruteCases = flag.Int("brutecases", 6, "random problems for each pair of rules in TestRulesBrute")

// againstBrute solves a problem both ways and compares. It reports whether the problem was valid.
func againstBrute(t *testing.T, p *optimize.Problem) bool {
	t.Helper()
	_, sound, faults := compared(p)
	for _, f := range faults {
		t.Error(f)
	}
	return sound
}

// compared solves a problem both ways and returns the plan, whether the problem is valid, and the
// difference.
func compared(p *optimize.Problem) (plan *optimize.Plan, sound bool, faults []string) {
	fault := func(format string, v ...any) { faults = append(faults, fmt.Sprintf(format, v...)) }
	plan, err := optimize.Solve(context.Background(), *p, nil)
	if errors.As(err, new(*measure.FieldError)) {
		return nil, false, nil
	}
	want, ok := bruteSolve(p)
	if !ok {
		if !errors.As(err, new(*optimize.InfeasibleError)) {
			fault("plan %+v, error %v for a problem without a plan\n%s", plan, err, written(p))
		}
		return plan, true, faults
	}
	if err != nil {
		fault("%v, want a plan of cost %d\n%s", err, want[0], written(p))
		return plan, true, faults
	}
	if err := optimize.Check(context.Background(), *p, plan); err != nil {
		fault("%v\n%+v\n%s", err, plan, written(p))
	}
	if plan.Cost != want[0] || plan.Bound > want[0] || !plan.Proven {
		fault("cost %d, bound %d, want %d, proven\n%+v\n%s", plan.Cost, plan.Bound, want[0], plan, written(p))
		return plan, true, faults
	}
	// The least cost is a sum that plans in some leaf's box can cost.
	if pr := optimize.Unseal(plan.Proof); !optimize.Plain(p) && len(pr.Leaves) > 0 && !slices.ContainsFunc(pr.Leaves, func(l optimize.Leaf) bool { return optimize.Holds(p, &l, want[0]) }) {
		fault("no leaf's sums hold the least cost, %d\n%+v\n%s", want[0], plan, written(p))
	}
	if len(p.Rules.Goals) == 0 && plan.Sticks() != want[1] {
		fault("%d sticks, want %d\n%+v\n%s", plan.Sticks(), want[1], plan, written(p))
	}
	if n := splices(plan); len(p.Rules.Goals) == 0 && n != want[2] {
		fault("%d splices, want %d\n%+v\n%s", n, want[2], plan, written(p))
	}
	for k := 1; k < len(want) && k < len(plan.Goals); k++ {
		l := &plan.Goals[k]
		more := l.Goal == optimize.GoalOffcutValue || l.Goal == optimize.GoalLongestOffcut
		wrong := more && (l.Value > want[k] || l.Bound < want[k]) || !more && (l.Value < want[k] || l.Bound > want[k])
		if wrong || l.Proven && l.Value != want[k] {
			fault("%+v, want %d\n%+v\n%s", *l, want[k], plan, written(p))
		}
		if l.Value != want[k] {
			break // the goals after it are others
		}
	}
	return plan, true, faults
}

// splices counts those of all runs.
func splices(plan *optimize.Plan) (n int64) {
	for k := range plan.Spliced {
		n += int64(len(plan.Spliced[k].At))
	}
	return n
}

// TestRulesBrute solves random problems with each rule and each pair of rules.
func TestRulesBrute(t *testing.T) {
	for a := range features {
		for b := range a + 1 {
			name := features[b].Name + " and " + features[a].Name
			if a == b {
				name = features[a].Name
			}
			t.Run(name, func(t *testing.T) {
				sound := 0
				for seed := range *bruteCases {
					p := bothAdded(a, b, uint64(seed))
					if againstBrute(t, &p) {
						sound++
					}
					if t.Failed() {
						return
					}
				}
				if sound == 0 && *bruteCases >= 6 && !brute.Apart[[2]string{features[b].Name, features[a].Name}] {
					t.Error("no problem was valid")
				}
			})
		}
	}
}
