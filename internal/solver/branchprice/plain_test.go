package branchprice

import (
	"context"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/trimjob"
)

// byRules solves a problem without rules as if it had some: by other oracles, with purchases as columns and with other
// lists.
func byRules(q *rules.Problem, work int64) search.Result {
	r := &solver{p: q, mt: meter.New(context.Background(), work), objective: rules.Objective{Main: rules.Price}}
	r.solve(nil)
	return r.result()
}

// A problem without rules has the same answer with and without the parts for such problems.
func TestPlainProblemsByRules(t *testing.T) {
	for seed := range uint64(12) {
		q := rules.Of(solvertest.Job(t, trimjob.Room, seed))
		e := Solve(context.Background(), q, search.Options{})
		b := byRules(q, 0)
		if e.Stop != search.Proven || b.Stop != search.Proven || e.Cost != b.Cost {
			t.Errorf("room %d: %d (stop %d), by rules %d (stop %d)", seed, e.Cost, e.Stop, b.Cost, b.Stop)
		}
	}
}

// Houses with and without the parts for problems without rules: comparing their ns/op shows what these save.
func BenchmarkPlainHouses(b *testing.B) {
	var jobs []*rules.Problem
	for seed := range uint64(8) {
		jobs = append(jobs, rules.Of(solvertest.Job(b, trimjob.House, seed)))
	}
	const work = 1_000_000_000
	for name, solve := range map[string]func(q *rules.Problem) search.Result{
		"plain": func(q *rules.Problem) search.Result {
			return Solve(context.Background(), q, search.Options{Work: work})
		},
		"general": func(q *rules.Problem) search.Result { return byRules(q, work) },
	} {
		b.Run(name, func(b *testing.B) {
			proven := 0
			for range b.N {
				proven = 0
				for _, q := range jobs {
					if solve(q).Stop == search.Proven {
						proven++
					}
				}
			}
			b.ReportMetric(float64(proven), "proven")
		})
	}
}
