package run_test

import (
	"context"
	"flag"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/bench/instance"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

var (
	goalClasses = flag.String("goalclasses", "house,room,retail", "classes of BenchmarkGoals, by comma")
	goalEvery   = flag.Int("goalevery", 1, "BenchmarkGoals solves each so manieth instance")
	goalWork    = flag.Int64("goalwork", 2_000_000_000, "steps for each instance of BenchmarkGoals")
)

// BenchmarkGoals reports the totals of plans of problems without rules in the goals after the cost:
// sticks, the longest offcut, and patterns and cuts, which are not goals by default. With -v each
// instance is logged.
func BenchmarkGoals(b *testing.B) {
	all, err := instance.BuiltIn()
	if err != nil {
		b.Fatal(err)
	}
	for _, class := range all {
		if !slices.Contains(strings.Split(*goalClasses, ","), class.Name) {
			continue
		}
		b.Run(class.Name, func(b *testing.B) {
			for range b.N {
				var sum goalValues
				work := int64(0)
				for k := 0; k < len(class.Instances); k += *goalEvery {
					p := class.Instances[k].Public()
					plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: *goalWork})
					if err != nil {
						b.Fatal(err)
					}
					v := valuesOf(p, plan)
					b.Logf("%s work %d cost %d proven %t sticks %d offcut %d patterns %d cuts %d", class.Instances[k].Name, plan.Work, plan.Cost, plan.Proven, v.sticks, v.offcut, v.patterns, v.cuts)
					sum.sticks, sum.offcut, sum.patterns, sum.cuts = sum.sticks+v.sticks, sum.offcut+v.offcut, sum.patterns+v.patterns, sum.cuts+v.cuts
					work += plan.Work
				}
				b.ReportMetric(float64(work), "steps")
				b.ReportMetric(float64(sum.sticks), "sticks")
				b.ReportMetric(float64(sum.offcut)/float64(measure.Inch), "offcut-in")
				b.ReportMetric(float64(sum.patterns), "patterns")
				b.ReportMetric(float64(sum.cuts), "cuts")
			}
		})
	}
}

// goalValues are the values of a plan.
type goalValues struct {
	sticks, cuts int64
	offcut       measure.Length
	patterns     int
}

func valuesOf(p optimize.Problem, plan *optimize.Plan) goalValues {
	v := goalValues{patterns: len(plan.Patterns)}
	for k := range plan.Patterns {
		pat := &plan.Patterns[k]
		n := int64(len(pat.Pieces)) - 1
		if pat.Offcut > 0 {
			n++
		}
		v.sticks += int64(pat.Count)
		v.cuts += n * int64(pat.Count)
		v.offcut = max(v.offcut, pat.Offcut)
	}
	return v
}
