package optimize_test

import (
	"context"
	"errors"
	"flag"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
)

var cutShort = flag.Int("cutshort", 6, "work limits for each job of TestCutShort")

// TestCutShort ends jobs of house size, each with one rule more, at random work limits. Whatever was under way, the plan
// that was found is returned, with a proof that shows what it claims.
func TestCutShort(t *testing.T) {
	t.Parallel()
	jobs := trimjob.OfClass("house")[:12]
	plans, open := 0, 0
	for n, v := range variants {
		r := rand.New(rand.NewPCG(12, uint64(n)))
		for k := n % 3; k < len(jobs); k += 3 {
			p := problem(jobs[k].Job())
			v.add(&p)
			for range *cutShort {
				work := int64(50_000) << r.IntN(6)
				work += r.Int64N(work)
				plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: work})
				if errors.As(err, new(*optimize.LimitError)) || errors.As(err, new(*optimize.InfeasibleError)) {
					continue
				}
				if err != nil {
					t.Fatalf("%s, %s, work %d: %v", jobs[k].Name, v.name, work, err)
				}
				if err := optimize.Check(context.Background(), p, plan); err != nil {
					t.Fatalf("%s, %s, work %d: %v", jobs[k].Name, v.name, work, err)
				}
				plans++
				if !plan.Proven {
					open++
				}
			}
		}
	}
	if plans < 100 || open < 50 {
		t.Errorf("%d plans, %d of them open: too few of one kind", plans, open)
	}
}
