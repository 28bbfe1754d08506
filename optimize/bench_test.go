package optimize_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
)

func problem(j trimjob.Job) optimize.Problem {
	return optimize.Problem{Sticks: j.Sticks(), Pieces: j.Wanted(), Kerf: j.SawKerf()}
}

// BenchmarkRooms solves made-up jobs of one room each without a time limit.
func BenchmarkRooms(b *testing.B) { benchmarkJobs(b, "room", 10*time.Second) }

// BenchmarkHouses solves made-up jobs of one house each, two seconds at most.
func BenchmarkHouses(b *testing.B) { benchmarkJobs(b, "house", 2*time.Second) }

// BenchmarkTracts solves made-up jobs of a row of houses, ten seconds at most.
func BenchmarkTracts(b *testing.B) { benchmarkJobs(b, "tract", 10*time.Second) }

// benchmarkJobs reports, besides the time of all jobs together:
//
//	proven       jobs whose plan was proven optimal
//	open%        the worst gap between cost and bound
//	median-ms    of the time a job takes
//	worst-ms
//	first-fit%   how much more plain first-fit-decreasing spends, all jobs together
//	over-known   jobs that cost more than the cheapest plan known
func benchmarkJobs(b *testing.B, class string, limit time.Duration) {
	jobs := trimjob.OfClass(class)
	for b.Loop() {
		var times []time.Duration
		var proven, over int
		var gap float64
		var spent, firstFit int64
		for _, k := range jobs {
			j := k.Job()
			ctx, cancel := context.WithTimeout(b.Context(), limit)
			start := time.Now()
			plan, err := optimize.Solve(ctx, problem(j), nil)
			took := time.Since(start)
			cancel()
			if err != nil {
				b.Fatalf("%s: %v", k.Name, err)
			}
			if err := optimize.Check(context.Background(), problem(j), plan); err != nil {
				b.Fatalf("%s: %v", k.Name, err)
			}
			times = append(times, took)
			g := 100 * float64(plan.Cost-plan.Bound) / float64(max(plan.Cost, 1))
			b.Logf("%-9s cost %7d bound %7d %.4f%% %-16v %8.1f ms, %d patterns, %d leaves, work %d",
				k.Name, plan.Cost, plan.Bound, g, plan.Proof.Kind(), ms(took), len(plan.Patterns), plan.Proof.Size(), plan.Work)
			gap = max(gap, g)
			if plan.Proven {
				proven++
			}
			if k.Best > 0 && plan.Cost > k.Best {
				over++
			}
			if c, ok := j.FirstFit(); ok {
				spent += plan.Cost
				firstFit += c
			}
		}
		slices.Sort(times)
		b.ReportMetric(float64(proven), "proven")
		b.ReportMetric(gap, "open%")
		b.ReportMetric(ms(times[len(times)/2]), "median-ms")
		b.ReportMetric(ms(times[len(times)-1]), "worst-ms")
		b.ReportMetric(100*float64(firstFit-spent)/float64(max(spent, 1)), "first-fit%")
		b.ReportMetric(float64(over), "over-known")
	}
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// BenchmarkProgress solves one job, a house, without a listener, with one that counts, and with one
// that wants each plan. The first is the cost of Solve.
func BenchmarkProgress(b *testing.B) {
	p := problem(trimjob.OfClass("house")[0].Job())
	reports, plans := 0, 0
	for _, w := range []struct {
		name string
		f    func(optimize.Progress) bool
	}{
		{"none", nil},
		{"counted", func(optimize.Progress) bool { reports++; return true }},
		{"plans", func(now optimize.Progress) bool {
			if now.NewPlan && now.Plan() != nil {
				plans++
			}
			return true
		}},
	} {
		b.Run(w.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := optimize.Solve(b.Context(), p, &optimize.Options{Work: 30_000_000, Progress: w.f}); err != nil {
					b.Fatal(err)
				}
			}
			if w.f != nil && reports+plans == 0 {
				b.Error("Progress was never called")
			}
		})
	}
}
