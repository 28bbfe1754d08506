package optimize_test

import (
	"context"
	"errors"
	"flag"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
)

var shownJobs = flag.Int("shownjobs", 40, "tiny problems for each rule of BenchmarkShown")

// BenchmarkShown solves tiny problems with one rule, or with one and goals after the cost, and reports
// for how many plans Audit verifies the whole bound, and for how many of those goals.
func BenchmarkShown(b *testing.B) {
	for a := range features {
		b.Run(strings.ReplaceAll(features[a].Name, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				plans, shown, goals, known := 0, 0, 0, 0
				for seed := range uint64(*shownJobs) {
					p := bothAdded(a, a, seed)
					if seed%2 == 1 {
						p.Rules.Goals = laterGoals(&p, seed/2)
					}
					plan, err := optimize.Solve(context.Background(), p, nil)
					if err != nil {
						if !errors.As(err, new(*measure.FieldError)) && !errors.As(err, new(*optimize.InfeasibleError)) {
							b.Fatal(err)
						}
						continue
					}
					r, err := optimize.Audit(context.Background(), p, plan)
					if err != nil {
						b.Fatal(err)
					}
					plans++
					if _, whole := r.Bound(); whole {
						shown++
					}
					g, open := goalsOf(plan, r)
					goals += g
					known += g - open
				}
				b.ReportMetric(float64(plans), "plans")
				b.ReportMetric(float64(shown), "shown")
				b.ReportMetric(float64(goals), "goals")
				b.ReportMetric(float64(known), "goals-shown")
			}
		})
	}
}

// laterGoals returns goals that differ from seed to seed.
func laterGoals(p *optimize.Problem, seed uint64) []optimize.Goal {
	all := []optimize.Goal{optimize.GoalSticks, optimize.GoalCuts, optimize.GoalLongestOffcut, optimize.GoalSplices, optimize.GoalOffcutValue}
	p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * brute.U, Value: 2}, {Length: 12 * brute.U, Value: 5}}
	n := uint64(len(all))
	return []optimize.Goal{optimize.GoalCost, all[seed%n], all[(seed+1+seed/n%(n-1))%n]}
}

// goalsOf returns how many goals after the cost a plan has proven, and of how many the bound is open.
func goalsOf(plan *optimize.Plan, r *optimize.Report) (proven, open int) {
	for k := range plan.Goals {
		l := &plan.Goals[k]
		if l.Goal == optimize.GoalCost || l.Value != l.Bound {
			continue
		}
		proven++
		for _, s := range r.Open() {
			if strings.HasSuffix(s, "of the goal "+l.Goal.String()) {
				open++
				break
			}
		}
	}
	return proven, open
}
