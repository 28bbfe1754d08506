package optimize_test

import (
	"context"
	"errors"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
)

// With almost no work allowed there is a plan for jobs of every size and with every rule, its bound is
// true, and more work makes neither worse.
func TestRulesInAHurry(t *testing.T) {
	for _, v := range variants {
		for _, class := range []string{trimjob.Room, trimjob.House, trimjob.Tract} {
			if class == trimjob.Tract && testing.Short() {
				continue
			}
			k := trimjob.OfClass(class)[0]
			p := problem(k.Job())
			if len(p.Pieces) < 4 {
				t.Fatalf("%s is too small for the rules", k.Name)
			}
			v.add(&p)
			plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1})
			if errors.As(err, new(*optimize.InfeasibleError)) {
				continue
			}
			if err != nil {
				t.Errorf("%s with %s: %v", k.Name, v.name, err)
				continue
			}
			if err := optimize.Check(context.Background(), p, plan); err != nil {
				t.Errorf("%s with %s: %v", k.Name, v.name, err)
			}
			if class != trimjob.Room {
				continue
			}
			more, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 50_000_000})
			if err != nil {
				t.Errorf("%s with %s: %v", k.Name, v.name, err)
			} else if more.Cost > plan.Cost || more.Bound < plan.Bound || plan.Bound > more.Cost {
				t.Errorf("%s with %s: cost %d, bound %d with work 1; %d and %d with more", k.Name, v.name, plan.Cost, plan.Bound, more.Cost, more.Bound)
			} else if !more.Proven && v.name != "runs" { // six long runs are no room
				t.Errorf("%s with %s: cost %d, bound %d not proven", k.Name, v.name, more.Cost, more.Bound)
			}
		}
	}
}
