package replan

import (
	"context"
	"fmt"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
)

// BenchmarkStart continues made-up jobs of which a quarter is cut, a piece is spoiled and a
// stick turned out short, with the old plan as a start and without. It reports:
//
//	cost     of all revisions together
//	proven   revisions whose cost is proven
//	kept%    of the sticks that were left, those that are cut as planned
//	Msteps   of all searches
//	failed   revisions that were not found
func BenchmarkStart(b *testing.B) {
	ctx := context.Background()
	for _, class := range []struct {
		name string
		jobs int
		work int64
	}{{"room", 30, optimize.DefaultWork}, {"room", 30, 1 << 20}, {"house", 6, 1 << 24}, {"house", 6, 1 << 27}} {
		type job struct {
			p    optimize.Problem
			plan *optimize.Plan
			done Progress
		}
		var jobs []job
		for _, k := range trimjob.OfClass(class.name)[:class.jobs] {
			j := k.Job()
			p := optimize.Problem{Sticks: j.Sticks(), Pieces: j.Wanted(), Kerf: j.SawKerf()}
			plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 1 << 26})
			if err != nil {
				b.Fatal(err)
			}
			done := Progress{Cut: make([]int, len(plan.Patterns))}
			quarter := plan.Sticks()/4 + 1
			for i := range done.Cut {
				done.Cut[i] = int(min(quarter, int64(plan.Patterns[i].Count)))
				quarter -= int64(done.Cut[i])
			}
			last := &plan.Patterns[len(plan.Patterns)-1]
			done.Spoiled = []Spoiled{{Piece: plan.Patterns[0].Pieces[0]}}
			if done.Cut[len(done.Cut)-1] < last.Count {
				done.Started = []Started{{Stick: last.Stick, Left: usable(&p.Sticks[last.Stick]) / 3 * 2}}
			}
			jobs = append(jobs, job{p, plan, done})
		}
		for _, begins := range []bool{false, true} {
			b.Run(fmt.Sprintf("%s/work=%d/start=%v", class.name, class.work, begins), func(b *testing.B) {
				for b.Loop() {
					var cost, work int64
					proven, kept, left, failed := 0, 0, 0, 0
					for _, j := range jobs {
						rev, err := solve(ctx, j.p, j.plan, j.done, &optimize.Options{Work: class.work}, begins)
						if err != nil {
							failed++
							continue
						}
						cost += rev.Cost
						if rev.Proven {
							proven++
						}
						for _, c := range rev.Changes {
							kept, left = kept+c.Kept, left+c.Left
						}
						if rev.Plan != nil {
							work += rev.Plan.Work
						}
					}
					b.ReportMetric(float64(cost), "cost")
					b.ReportMetric(float64(proven), "proven")
					b.ReportMetric(float64(failed), "failed")
					b.ReportMetric(100*float64(kept)/float64(max(1, left)), "kept%")
					b.ReportMetric(float64(work)/1e6, "Msteps")
				}
			})
		}
	}
}
