package optimize_test

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

var kindsWork = flag.Int64("kindswork", 430_000_000, "steps for each job of BenchmarkStickKinds; 430 million take about a second")

// sticksJob is pieces from many kinds of stick: three that are sold in any number, two more at prices
// nearly as good, and parts of sticks, of each length one to three, cheaper by up to two fifths.
func sticksJob(kinds, pieces int, seed uint64) optimize.Problem {
	chance := rand.New(rand.NewPCG(seed, uint64(kinds)))
	p := optimize.Problem{Kerf: measure.Inch / 8}
	for k := range kinds {
		s := stock.Stick{Label: fmt.Sprint("stick ", k)}
		inches := 60 + chance.IntN(180)
		s.Length = measure.Length(inches)*measure.Inch + measure.Length(chance.IntN(16))*measure.Inch/16
		s.Price = int64(inches*12) * int64(95+chance.IntN(11)) / 100
		if k >= 5 {
			s.Limit = 1 + chance.IntN(3)
			s.Price = int64(inches*12) * int64(60+chance.IntN(40)) / 100
		}
		if k < 3 {
			s.Length, s.Price, s.Limit = measure.Length(8+4*k)*measure.Foot, []int64{1120, 1697, 2311}[k], 0
		}
		p.Sticks = append(p.Sticks, s)
	}
	for n := 0; n < pieces; {
		q := min(1+chance.IntN(3), pieces-n)
		n += q
		p.Pieces = append(p.Pieces, stock.Piece{
			Label:    fmt.Sprint("piece ", n),
			Length:   measure.Length(10+chance.IntN(150))*measure.Inch + measure.Length(chance.IntN(16))*measure.Inch/16,
			Quantity: q,
		})
	}
	return p
}

// BenchmarkStickKinds solves jobs of 158 pieces from a hundred kinds of stick within a number of
// steps and reports how many were proven, and the mean and the worst gap.
func BenchmarkStickKinds(b *testing.B) {
	for b.Loop() {
		proven, worst, sum := 0, 0.0, 0.0
		const jobs = 8
		for seed := range uint64(jobs) {
			plan, err := optimize.Solve(context.Background(), sticksJob(100, 158, seed+1), &optimize.Options{Work: *kindsWork})
			if err != nil {
				b.Fatal(err)
			}
			gap := 100 * float64(plan.Cost-plan.Bound) / float64(plan.Cost)
			b.Logf("%2d cost %d bound %d %.4f%% %v work %d", seed+1, plan.Cost, plan.Bound, gap, plan.Stop, plan.Work)
			worst, sum = max(worst, gap), sum+gap
			if plan.Proven {
				proven++
			}
		}
		b.ReportMetric(float64(proven), "proven")
		b.ReportMetric(worst, "open%")
		b.ReportMetric(sum/jobs, "mean-open%")
	}
}
