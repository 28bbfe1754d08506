package whatif

import (
	"context"
	"fmt"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// BenchmarkStart solves made-up jobs with five changes each, with the plan for the job as it
// is as a start and without. It reports:
//
//	cost     of all plans together
//	gap      costs less bounds, together
//	proven   plans
//	Msteps   of all searches
func BenchmarkStart(b *testing.B) {
	ctx := context.Background()
	for _, class := range []struct {
		name string
		jobs int
		work int64
	}{{"room", 30, optimize.DefaultWork}, {"room", 30, 1 << 16}, {"house", 6, 1 << 22}, {"house", 6, 1 << 26}} {
		type job struct {
			q    optimize.Problem
			plan *optimize.Plan
		}
		var jobs []job
		for _, k := range trimjob.OfClass(class.name)[:class.jobs] {
			j := k.Job()
			p := optimize.Problem{Sticks: j.Sticks(), Pieces: j.Wanted(), Kerf: j.SawKerf()}
			plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 1 << 26})
			if err != nil {
				b.Fatal(err)
			}
			for _, c := range []Change{
				MorePieces(0, 1), LongerPiece(len(p.Pieces)/2, measure.Inch/2), WiderKerf(measure.Inch / 32),
				StickLimit(plan.Patterns[0].Stick, max(1, plan.Patterns[0].Count-1)), NewStick(stock.Stick{Length: 14 * measure.Foot, Price: p.Sticks[0].Price * 2}),
			} {
				q := clone(p)
				if err := c.on(&q); err != nil {
					b.Fatal(err)
				}
				jobs = append(jobs, job{q, plan})
			}
		}
		for _, begins := range []bool{false, true} {
			b.Run(fmt.Sprintf("%s/work=%d/start=%v", class.name, class.work, begins), func(b *testing.B) {
				for b.Loop() {
					var cost, gap, work int64
					proven, failed := 0, 0
					for _, j := range jobs {
						o := &optimize.Options{Work: class.work}
						var plan *optimize.Plan
						var err error
						if begins {
							plan, err = changed(ctx, j.q, j.plan, o)
						} else {
							plan, err = optimize.Solve(ctx, j.q, o)
						}
						if err != nil {
							failed++
							continue
						}
						cost, gap, work = cost+plan.Cost, gap+plan.Cost-plan.Bound, work+plan.Work
						if plan.Proven {
							proven++
						}
					}
					b.ReportMetric(float64(cost), "cost")
					b.ReportMetric(float64(gap), "gap")
					b.ReportMetric(float64(proven), "proven")
					b.ReportMetric(float64(failed), "failed")
					b.ReportMetric(float64(work)/1e6, "Msteps")
				}
			})
		}
	}
}
